"""What waits for whom, across all builds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from configurator.build_life.life import Life
from configurator.build_life.waiting import Waiting, waiting_in
from configurator.build_spec.days import day_in_words
from configurator.errors import ConfiguratorError
from configurator.workflow.builds import list_builds
from configurator.workflow.draft_differs import draft_differs, draft_warns
from configurator.workflow.handover import gate_of
from configurator.workflow.listed_build import ListedBuild
from configurator.workflow.premises import Premises
from configurator.workflow.sign_offs_asked import sign_offs_asked

LOST = "What was issued is lost or was altered: run configurator verify, and restore a backup"


@dataclass(frozen=True)
class BuildWaiting:
    """A build with its stage in words, and what waits for whom in it."""

    build: ListedBuild
    standing: str
    """How far it has come: the state of its draft, its issued letter, its stage."""
    waiting: tuple[Waiting, ...]
    changed_at: datetime
    """When the draft was saved last, or its book was written in."""


def what_waits(
    premises: Premises, today: date, *, search: str = "", role: str | None = None
) -> tuple[BuildWaiting, ...]:
    """List builds with what waits in them, the last changed first.

    Parameters
    ----------
    premises : Premises
        Where the record is.
    today : date
        The day it is asked.
    search : str
        Every word of it must occur in the reference, the customer's name or the vehicle.
    role : str, optional
        Only builds in which something waits for this role, and only that.

    Raises
    ------
    RecordError
        If the record cannot be read.
    """
    lives = premises.lives.read(premises.record)
    builds = list_builds(premises, search)
    found = [_waiting(premises, build, lives.get(build.reference), today) for build in builds]
    found.sort(key=lambda one: one.changed_at, reverse=True)
    return tuple(found) if role is None else _for_role(found, role)


def _waiting(
    premises: Premises, build: ListedBuild, life: Life | None, today: date
) -> BuildWaiting:
    known = life or Life(())
    last = known.entries[-1] if known.entries else None
    try:
        waiting = premises.builds_waiting.get_or_make(
            (build, last and last.sha256, today), lambda: _found(premises, build, known, today)
        )
    except ConfiguratorError:
        # What one build has lost must not hide all the others.
        waiting = (Waiting("manager", LOST, "papers"),)
    changed_at = max(build.updated_at, last.made_at) if last else build.updated_at
    return BuildWaiting(build, _standing(premises, build, known), waiting, changed_at)


def _found(premises: Premises, build: ListedBuild, known: Life, today: date) -> tuple[Waiting, ...]:
    differs = not known.is_over and draft_differs(premises, known, build.reference, build.revision)
    return waiting_in(
        known,
        is_complete=build.open_groups == 0,
        draft_differs=differs,
        draft_warns=differs and draft_warns(premises, build.reference),
        stages=premises.catalog.stages,
        # Nothing is signed any more where the vehicle is gone; its catalog may be long out of use.
        sign_offs=() if known.is_over else sign_offs_asked(premises, known),
        records=premises.catalog.as_built,
        today=today,
        not_holding=gate_of(premises, build.reference).missing if known.corrections else (),
    )


def _for_role(found: Sequence[BuildWaiting], role: str) -> tuple[BuildWaiting, ...]:
    return tuple(
        replace(one, waiting=mine)
        for one in found
        if (mine := tuple(each for each in one.waiting if each.role == role))
    )


def _standing(premises: Premises, build: ListedBuild, life: Life) -> str:
    if life.handed_over is not None:
        return f"Handed over on {day_in_words(life.handed_over.handed_over_on)}"
    if life.closed is not None:
        return "Closed"
    if life.issued is None:
        return build.state
    labels = {stage.id: stage.label for stage in premises.catalog.stages}
    reached = life.stage
    stage = f", {labels.get(reached.stage_id, reached.stage_id)}" if reached else ""
    return f"Spec {life.issued.letter}{stage}"
