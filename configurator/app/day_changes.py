"""Keeping the customer's day with the draft, or forgetting it."""

from __future__ import annotations

from collections.abc import Mapping

from configurator.app.changes import save
from configurator.app.premises import now, premises
from configurator.workflow.builds import Draft
from configurator.workflow.customers_days import set_day


def keep_day(draft: Draft, written: Mapping[str, object] | None) -> bool:
    """Keep a day as the page wrote it in the place of that before; None forgets it."""
    reference = draft.build.reference
    done = save(
        reference,
        draft.revision,
        lambda seen: set_day(premises(), reference, revision=seen, day=written, now=now()),
    )
    return done is not None
