"""People's text made printable: escaped, with a font for each character, nothing ever fatal.

A character that no vendored font has, or that only reads rightly from right to left, is printed as
a box; the document lists the code points, and the embedded spec keeps the text as it was typed.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from functools import cache
from itertools import groupby
from typing import NamedTuple
from xml.sax.saxutils import escape

from configurator.documents.typeface import (
    BOLD,
    FALLBACK,
    FALLBACK_BOLD,
    fallback_characters,
    main_characters,
    text_width,
)

BOX = "□"

_DROPPED_CATEGORIES = frozenset({"Cf", "Cs"})
"""Invisible format marks, which can reverse or hide text, and halves of characters."""

_RIGHT_TO_LEFT = frozenset({"R", "AL", "AN"})

_BEFORE_UNIT = re.compile(
    r"(?<=\d) (?=(?:%|°C|Wh/km|km/h|km|kWh|Wh|kW|W|kg|V|A|h|min|s|bar|mm|m)(?!\w))"
)


class Run(NamedTuple):
    """A piece of a line in one font."""

    font: str
    text: str


def printable(text: str) -> str:
    r"""Replace what cannot be printed by a box and every control character by a space.

    Examples
    --------
    >>> printable("Zoë & 漢\tÖ")
    'Zoë & □ Ö'
    """
    return "".join(_printed(character) for character in unicodedata.normalize("NFC", text))


def unprintable_characters(text: str) -> tuple[str, ...]:
    """List the characters of a text that are printed as a box, in code-point order.

    Examples
    --------
    >>> unprintable_characters("Zoë 漢字漢")
    ('字', '漢')
    """
    normal = unicodedata.normalize("NFC", text)
    return tuple(sorted({c for c in normal if c != BOX and _printed(c) == BOX}))


def markup(text: str) -> str:
    """Escape a text for a paragraph and name the fallback font where it is needed.

    Examples
    --------
    >>> markup("1 < 2 & Ω")
    '1 &lt; 2 &amp; <font name="DejaVuSans">Ω</font>'
    """
    return "".join(
        escape(run.text) if not run.font else f'<font name="{FALLBACK}">{escape(run.text)}</font>'
        for run in _runs(printable(text), main="", fallback=FALLBACK)
    )


def prose(text: str) -> str:
    r"""Escape running text for a paragraph, each number kept on one line with its unit.

    Examples
    --------
    >>> prose("at 32 A & 5 km/h") == "at 32\N{NO-BREAK SPACE}A &amp; 5\N{NO-BREAK SPACE}km/h"
    True
    """
    return markup(_BEFORE_UNIT.sub("\N{NO-BREAK SPACE}", text))


def markup_of_lines(text: str) -> str:
    r"""Escape a text of several lines and keep its line ends.

    Examples
    --------
    >>> markup_of_lines("one\ntwo")
    'one<br/>two'
    """
    return "<br/>".join(markup(line) for line in text.splitlines())


def prose_of_lines(text: str) -> str:
    r"""Escape running text of several lines, each number kept on one line with its unit.

    Examples
    --------
    >>> prose_of_lines("one\ntwo")
    'one<br/>two'
    """
    return "<br/>".join(prose(line) for line in text.splitlines())


def runs(text: str, font: str) -> tuple[Run, ...]:
    """Split one line into runs, each in a font that has its characters.

    Examples
    --------
    >>> runs("5 Ω", "SourceSans")
    (Run(font='SourceSans', text='5 '), Run(font='DejaVuSans', text='Ω'))
    """
    fallback = FALLBACK_BOLD if font == BOLD else FALLBACK
    return tuple(_runs(printable(text), main=font, fallback=fallback))


def line_width(text: str, font: str, size: float) -> float:
    """Width of one line with its fallback characters [pt].

    Examples
    --------
    >>> line_width("", "SourceSans", 9.0)
    0.0
    """
    return sum((text_width(run.text, run.font, size) for run in runs(text, font)), 0.0)


def shortened(text: str, font: str, size: float, width: float) -> str:
    """Cut a line to a width [pt], with an ellipsis where something is left out.

    Examples
    --------
    >>> shortened("a very long name", "SourceSans", 9.0, 34.0)
    'a very…'
    """
    if line_width(text, font, size) <= width:
        return text
    for length in range(len(text) - 1, 0, -1):
        candidate = text[:length].rstrip() + "…"
        if line_width(candidate, font, size) <= width:
            return candidate
    return "…"


@cache
def _printed(character: str) -> str:
    code = ord(character)
    category = unicodedata.category(character)
    if character.isspace() or category == "Cc":
        return "\u00a0" if character == "\u00a0" else " "
    if category in _DROPPED_CATEGORIES:
        return ""
    if unicodedata.bidirectional(character) in _RIGHT_TO_LEFT:
        return BOX
    known = code in main_characters() or code in fallback_characters()
    return character if known else BOX


def _runs(text: str, *, main: str, fallback: str) -> Iterator[Run]:
    for is_main, letters in groupby(text, key=lambda c: ord(c) in main_characters()):
        yield Run(main if is_main else fallback, "".join(letters))
