"""Keeping verdicts of the survey and what is known of the donor with the draft."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial

from configurator.app import session
from configurator.app.changes import keep
from configurator.app.view_models.faults import spoken_by_entry
from configurator.catalog.models.workshop import SurveyPart
from configurator.workflow.builds import Draft
from configurator.workflow.survey import SurveyState, set_donors, set_verdict

STILL_TOLD = (
    "Second donor: the tick is taken out, and words about it still stand there. Empty its fields "
    "to take it away, or set the tick again."
)


def keep_verdict(draft: Draft, part: SurveyPart, line: Mapping[str, object] | None) -> None:
    """Keep the verdict on a part; None for not looked at."""
    step = partial(set_verdict, part_id=part.id, line=line)
    if keep(draft, step, in_words=spoken_by_entry):
        session.say("said", (f"“{part.label}” is written down.",))


def take_out_lost(draft: Draft, state: SurveyState) -> None:
    """Take out the verdicts on parts that the workshop's list has no more."""
    for line in state.lost:
        step = partial(set_verdict, part_id=line.part, line=None)
        keep(draft, step, in_words=spoken_by_entry)


def keep_donors(
    draft: Draft,
    donor: Mapping[str, object],
    second: Mapping[str, str],
    *,
    with_second: bool,
) -> None:
    """Keep what is known of the donor and of a second one; nothing typed is dropped silently."""
    was_there, is_told = draft.build.second_donor is not None, any(second.values())
    if was_there and is_told and not with_second:
        session.say("refused", (STILL_TOLD,))
        return
    wanted = second if with_second or is_told else None
    step = partial(set_donors, donor=donor, second_donor=wanted)
    if keep(draft, step, in_words=spoken_by_entry):
        gone = ", and the second one is taken away" if was_there and wanted is None else ""
        whom = "the donor" if wanted is None else "both donors"
        session.say("said", (f"What is known of {whom} is written down{gone}.",))
