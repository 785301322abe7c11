"""Reach the stages of a build, one after the other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime

from configurator.build_life.entries import Body, SpecIssued, StageReached
from configurator.build_life.life import Entry, Life
from configurator.build_life.people import Person
from configurator.build_life.stage_gate import stage_faults
from configurator.build_spec.days import day_in_words
from configurator.catalog.did_you_mean import did_you_mean
from configurator.catalog.models.workshop import RoleId, Stage
from configurator.errors import Fault, LifeError
from configurator.record.book import read_life, write_entries
from configurator.workflow.as_built import how_built_stands
from configurator.workflow.premises import Premises
from configurator.workflow.rights import refuse_other_roles
from configurator.workflow.sign_offs_asked import sign_offs_asked

STAGE_ROLES: tuple[RoleId, ...] = ("manager", "engineer")
"""Who may note that a stage is reached."""


def reach_stage(
    premises: Premises,
    reference: str,
    stage_id: str,
    *,
    reached_on: date,
    by: Person,
    now: datetime,
) -> Entry:
    """Note that a build reached a stage; its payment falls due.

    Raises
    ------
    LifeError
        If it is not the next stage, a choice that it closes is open, a change order waits, a
        sign-off is missing, or a record of an earlier stage is missing or out of tolerance.
    OvertakenError
        If somebody else noted it a moment before.
    """
    refuse_other_roles(by, STAGE_ROLES, "note that a stage is reached")
    stages = premises.catalog.stages
    stage = _known(stages, stage_id)
    if reached_on > now.date():
        what = f"the day, {day_in_words(reached_on)}, is still to come"
        raise LifeError([Fault("P089", stage.label, what, "Note it on the day itself.")])

    seen = read_life(premises.record, reference)
    asked = sign_offs_asked(premises, seen)
    records = how_built_stands(premises, reference).verdicts if seen.issued is not None else ()

    def bodies(life: Life) -> Sequence[Body]:
        if (life.records, life.issued) != (seen.records, seen.issued):
            what = "something was measured or issued a moment before"
            raise LifeError([Fault("P102", stage.label, what, "Look at the stages again.")])
        faults = [*stage_faults(life, stages, stage, asked, records)]
        faults += _too_early(life, stage, reached_on)
        issued = life.issued
        if faults or issued is None:
            raise LifeError(faults)
        return (StageReached(stage_id=stage.id, reached_on=reached_on, letter=issued.letter),)

    (entry,) = write_entries(premises.record, reference, bodies, by=by, now=now)
    return entry


def _too_early(life: Life, stage: Stage, reached_on: date) -> Iterator[Fault]:
    """Refuse a day before the order, or before the stage that was reached last."""
    days = [body.reached_on for body in life.of(StageReached)]
    if life.accepted is not None:
        days.append(life.accepted.accepted_on)
    elif life.issued is not None:
        days.append(life.entry_of(life.of(SpecIssued)[0]).made_at.date())
    if days and reached_on < max(days):
        preceding = day_in_words(max(days))
        what = f"{day_in_words(reached_on)} is before what precedes it, {preceding}"
        yield Fault("P131", stage.label, what, "Write the day on which it was reached.")


def _known(stages: Sequence[Stage], wanted: str) -> Stage:
    for stage in stages:
        if stage.id == wanted:
            return stage
    remedy = did_you_mean(wanted, [stage.id for stage in stages])
    what = f'the workshop has no stage "{wanted[:60]}"'
    raise LifeError([Fault("P088", "Stage", what, remedy)])
