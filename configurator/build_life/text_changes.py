"""What differs between the texts for the owner, sentence by sentence."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from difflib import SequenceMatcher
from itertools import zip_longest

from configurator.catalog.models.data import Data
from configurator.catalog.models.text import Text

_SENTENCE_END = re.compile(r"(?<=[.!?])\s+")
_MARK_OF_A_LINE = re.compile(r"^\s*(?:#{1,6}|[-*+]|\d+[.)]|>)\s+")
_RULE_OF_A_TABLE = re.compile(r"^\|[\s:|-]+\|$")
_EMPHASIS = re.compile(r"\*\*|[*`]")

Pair = tuple[str | None, str | None]


class TextChanged(Data):
    """A text for the owner that is new, gone or says something else."""

    id: str
    title: str
    is_safety: bool
    how: str
    """`new`, `gone` or `changed`."""
    sentences: tuple[Pair, ...]
    """Each sentence until now and from now on; None where there is none. Of a new or a gone text
    all of them, of a changed one those that differ."""


def text_changes(before: Iterable[Text], after: Iterable[Text]) -> tuple[TextChanged, ...]:
    """Tell which texts differ, those about safety first.

    Parameters
    ----------
    before, after : iterable of Text
        Until now and from now on.
    """
    was, now = ({text.id: text for text in texts} for texts in (before, after))
    keys = [*now, *(key for key in was if key not in now)]
    changed = [_changed(was.get(key), now.get(key)) for key in keys if was.get(key) != now.get(key)]
    return tuple(sorted(changed, key=lambda text: not text.is_safety))


def _changed(was: Text | None, now: Text | None) -> TextChanged:
    known = [text for text in (now, was) if text is not None]
    return TextChanged(
        id=known[0].id,
        title=known[0].title,
        is_safety=any(text.safety is not None for text in known),
        how="new" if was is None else "gone" if now is None else "changed",
        sentences=tuple(_pairs(_sentences(was), _sentences(now))),
    )


def _pairs(was: Sequence[str], now: Sequence[str]) -> Iterator[Pair]:
    matcher = SequenceMatcher(None, was, now, autojunk=False)
    for what, start, end, other_start, other_end in matcher.get_opcodes():
        if what != "equal":
            yield from zip_longest(was[start:end], now[other_start:other_end])


def _sentences(text: Text | None) -> list[str]:
    if text is None:
        return []
    said, body = text.safety, [*_of_markdown(text.body)]
    if said is None:
        return body
    return [f"{said.signal.upper()}: {said.hazard}", said.consequence, *said.avoid, *body]


def _of_markdown(body: str) -> Iterator[str]:
    """Give the plain sentences of a text in Markdown; an item or a row of a table ends one."""
    paragraph: list[str] = []
    for line in [*body.splitlines(), ""]:
        begins = _MARK_OF_A_LINE.match(line) or line.startswith("|")
        if (begins or not line.strip()) and paragraph:
            yield from _SENTENCE_END.split(" ".join(paragraph))
            paragraph = []
        plain = _EMPHASIS.sub("", _MARK_OF_A_LINE.sub("", line)).strip()
        if plain and not _RULE_OF_A_TABLE.match(plain):
            paragraph.append(plain)
