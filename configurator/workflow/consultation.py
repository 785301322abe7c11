"""The talk with the customer: assess the draft, pick, clear, take a way out, undo."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from datetime import datetime
from functools import partial

from configurator.build_spec.explanations import explain_option
from configurator.build_spec.pipeline import outline, price_alone, stand
from configurator.build_spec.spec import Spec
from configurator.build_spec.standing import GroupState, OptionState, PriceFromTo, WayOut
from configurator.errors import ChoiceError
from configurator.record.changes import Step, list_changes
from configurator.workflow.builds import Draft
from configurator.workflow.draft_saving import save_steps, take_step
from configurator.workflow.draft_steps import (
    change_to_undo,
    choice_steps,
    reversed_steps,
    unmarking_steps,
)
from configurator.workflow.kept_as_ordered import kept_as_ordered, save_as_ordered
from configurator.workflow.offered import check_offered, check_vehicle
from configurator.workflow.premises import Premises
from configurator.workflow.refusals import (
    impossible,
    no_way_out,
    nothing_to_undo,
    other_ways_out,
)


def how_options_stand(
    premises: Premises, draft: Draft, explain_parts: Collection[str] = ()
) -> tuple[GroupState, ...]:
    """Tell what is possible; quick, so that it can be on screen before the figures.

    Parameters
    ----------
    premises : Premises
        Catalog and engines.
    draft : Draft
        A choice that the catalog has lost counts as open.
    explain_parts : collection of str
        Parts of the talk whose unavailable options get their reason and way out.

    Returns
    -------
    tuple of GroupState
        The same object again while nothing changed.

    Raises
    ------
    ChoiceError
        If the vehicle is not in the catalog any more.
    """
    build = draft.build
    check_vehicle(premises.catalog, build.vehicle)
    parts = frozenset(explain_parts)
    return premises.standings.get_or_make(
        (build.model_dump_json(), parts),
        lambda: stand(premises.catalog, build, premises.engines, parts),
    )


def price_of_draft(premises: Premises, draft: Draft) -> PriceFromTo:
    """Compute the price alone, to be on screen before the other figures.

    Raises
    ------
    ChoiceError
        If the vehicle is not in the catalog any more.
    """
    check_vehicle(premises.catalog, draft.build.vehicle)
    return price_alone(premises.catalog, draft.build, premises.engines)


def outline_of_draft(premises: Premises, draft: Draft) -> Spec:
    """Compute the figures that the talk shows; a finding says which choices the catalog has lost.

    The same object comes again while nothing changed.

    Raises
    ------
    ChoiceError
        If the vehicle is not in the catalog any more.
    """
    build = draft.build
    check_vehicle(premises.catalog, build.vehicle)
    return premises.outlines.get_or_make(
        build.model_dump_json(), lambda: outline(premises.catalog, build, premises.engines)
    )


def pick_option(
    premises: Premises,
    reference: str,
    *,
    revision: int,
    group_id: str,
    option_id: str,
    now: datetime,
) -> Draft:
    """Take an option for the customer; it is on disk when this returns.

    Parameters
    ----------
    premises : Premises
        Where the record is.
    reference : str
        Of the build.
    revision : int
        Of the draft that the person saw.
    group_id, option_id : str
        What was picked; picking what is chosen already changes nothing.
    now : datetime
        Aware, UTC.

    Returns
    -------
    Draft
        As it is on disk now.

    Raises
    ------
    ChoiceError
        If the option is not offered, or does not go with the other choices; says why.
    StaleDraftError
        If somebody else changed the draft meanwhile.
    RecordError
        If it cannot be saved.
    """

    def save(draft: Draft) -> Draft:
        _refuse_impossible(premises, draft, group_id, option_id)
        return save_as_ordered(premises, draft, "picked", {group_id: option_id}, now=now)

    is_done = partial(_is_chosen, premises, group_id, option_id)
    return take_step(premises, reference, revision, is_done=is_done, save=save)


def clear_choice(
    premises: Premises, reference: str, *, revision: int, group_id: str, now: datetime
) -> Draft:
    """Leave a group open again, also one that the catalog has lost; a must-keep mark goes with it.

    Raises
    ------
    ChoiceError
        If the vehicle is not in the catalog any more.
    StaleDraftError
        If somebody else changed the draft meanwhile.
    RecordError
        If it cannot be saved.
    """

    def save(draft: Draft) -> Draft:
        left = kept_as_ordered(premises, draft.build, {group_id: None})
        steps = (*choice_steps(draft.build, left), *unmarking_steps(draft.build, group_id))
        return save_steps(premises, draft, "cleared", steps, now=now)

    return take_step(
        premises,
        reference,
        revision,
        is_done=lambda draft: group_id not in draft.build.choices,
        save=save,
    )


def take_way_out(
    premises: Premises,
    reference: str,
    *,
    revision: int,
    group_id: str,
    option_id: str,
    changes: Iterable[tuple[str, str]] | None = None,
    now: datetime,
) -> Draft:
    """Take an option together with a change that lets it in, as one change.

    Parameters
    ----------
    premises, reference, revision, group_id, option_id, now
        As for `pick_option`.
    changes : iterable of (str, str), optional
        The `changes` of the way out that the person saw; without them, the smallest is taken.

    Raises
    ------
    ChoiceError
        If the option is not offered, nothing lets it in, or the way out is not one of those there
        are.
    StaleDraftError
        If somebody else changed the draft meanwhile.
    RecordError
        If it cannot be saved.
    """
    wanted = None if changes is None else dict(changes)

    def save(draft: Draft) -> Draft:
        option = explain_option(
            premises.catalog, draft.build, premises.engines, group_id, option_id
        )
        if option.is_available:
            return save_as_ordered(premises, draft, "picked", {group_id: option_id}, now=now)
        way = _way_out(premises, group_id, option, wanted)
        changes = {**dict(way.changes), group_id: option_id}
        return save_as_ordered(premises, draft, "way-out", changes, now=now)

    is_done = partial(_is_chosen, premises, group_id, option_id)
    return take_step(premises, reference, revision, is_done=is_done, save=save)


def set_house_choices(
    premises: Premises, reference: str, *, revision: int, wanted: bool, now: datetime
) -> Draft:
    """Fill every open group with the house choices, or leave them open again.

    Raises
    ------
    ChoiceError
        If the vehicle is not in the catalog any more.
    StaleDraftError
        If somebody else changed the draft meanwhile.
    RecordError
        If it cannot be saved.
    """
    step = Step("house_choices_for_the_rest", None, not wanted, wanted)

    def save(draft: Draft) -> Draft:
        kept = kept_as_ordered(premises, draft.build, {}, is_rest_left=True) if wanted else {}
        steps = (step, *choice_steps(draft.build, kept))
        return save_steps(premises, draft, "house-choices", steps, now=now)

    return take_step(
        premises,
        reference,
        revision,
        is_done=lambda draft: draft.build.house_choices_for_the_rest == wanted,
        save=save,
    )


def undo_last_change(premises: Premises, reference: str, *, revision: int, now: datetime) -> Draft:
    """Take back the last change that still stands; again and again, back to the start.

    The undoing is itself recorded. A change made after it is the next to be taken back.

    Raises
    ------
    ChoiceError
        If there is nothing left to take back.
    StaleDraftError
        If somebody else changed the draft meanwhile.
    RecordError
        If it cannot be saved.
    """

    def save(draft: Draft) -> Draft:
        last = change_to_undo(list_changes(premises.record, reference))
        if last is None:
            raise ChoiceError([nothing_to_undo(reference)])
        steps = reversed_steps(last.steps)
        return save_steps(premises, draft, "undone", steps, now=now, undoes=last.revision)

    return take_step(premises, reference, revision, is_done=lambda _: False, save=save)


def can_undo(premises: Premises, reference: str) -> bool:
    """Tell whether a change is left to take back."""
    return change_to_undo(list_changes(premises.record, reference)) is not None


def _is_chosen(premises: Premises, group_id: str, option_id: str, draft: Draft) -> bool:
    check_offered(premises.catalog, draft.build.vehicle, group_id, option_id)
    return draft.build.choices.get(group_id) == option_id


def _refuse_impossible(premises: Premises, draft: Draft, group_id: str, option_id: str) -> None:
    states = {group.group_id: group for group in how_options_stand(premises, draft)}
    options = {option.option_id: option for option in states[group_id].options}
    if not options[option_id].is_available:
        told = explain_option(premises.catalog, draft.build, premises.engines, group_id, option_id)
        raise ChoiceError([impossible(premises.catalog.group_by_id[group_id], told)])


def _way_out(
    premises: Premises, group_id: str, option: OptionState, wanted: Mapping[str, str] | None
) -> WayOut:
    group = premises.catalog.group_by_id[group_id]
    if not option.ways_out:
        raise ChoiceError([no_way_out(group, option)])
    for way in option.ways_out:
        if wanted is None or wanted == dict(way.changes):
            return way
    raise ChoiceError([other_ways_out(group, option)])
