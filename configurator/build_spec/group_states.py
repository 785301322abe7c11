"""How every option stands in the talk: possible or not, why not, and the smallest way out."""

from __future__ import annotations

from collections.abc import Collection

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.sentences import conflict_sentence, option_name
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
    engine, price = compiled.engine, compiled.book.price
    others = {g: o for g, o in settled.picks.items() if g != group_id}
    changes = engine.smallest_change(others, (group_id, option_id), price)
    if not changes:
        return None
    after = engine.minimise(price, {**others, **changes, group_id: option_id})
    before = engine.minimise(price, settled.picks) or engine.minimise(price, others)
    if after is None or before is None:
        return None
    names = [option_name(compiled, group, option) for group, option in changes.items()]
    return WayOut(
        changes=tuple(changes.items()),
        sentence=f"Fits with {' and '.join(names)} instead.",
        price_difference_gbp=pounds(after[0] - before[0]),
    )
