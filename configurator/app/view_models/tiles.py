"""A question of the talk with its options, as the tiles show them."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from decimal import Decimal

from configurator.app.view_models.words import price_difference
from configurator.build_spec.standing import GroupState, OptionState

ORIGIN_WORDS = {
    "customer": "Chosen",
    "house": "Workshop’s choice",
    "follows": "Follows from the rest",
}


@dataclass(frozen=True)
class Tile:
    """An option as a tile shows it; `reason` is empty unless it is refused."""

    id: str
    label: str
    summary: str
    price: str
    badge: str
    is_chosen: bool
    is_available: bool
    reason: str
    way_out: str
    colour: str
    second_colour: str


@dataclass(frozen=True)
class GroupTiles:
    """A question with its tiles; `revision` is the draft they were drawn from."""

    group_id: str
    label: str
    question: str
    note: str
    shown_as: str
    revision: int
    can_be_cleared: bool
    tiles: tuple[Tile, ...]

    def as_data(self) -> dict[str, object]:
        """Turn into plain values for the browser."""
        return asdict(self)


def group_tiles(group: GroupState, revision: int) -> GroupTiles:
    """Prepare a group for its tiles.

    Parameters
    ----------
    group : GroupState
        How every option stands.
    revision : int
        Of the draft that was assessed.

    Returns
    -------
    GroupTiles
        In the order of the catalog.
    """
    return GroupTiles(
        group_id=group.group_id,
        label=group.label,
        question=group.question,
        note=_note(group),
        shown_as=group.shown_as,
        revision=revision,
        can_be_cleared=group.origin == "customer",
        tiles=tuple(_tile(option, group) for option in group.options),
    )


def _note(group: GroupState) -> str:
    when = f"“{group.closes_at}”"
    if group.origin is None:
        return f"Still open. To be decided before {when} begins."
    return f"Can be changed until {when} begins."


def _tile(option: OptionState, group: GroupState) -> Tile:
    refused = not option.is_available
    look = option.look
    return Tile(
        id=option.option_id,
        label=option.label,
        summary=option.summary,
        price=_price(option),
        badge=ORIGIN_WORDS[group.origin] if option.is_chosen and group.origin else "",
        is_chosen=option.is_chosen,
        is_available=option.is_available,
        reason=_reason(option) if refused else "",
        way_out=_way_out(option) if refused else "",
        colour=look.swatch or look.body_colour or look.second_colour or "",
        second_colour=look.second_colour or "" if look.body_colour and not look.swatch else "",
    )


def _price(option: OptionState) -> str:
    return "" if option.is_chosen else price_difference(option.price_difference_gbp)


def _reason(option: OptionState) -> str:
    if option.reason is None:
        return "Does not go with what is chosen so far."
    return option.reason.sentence


def _way_out(option: OptionState) -> str:
    if option.way_out is None:
        return ""
    difference = option.way_out.price_difference_gbp
    cost = "" if difference == Decimal(0) else f" Price in all: {price_difference(difference)}."
    return f"{option.way_out.sentence}{cost}"
