"""The talk with the customer: assess the draft, pick, clear, take a way out, undo."""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime

from configurator.build_spec.pipeline import outline, price_alone, stand
from configurator.build_spec.spec import Spec
from configurator.build_spec.standing import GroupState, OptionState, PriceFromTo
from configurator.catalog.models.group import Group
from configurator.errors import ChoiceError
from configurator.record.changes import Step, list_changes
from configurator.workflow.builds import Draft, read_draft
from configurator.workflow.draft_saving import refuse_stale, save_choices, save_steps
from configurator.workflow.draft_steps import change_to_undo, reversed_steps
from configurator.workflow.offered import check_offered, check_vehicle
from configurator.workflow.premises import Premises
from configurator.workflow.refusals import impossible, no_way_out, nothing_to_undo


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

    Returns
    -------
    Spec
        The same object again while nothing changed.

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
    draft = read_draft(premises, reference)
    group = check_offered(premises.catalog, draft.build.vehicle, group_id, option_id)
    if draft.build.choices.get(group_id) == option_id:
        return draft
    refuse_stale(premises, draft, revision)
    _refuse_impossible(premises, draft, group, option_id)
    return save_choices(premises, draft, "picked", {group_id: option_id}, now=now)


def clear_choice(
    premises: Premises, reference: str, *, revision: int, group_id: str, now: datetime
) -> Draft:
    """Leave a group open again, also one that the catalog has lost.

    Raises
    ------
    StaleDraftError
        If somebody else changed the draft meanwhile.
    RecordError
        If it cannot be saved.
    """
    draft = read_draft(premises, reference)
    if group_id not in draft.build.choices:
        return draft
    refuse_stale(premises, draft, revision)
    return save_choices(premises, draft, "cleared", {group_id: None}, now=now)


def take_way_out(
    premises: Premises,
    reference: str,
    *,
    revision: int,
    group_id: str,
    option_id: str,
    now: datetime,
) -> Draft:
    """Take an option together with the smallest change that lets it in, as one change.

    Raises
    ------
    ChoiceError
        If the option is not offered, or nothing lets it in.
    StaleDraftError
        If somebody else changed the draft meanwhile.
    RecordError
        If it cannot be saved.
    """
    draft = read_draft(premises, reference)
    group = check_offered(premises.catalog, draft.build.vehicle, group_id, option_id)
    if draft.build.choices.get(group_id) == option_id:
        return draft
    refuse_stale(premises, draft, revision)
    option = _option_state(premises, draft, group, option_id, explained=True)
    if option.is_available:
        return save_choices(premises, draft, "picked", {group_id: option_id}, now=now)
    if option.way_out is None:
        raise ChoiceError([no_way_out(group, option)])
    wanted = {**dict(option.way_out.changes), group_id: option_id}
    return save_choices(premises, draft, "way-out", wanted, now=now)


def set_house_choices(
    premises: Premises, reference: str, *, revision: int, wanted: bool, now: datetime
) -> Draft:
    """Fill every open group with the house choices, or leave them open again.

    Raises
    ------
    StaleDraftError
        If somebody else changed the draft meanwhile.
    RecordError
        If it cannot be saved.
    """
    draft = read_draft(premises, reference)
    if draft.build.house_choices_for_the_rest == wanted:
        return draft
    refuse_stale(premises, draft, revision)
    step = Step("house_choices_for_the_rest", None, not wanted, wanted)
    return save_steps(premises, draft, "house-choices", (step,), now=now)


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
    draft = read_draft(premises, reference)
    refuse_stale(premises, draft, revision)
    last = change_to_undo(list_changes(premises.record, reference))
    if last is None:
        raise ChoiceError([nothing_to_undo(reference)])
    steps = reversed_steps(last.steps)
    return save_steps(premises, draft, "undone", steps, now=now, undoes=last.revision)


def can_undo(premises: Premises, reference: str) -> bool:
    """Tell whether a change is left to take back."""
    return change_to_undo(list_changes(premises.record, reference)) is not None


def _refuse_impossible(premises: Premises, draft: Draft, group: Group, option_id: str) -> None:
    if _option_state(premises, draft, group, option_id, explained=False).is_available:
        return
    option = _option_state(premises, draft, group, option_id, explained=True)
    raise ChoiceError([impossible(group, option)])


def _option_state(
    premises: Premises, draft: Draft, group: Group, option_id: str, *, explained: bool
) -> OptionState:
    groups = how_options_stand(premises, draft, (group.part,) if explained else ())
    state = next(state for state in groups if state.group_id == group.id)
    return next(option for option in state.options if option.option_id == option_id)
