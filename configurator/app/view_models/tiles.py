"""A question of the talk with its options, as the tiles show them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from typing import Literal

from configurator.app.view_models.ways_out import Names, WayOutWords, way_out_words
from configurator.app.view_models.words import price_difference
from configurator.build_spec.standing import GroupState, OptionState

ORIGIN_WORDS = {
    "customer": "Chosen",
    "house": "Workshop’s choice",
    "follows": "Follows from the rest",
}
NO_REASON = "Does not go with what is chosen so far."
NO_WAY_OUT = "No change of other choices lets it in."

Standing = Literal["possible", "refused", "checking"]


@dataclass(frozen=True)
class Tile:
    """An option as a tile shows it."""

    id: str
    label: str
    summary: str
    price: str
    is_level: bool
    """It costs what it is compared with."""
    badge: str
    is_chosen: bool
    standing: Standing
    follows: bool
    is_explained: bool
    """Whether `why` has come; before that the tile says that it is being worked out."""
    why: str
    """Why it is refused, or why it alone is left; empty for any other tile."""
    ways_out: tuple[WayOutWords, ...]
    no_way_out: str
    colour: str
    second_colour: str


@dataclass(frozen=True)
class Talk:
    """What the tiles of all questions of one draft have in common."""

    reference: str
    revision: int
    """Of the draft that was assessed."""
    names: Names
    compared_with: str
    """What the differences of ways out are against."""
    opens_reasons: bool
    """So few tiles are refused that each may say why without being asked."""
    stages_reached: frozenset[str] = frozenset()
    """Labels of the stages that the vehicle has reached."""


@dataclass(frozen=True)
class GroupTiles:
    """A question with its tiles; `revision` is the draft they were drawn from."""

    group_id: str
    reference: str
    revision: int
    label: str
    question: str
    note: str
    shown_as: str
    compared_with: str
    opens_reasons: bool
    can_be_cleared: bool
    can_be_kept: bool
    must_keep: bool
    withdrawn: str
    """What was chosen and is not in the catalog any more."""
    taken: str
    """What the way out just taken has changed."""
    tiles: tuple[Tile, ...]

    def as_data(self) -> dict[str, object]:
        """Turn into plain values for the browser."""
        return asdict(self)


def group_tiles(
    group: GroupState, talk: Talk, *, house_choice: str, explained: bool, taken: str = ""
) -> GroupTiles:
    """Prepare a group for its tiles.

    Parameters
    ----------
    group : GroupState
        How every option stands.
    talk : Talk
        The draft that was assessed.
    house_choice : str
        The option that the workshop fits when nobody has a wish.
    explained : bool
        Whether reasons and ways out were worked out already.
    taken : str
        What the way out just taken in this group has changed.

    Returns
    -------
    GroupTiles
        In the order of the catalog.
    """
    compared = group.chosen_option_id or house_choice
    return GroupTiles(
        group_id=group.group_id,
        reference=talk.reference,
        revision=talk.revision,
        label=group.label,
        question=group.question,
        note=_note(group, talk.stages_reached),
        shown_as=group.shown_as,
        compared_with=talk.compared_with,
        opens_reasons=talk.opens_reasons,
        can_be_cleared=group.origin == "customer",
        can_be_kept=group.origin == "customer",
        must_keep=group.must_keep,
        withdrawn=group.withdrawn_option_id or "",
        taken=taken,
        tiles=tuple(_tile(option, group, talk, compared, explained) for option in group.options),
    )


def refused_tiles(groups: Sequence[GroupState], part_id: str) -> int:
    """Count the options of a part of the talk that are out."""
    return sum(
        option.is_available is False
        for group in groups
        if group.part_id == part_id
        for option in group.options
    )


def _note(group: GroupState, stages_reached: frozenset[str]) -> str:
    when = f"“{group.closes_at}”"
    if group.closes_at in stages_reached:
        if group.origin is None:
            return f"Still open, and {when} has begun: it is to be decided now."
        return f"{when} has begun: from here on it changes by a change order only."
    if group.origin is None:
        return f"Still open. To be decided before {when} begins."
    return f"Can be changed until {when} begins."


def _tile(
    option: OptionState, group: GroupState, talk: Talk, compared: str, explained: bool
) -> Tile:
    standing, look = _standing(option), option.look
    is_to_explain = standing == "refused" or option.follows
    refused = standing == "refused" and explained
    return Tile(
        id=option.option_id,
        label=option.label,
        summary=option.summary,
        price=_price(option, group, talk.names, compared),
        is_level=not option.price_difference_gbp,
        badge=ORIGIN_WORDS[group.origin] if option.is_chosen and group.origin else "",
        is_chosen=option.is_chosen,
        standing=standing,
        follows=option.follows,
        is_explained=explained or not is_to_explain,
        why=_why(option) if is_to_explain and explained else "",
        ways_out=tuple(way_out_words(way, talk.names) for way in option.ways_out if explained),
        no_way_out=(option.no_way_out or NO_WAY_OUT) if refused and not option.ways_out else "",
        colour=look.swatch or look.body_colour or look.second_colour or "",
        second_colour=look.second_colour or "" if look.body_colour and not look.swatch else "",
    )


def _standing(option: OptionState) -> Standing:
    if option.is_available is None:
        return "checking"
    return "possible" if option.is_available else "refused"


def _price(option: OptionState, group: GroupState, names: Names, compared: str) -> str:
    if option.is_chosen:
        return ""
    if option.option_id == compared:
        return "workshop’s usual choice"
    difference = price_difference(option.price_difference_gbp)
    if option.price_difference_gbp:
        return difference
    return f"{difference} to {names.option(group.group_id, compared)}"


def _why(option: OptionState) -> str:
    return option.reason.sentence if option.reason else NO_REASON
