"""The list of builds, as the screen shows it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from configurator.app.view_models.words import count, moment
from configurator.workflow.waiting import BuildWaiting


@dataclass(frozen=True)
class WaitingLine:
    """Something that waits for a role, with the screen on which it is done."""

    words: str
    page: str


@dataclass(frozen=True)
class BuildCard:
    """A build in the list."""

    reference: str
    customer: str
    vehicle: str
    state: str
    is_settled: bool
    changed: str
    waiting: tuple[WaitingLine, ...]


def build_cards(found: Iterable[BuildWaiting]) -> tuple[BuildCard, ...]:
    """Say how far each build has come, and what waits for whom."""
    return tuple(
        BuildCard(
            reference=one.build.reference,
            customer=one.build.customer_name,
            vehicle=one.build.vehicle_label,
            state=state_words(one.standing, one.build.open_groups),
            is_settled=one.build.open_groups == 0,
            changed=f"Last change {moment(one.changed_at)} UTC",
            waiting=tuple(
                WaitingLine(f"{_role(each.role)}: {each.what}", each.page) for each in one.waiting
            ),
        )
        for one in found
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


def _role(role: str) -> str:
    return role.replace("-", " ").capitalize()
