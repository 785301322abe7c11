"""The list of builds, as the screen shows it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from configurator.app.view_models.words import count, moment
from configurator.workflow.builds import BuildRow


@dataclass(frozen=True)
class BuildCard:
    """A build in the list."""

    reference: str
    customer: str
    vehicle: str
    state: str
    is_settled: bool
    changed: str


def build_cards(rows: Iterable[BuildRow]) -> tuple[BuildCard, ...]:
    """Say how far each build has come."""
    return tuple(
        BuildCard(
            reference=row.reference,
            customer=row.customer_name,
            vehicle=row.vehicle_label,
            state=state_words(row.state, row.open_groups),
            is_settled=row.open_groups == 0,
            changed=f"Last change {moment(row.updated_at)} UTC",
        )
        for row in rows
    )


def state_words(state: str, open_groups: int) -> str:
    """Say how far a build is and how many choices are open.

    Examples
    --------
    >>> state_words("All chosen", 0), state_words("In talk", 2)
    ('All chosen', 'In talk, 2 choices open')
    """
    if open_groups == 0:
        return state
    return f"{state}, {count(open_groups, 'choice', 'choices')} open"
