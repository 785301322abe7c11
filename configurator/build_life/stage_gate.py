"""Whether a build may pass into a stage."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from configurator.build_life.entries import StageReached
from configurator.build_life.life import Life
from configurator.build_life.sign_off_state import why_not_signed
from configurator.build_life.tolerances import RecordVerdict
from configurator.build_spec.spec import Finding
from configurator.catalog.models.workshop import SignOff, Stage
from configurator.errors import Fault


def next_stage(life: Life, stages: Sequence[Stage]) -> Stage | None:
    """Find the stage that comes next; None after the last."""
    reached = {body.stage_id for body in life.of(StageReached)}
    return next((stage for stage in stages if stage.id not in reached), None)


def stage_now(life: Life, stages: Sequence[Stage]) -> Stage:
    """Find the stage that a build is in; the first before any is noted."""
    reached = life.stage
    return next((s for s in stages if reached and s.id == reached.stage_id), stages[0])


def stage_findings(
    life: Life,
    stages: Sequence[Stage],
    stage: Stage,
    sign_offs: Sequence[SignOff],
    records: Sequence[RecordVerdict],
) -> tuple[Finding, ...]:
    """Find what blocks a stage: open choices, a change order that waits, sign-offs, records.

    Parameters
    ----------
    life : Life
        Of the build.
    stages, sign_offs
        Of the workshop, in order.
    stage : Stage
        The one to be reached.
    records : sequence of RecordVerdict
        How what is needed of the vehicle stands; empty while no spec is issued.

    Returns
    -------
    tuple of Finding
        All of them block; empty when the stage may be reached.
    """
    return tuple(
        Finding(
            code=fault.code,
            severity="blocks",
            subject=stage.id,
            sentence=f"{fault.where}: {fault.what}.",
            source="common practice, no source",
            remedy=fault.remedy,
        )
        for fault in stage_faults(life, stages, stage, sign_offs, records)
    )


def stage_faults(
    life: Life,
    stages: Sequence[Stage],
    stage: Stage,
    sign_offs: Sequence[SignOff],
    records: Sequence[RecordVerdict],
) -> Iterator[Fault]:
    """Tell what stands against reaching a stage, each as a fault."""
    issued, coming = life.issued, next_stage(life, stages)
    if issued is None:
        what = "no spec is issued yet, so that nothing says what is built"
        yield Fault("L007", stage.label, what, "Issue the spec first.")
        return
    if coming is None or coming.id != stage.id:
        what = "the stages are reached in their order"
        remedy = f"{coming.label} comes next." if coming else "All stages are reached."
        yield Fault("L008", stage.label, what, remedy)
    place = [known.id for known in stages].index(stage.id)
    if place == len(stages) - 1:
        what = "the last stage is reached by handing the vehicle over"
        yield Fault("L022", stage.label, what, "Issue the pack, then hand it over, under Handover.")
    # A stage that the workshop has no more closes nothing later: it counts as passed.
    still_to_come = {known.id for known in stages[place + 1 :]}
    for choice in issued.open_choices:
        if choice.closes_at not in still_to_come:
            label = choice.label or choice.group_id
            what = f"the choice “{label}” is still open, and this stage closes it"
            remedy = "Choose with the customer and issue the next letter."
            yield Fault("L009", stage.label, what, remedy)
    waiting = life.open_change
    if waiting is not None:
        what = f"change order C{waiting.number} waits for a signature, priced for the stage before"
        remedy = (
            "Have it signed, or withdraw it: after the stage a change costs what that stage adds."
        )
        yield Fault("L024", stage.label, what, remedy)
    for missing in why_not_signed(life, sign_offs):
        what = f"spec {issued.letter} is not signed off: {missing.rstrip('.')}"
        yield Fault("L010", stage.label, what, "Sign it first.")
    earlier = {known.id: known.label for known in stages[:place]}
    for verdict in records:
        if verdict.record.stage in earlier and not verdict.is_settled:
            where = f"{earlier[verdict.record.stage]}, {verdict.record.label}"
            remedy = "Mend and measure it, and write it down, before the work goes on."
            yield Fault("L023", where, verdict.words.rstrip("."), remedy)
