"""How every option stands in the talk: possible or not, why not, and the smallest ways out."""

from __future__ import annotations

from collections.abc import Collection

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.reasons import reason_against, reason_for_following
from configurator.build_spec.settle import Settled
from configurator.build_spec.standing import GroupState, OptionState
from configurator.build_spec.ways_out import ways_out, why_no_way_out
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
            must_keep=group.id in settled.marked,
            withdrawn_option_id=settled.withdrawn.get(group.id),
            options=tuple(
                option_state(compiled, settled, group, option, explain=group.part in explain_parts)
                for option in group.options
            ),
        )
        for group in compiled.offer.groups
    )


def option_state(
    compiled: Compiled, settled: Settled, group: Group, option: Option, *, explain: bool
) -> OptionState:
    """Tell how one option stands.

    Parameters
    ----------
    compiled, settled
        As for `group_states`.
    group, option
        As the vehicle is offered them.
    explain : bool
        Whether to say why it is out, or alone left, and what would let it in.
    """
    chosen = settled.choices.get(group.id)
    compared = compiled.offer.option_by_pair[group.id, chosen or group.house_choice]
    own = compiled.basis.option_pence(option)
    plain = OptionState(
        option_id=option.id,
        label=option.label,
        summary=option.summary,
        look=option.look,
        is_chosen=chosen == option.id,
        follows=settled.follows.get(group.id) == option.id,
        is_available=settled.available[group.id][option.id],
        price_gbp=pounds(own),
        price_difference_gbp=pounds(own - compiled.basis.option_pence(compared)),
        reason=None,
    )
    return _explained(compiled, settled, group.id, plain) if explain else plain


def _explained(
    compiled: Compiled, settled: Settled, group_id: str, option: OptionState
) -> OptionState:
    if option.follows:
        return option.model_copy(
            update={"reason": reason_for_following(compiled, settled, group_id)}
        )
    if option.is_available:
        return option
    ways = ways_out(compiled, settled, group_id, option.option_id)
    why_none = "" if ways else why_no_way_out(compiled, settled, group_id, option.option_id)
    return option.model_copy(
        update={
            "reason": reason_against(compiled, settled, group_id, option.option_id),
            "ways_out": ways,
            "no_way_out": why_none,
        }
    )
