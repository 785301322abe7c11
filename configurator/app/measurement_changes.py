"""Keeping what was measured on the road with the draft, or forgetting it."""

from __future__ import annotations

from collections.abc import Mapping

from configurator.app.changes import save
from configurator.app.premises import now, premises
from configurator.app.view_models.faults import spoken_by_entry
from configurator.workflow.builds import Draft
from configurator.workflow.measurements import set_measurements


def keep_measurements(draft: Draft, written: Mapping[str, object] | None) -> bool:
    """Keep measurements in the place of those before; None forgets them."""
    reference = draft.build.reference
    done = save(
        reference,
        draft.revision,
        lambda seen: set_measurements(
            premises(), reference, revision=seen, measurements=written, now=now()
        ),
        in_words=spoken_by_entry,
    )
    return done is not None
