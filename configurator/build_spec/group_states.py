"""How every option stands in the talk: possible or not, why not, and the smallest way out."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.sentences import conflict_sentence, listed, option_name
from configurator.build_spec.settle import Settled
from configurator.build_spec.standing import GroupState, OptionState, Reason, WayOut
from configurator.catalog.models.group import Group, Option
from configurator.units import pounds


def group_states(
    compiled: Compiled, settled: Settled, explain_parts: Collection[str]
) -> tuple[GroupState, ...]:
    """Lay out all groups with all their options.

    Parameters
    ----------
    compiled : Compiled
        The build's facts and engine.
    settled : Settled
        The choices as they stand.
    explain_parts : collection of str
        Parts of the talk to explain; explaining costs time, so only what is shown is.
    """
    return tuple(
        GroupState(
            group_id=group.id,
            label=group.label,
            question=group.question,
            part_id=group.part,
            shown_as=group.shown_as,
            closes_at=compiled.catalog.stages[compiled.catalog.stage_order[group.closes_at]].label,
            chosen_option_id=settled.choices.get(group.id),
            origin=settled.origin(group.id),
            options=tuple(
                _option_state(compiled, settled, group, option, group.part in explain_parts)
                for option in group.options
            ),
        )
        for group in compiled.offer.groups
    )


def _option_state(
    compiled: Compiled, settled: Settled, group: Group, option: Option, explain: bool
) -> OptionState:
    chosen = settled.choices.get(group.id)
    compared = compiled.offer.option_by_pair[group.id, chosen or group.house_choice]
    own = compiled.basis.option_pence(option)
    available = settled.available[group.id][option.id]
    explained = explain and not available
    return OptionState(
        option_id=option.id,
        label=option.label,
        summary=option.summary,
        look=option.look,
        is_chosen=chosen == option.id,
        follows=settled.follows.get(group.id) == option.id,
        is_available=available,
        price_gbp=pounds(own),
        price_difference_gbp=pounds(own - compiled.basis.option_pence(compared)),
        reason=reason_against(compiled, settled, group.id, option.id) if explained else None,
        way_out=way_to(compiled, settled, group.id, option.id) if explained else None,
    )


def reason_against(
    compiled: Compiled, settled: Settled, group_id: str, option_id: str
) -> Reason | None:
    """Say why an option is out; None when it is possible."""
    picks = {**settled.picks, group_id: option_id}
    if compiled.engine.is_possible(picks):
        return None
    conflict = compiled.engine.conflict(picks)
    return Reason(
        choices=tuple(pair for pair in conflict.picks if pair != (group_id, option_id)),
        rules=conflict.implications,
        limits=conflict.limits,
        sentence=conflict_sentence(compiled, conflict, group_id, option_id),
    )


def way_to(compiled: Compiled, settled: Settled, group_id: str, option_id: str) -> WayOut | None:
    """Find the fewest other picks to change so that an option fits, then the cheapest."""
    others = {g: o for g, o in settled.picks.items() if g != group_id}
    changes = compiled.engine.smallest_change(others, (group_id, option_id), compiled.book.price)
    if not changes:
        return None
    names = [option_name(compiled, group, option) for group, option in changes.items()]
    taken = {**others, **changes, group_id: option_id}
    return WayOut(
        changes=tuple(changes.items()),
        sentence=f"Fits with {listed(names)} instead.",
        price_difference_gbp=pounds(_price_change_pence(compiled, settled, taken)),
    )


def _price_change_pence(compiled: Compiled, settled: Settled, taken: Mapping[str, str]) -> int:
    """Tell what taking other options adds to the price as it stands.

    With the workshop choosing the rest, the whole build is filled again and compared. With groups
    open, the options taken are compared with what stands in their groups, or the house choice
    while nothing does, as on their own tiles.
    """
    offer, basis = compiled.offer, compiled.basis
    if settled.house:
        filled = compiled.engine.completion(taken, offer.house_choices(), compiled.book.price)
        before = compiled.book.price.of(settled.choices)
        return 0 if filled is None else compiled.book.price.of(filled) - before
    standing = {**offer.house_choices(), **settled.choices}
    return sum(
        basis.option_pence(offer.option_by_pair[group, option])
        - basis.option_pence(offer.option_by_pair[group, standing[group]])
        for group, option in taken.items()
        if option != standing[group]
    )
