"""Mark the choices that the customer must keep, so that no way out alters them."""

from __future__ import annotations

from datetime import datetime

from configurator.build_spec.explanations import why_not_together
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.catalog import Catalog
from configurator.errors import ChoiceError
from configurator.record.changes import Step
from configurator.workflow.builds import Draft
from configurator.workflow.draft_saving import save_steps, take_step
from configurator.workflow.draft_steps import mark_steps
from configurator.workflow.offered import check_group
from configurator.workflow.premises import Premises
from configurator.workflow.refusals import kept_apart, nothing_to_keep


def keep_choice(
    premises: Premises,
    reference: str,
    *,
    revision: int,
    group_id: str,
    wanted: bool,
    now: datetime,
) -> Draft:
    """Mark the customer's choice in a group as must keep, so that no way out alters it, or unmark.

    The mark stays when a person picks another option of the group, and goes when the group is left
    open.

    Parameters
    ----------
    premises, reference, revision, now
        As for `consultation.pick_option`.
    group_id : str
        A group with a choice of the customer's.
    wanted : bool
        Whether the choice must be kept.

    Raises
    ------
    ChoiceError
        If the group has no choice to keep, or it cannot stand together with others that are marked.
    StaleDraftError
        If somebody else changed the draft meanwhile.
    RecordError
        If it cannot be saved.
    """

    def save(draft: Draft) -> Draft:
        if wanted:
            _check_can_be_kept(premises, draft.build, group_id)
        steps = _marking_steps(premises.catalog, draft.build, group_id, wanted=wanted)
        return save_steps(premises, draft, "must-keep", steps, now=now)

    return take_step(
        premises,
        reference,
        revision,
        is_done=lambda draft: (group_id in draft.build.must_keep) == wanted,
        save=save,
    )


def _check_can_be_kept(premises: Premises, build: BuildInput, group_id: str) -> None:
    group = check_group(premises.catalog, build.vehicle, group_id)
    chosen = build.choices.get(group_id)
    if chosen not in {option.id for option in group.options}:
        raise ChoiceError([nothing_to_keep(group, withdrawn=chosen is not None)])
    together = {*build.must_keep, group_id}
    sentence = why_not_together(premises.catalog, build, premises.engines, together)
    if sentence:
        raise ChoiceError([kept_apart(group, sentence)])


def _marking_steps(
    catalog: Catalog, build: BuildInput, group_id: str, *, wanted: bool
) -> tuple[Step, ...]:
    """Put the marks in the order of the talk, so that the same marks are the same draft."""
    marked = {*build.must_keep, group_id} if wanted else {*build.must_keep} - {group_id}
    order = [group.id for group in catalog.groups_for(build.vehicle)]
    lost = [group for group in build.must_keep if group not in order]
    return mark_steps(build, [group for group in (*order, *lost) if group in marked])
