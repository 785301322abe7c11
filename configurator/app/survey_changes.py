"""Keeping verdicts of the survey and what is known of the donor with the draft."""

from __future__ import annotations

from collections.abc import Mapping

from configurator.app import session
from configurator.app.changes import save
from configurator.app.premises import now, premises
from configurator.app.view_models.faults import spoken_by_entry
from configurator.catalog.models.workshop import SurveyPart
from configurator.workflow.builds import Draft
from configurator.workflow.survey import SurveyState, set_donors, set_verdict


def keep_verdict(draft: Draft, part: SurveyPart, line: Mapping[str, object] | None) -> None:
    """Keep the verdict on a part; None for not looked at."""
    if _keep(draft, part.id, line):
        session.say("said", (f"“{part.label}” is written down.",))


def take_out_lost(draft: Draft, state: SurveyState) -> None:
    """Take out the verdicts on parts that the workshop's list has no more."""
    for line in state.lost:
        _keep(draft, line.part, None)


def _keep(draft: Draft, part_id: str, line: Mapping[str, object] | None) -> bool:
    reference = draft.build.reference
    done = save(
        reference,
        draft.revision,
        lambda seen: set_verdict(
            premises(), reference, part_id, revision=seen, line=line, now=now()
        ),
        in_words=spoken_by_entry,
    )
    return done is not None


def keep_donors(
    draft: Draft, donor: Mapping[str, object], second: Mapping[str, object] | None
) -> None:
    """Keep what is known of the donor and of a second one."""
    reference = draft.build.reference
    done = save(
        reference,
        draft.revision,
        lambda seen: set_donors(
            premises(), reference, revision=seen, donor=donor, second_donor=second, now=now()
        ),
        in_words=spoken_by_entry,
    )
    if done is not None:
        session.say("said", ("What is known of the donor is written down.",))
