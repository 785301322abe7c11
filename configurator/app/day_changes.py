"""Keeping the customer's day with the draft, or forgetting it."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial

from configurator.app.changes import keep
from configurator.workflow.builds import Draft
from configurator.workflow.customers_days import set_day


def keep_day(draft: Draft, written: Mapping[str, object] | None) -> bool:
    """Keep a day as the page wrote it in the place of that before; None forgets it."""
    return keep(draft, partial(set_day, day=written))
