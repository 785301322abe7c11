"""Why an option is out, or alone left: a minimal set of choices, rules and limits, with numbers."""

from __future__ import annotations

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.limits_reached import limits_reached
from configurator.build_spec.sentences import conflict_sentence, following_sentence
from configurator.build_spec.settle import Settled
from configurator.build_spec.standing import Reason
from configurator.rules.engine import Engine
from configurator.rules.narrower import narrower_engine
from configurator.rules.problem import Conflict, Implication

ANOTHER_OPTION = "another option of the group"
"""No rule of a catalog can have this id: theirs have no blanks."""


def reason_against(compiled: Compiled, settled: Settled, group_id: str, option_id: str) -> Reason:
    """Say why an option does not go with the customer's choices.

    Parameters
    ----------
    compiled : Compiled
        The build's facts and engine.
    settled : Settled
        The choices as they stand; one in the option's own group gives way to it.
    group_id, option_id : str
        An option that is not possible.

    Returns
    -------
    Reason
        Without any one of its members the option would be possible.

    Raises
    ------
    ValueError
        If the option is possible, so that there is nothing to explain.
    """
    wanted = (group_id, option_id)
    conflict = compiled.engine.conflict({**settled.picks, group_id: option_id})
    reached = limits_reached(compiled, conflict)
    return Reason(
        choices=tuple(pair for pair in conflict.picks if pair != wanted),
        rules=conflict.implications,
        limits=conflict.limits,
        reached=reached,
        sentence=conflict_sentence(compiled, conflict, group_id, option_id, reached),
    )


def reason_for_following(compiled: Compiled, settled: Settled, group_id: str) -> Reason:
    """Say why a group has but one option left.

    Parameters
    ----------
    compiled, settled
        As for `reason_against`.
    group_id : str
        A group that follows.

    Returns
    -------
    Reason
        Without any one of its members the group could take another option.

    Raises
    ------
    ValueError
        If the group could take another option, so that there is nothing to explain.
    """
    option_id = settled.follows[group_id]
    others = frozenset(o.id for o in compiled.offer.group_by_id[group_id].options) - {option_id}
    if not others:
        nothing = Conflict((), (), ())
        return _following(compiled, nothing, group_id, None)
    instead = Implication(f"{ANOTHER_OPTION}: {group_id} {option_id}", {}, {group_id: others})
    conflict = _engine_with(compiled, instead).conflict(settled.picks)
    told = Conflict(
        conflict.picks,
        tuple(rule for rule in conflict.implications if rule != instead.id),
        conflict.limits,
    )
    return _following(compiled, told, group_id, instead)


def _engine_with(compiled: Compiled, instead: Implication) -> Engine:
    return compiled.reduced_engines.get_or_make(
        instead.id, lambda: narrower_engine(compiled.engine, [instead])
    )


def _following(
    compiled: Compiled, conflict: Conflict, group_id: str, instead: Implication | None
) -> Reason:
    reached = limits_reached(compiled, conflict, instead)
    return Reason(
        choices=conflict.picks,
        rules=conflict.implications,
        limits=conflict.limits,
        reached=reached,
        sentence=following_sentence(compiled, conflict, group_id, reached),
    )
