"""A build as the list of builds tells it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True)
class ListedBuild:
    """A build in the list."""

    reference: str
    customer_name: str
    vehicle_id: str
    vehicle_label: str
    state: str
    """In plain words: Enquiry, In talk, All chosen, Measured, or what is wrong with it."""
    open_groups: int
    updated_at: datetime
    revision: int = 0
