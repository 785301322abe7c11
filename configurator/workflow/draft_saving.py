"""Save what changed in a draft, unless somebody else was first."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime

from configurator.record.changes import Change, ChangeKind, Step, list_changes
from configurator.record.drafts import save_draft, stale
from configurator.workflow.builds import Draft, draft_of, read_draft
from configurator.workflow.draft_steps import choice_steps, telling, with_steps
from configurator.workflow.premises import Premises


def take_step(
    premises: Premises,
    reference: str,
    revision: int,
    *,
    is_done: Callable[[Draft], bool],
    save: Callable[[Draft], Draft],
) -> Draft:
    """Take a step on the draft as it is now.

    Parameters
    ----------
    premises, reference
        Where the draft is.
    revision : int
        Of the draft that the person saw.
    is_done : callable
        Whether the draft already is as wanted; then nothing happens, even from an older view.
    save : callable
        Takes the step, or refuses it.

    Raises
    ------
    StaleDraftError
        If the step was decided on an older revision of the draft.
    RecordError
        If there is no such build, or it cannot be saved.
    """
    draft = read_draft(premises, reference)
    if is_done(draft):
        return draft
    refuse_stale(premises, draft, revision)
    return save(draft)


def refuse_stale(premises: Premises, draft: Draft, revision: int) -> None:
    """Refuse a step that was decided on an older revision of the draft.

    Raises
    ------
    StaleDraftError
        Telling what was changed since.
    """
    if draft.revision == revision:
        return
    reference = draft.build.reference
    changes = list_changes(premises.record, reference)
    since = tuple(change for change in changes if change.revision > revision)
    raise stale(reference, since, telling(premises.catalog))


def save_choices(
    premises: Premises,
    draft: Draft,
    kind: ChangeKind,
    new: Mapping[str, str | None],
    *,
    now: datetime,
) -> Draft:
    """Save new options (None leaves the group open) as one change."""
    return save_steps(premises, draft, kind, choice_steps(draft.build, new), now=now)


def save_steps(
    premises: Premises,
    draft: Draft,
    kind: ChangeKind,
    steps: tuple[Step, ...],
    *,
    now: datetime,
    undoes: int | None = None,
) -> Draft:
    """Save the steps as one change; it is on disk when this returns.

    Raises
    ------
    StaleDraftError
        If somebody else changed the draft since it was read.
    RecordError
        If it cannot be saved.
    """
    change = Change(draft.revision + 1, kind, steps, undoes, now)
    build = with_steps(draft.build, steps)
    return draft_of(save_draft(premises.record, build, change, telling(premises.catalog)))
