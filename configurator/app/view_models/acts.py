"""What somebody did at the tiles, as it arrives from the browser: checked before it counts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, cast, get_args

from configurator.workflow.moved_along import Moved

Kind = Literal["pick", "clear", "way_out", "keep", "let_go", "undo"]
Pair = tuple[str, str]

MOST_CHANGES = 100


@dataclass(frozen=True)
class TileAct:
    """A pick, a way out taken, a choice opened again, kept or let go, or the last change undone."""

    kind: Kind
    group_id: str
    option_id: str
    revision: int
    """Of the draft the person was looking at."""
    click: str
    """Names this one click, so that it counts once however often it is reported."""
    changes: tuple[Pair, ...] = ()
    """Of the way out taken, as (group id, option id): the one that was read is the one taken."""


def moved_words(moved: Sequence[Moved]) -> str:
    """Say which choices moved along with a pick; empty where none did.

    Examples
    --------
    >>> moved_words([Moved("Brakes", "Drums", "Discs")])
    'With it the workshop’s choices changed: Brakes, from Drums to Discs.'
    """
    if not moved:
        return ""
    told = "; ".join(f"{one.group}, from {one.before} to {one.after}" for one in moved)
    return f"With it the workshop’s choices changed: {told}."


def act_from(raw: object) -> TileAct | None:
    """Read what the browser sent; None when it is nothing, or nothing we know.

    Examples
    --------
    >>> act_from({"kind": "pick", "group": "roof", "option": "canvas", "revision": 3, "click": "k"})
    TileAct(kind='pick', group_id='roof', option_id='canvas', revision=3, click='k', changes=())
    >>> act_from({"kind": "sell"}) is None
    True
    """
    if not isinstance(raw, Mapping):
        return None
    kind, revision = raw.get("kind"), raw.get("revision")
    words = [raw.get(name) for name in ("group", "option", "click")]
    changes = _changes(raw.get("changes"))
    if kind not in get_args(Kind) or isinstance(revision, bool) or changes is None:
        return None
    if not isinstance(revision, int | float) or not all(isinstance(word, str) for word in words):
        return None
    group_id, option_id, click = (str(word) for word in words)
    return TileAct(cast("Kind", kind), group_id, option_id, int(revision), click, changes)


def _changes(raw: object) -> tuple[Pair, ...] | None:
    if raw is None:
        return ()
    if not isinstance(raw, list | tuple) or len(raw) > MOST_CHANGES:
        return None
    pairs = [pair for pair in raw if isinstance(pair, list | tuple) and len(pair) == 2]
    if len(pairs) < len(raw) or not all(isinstance(word, str) for pair in pairs for word in pair):
        return None
    return tuple((group, option) for group, option in pairs)
