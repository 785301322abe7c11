"""Keeping what was measured on the road with the draft, or forgetting it."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial

from configurator.app.changes import keep
from configurator.app.view_models.faults import spoken_by_entry
from configurator.workflow.builds import Draft
from configurator.workflow.measurements import set_measurements


def keep_measurements(draft: Draft, written: Mapping[str, object] | None) -> bool:
    """Keep measurements in the place of those before; None forgets them."""
    return keep(draft, partial(set_measurements, measurements=written), in_words=spoken_by_entry)
