"""How hours and finish came about, stage by stage and path by path."""

from __future__ import annotations

from configurator.build_spec.derivation import DerivationStep
from configurator.build_spec.derivations.worked import Question, Worked, step
from configurator.build_spec.sentences import source_words
from configurator.build_spec.stated_input import StatedInput
from configurator.catalog.models.rule import FactName
from configurator.pricing.finish import ticks_per_day, week_ticks, whole_days
from configurator.units import DAYS_PER_WEEK


def derive_plan(question: Question, name: FactName) -> Worked | None:
    """Work out working hours or the earliest handover."""
    if name == "workshop_hours":
        return _hours(question)
    return _weeks(question) if name == "handover_weeks" else None


def _hours(question: Question) -> Worked:
    stages = question.compiled.catalog.stages
    return Worked(
        "the hours of every line, part surveyed and option, stage by stage",
        "the workshop's own hours for each piece of work",
        _workshop_inputs(question)[:1],
        (
            *(
                step(stage.label, tenths / 10, "h")
                for stage, tenths in zip(stages, _tenths_by_stage(question), strict=True)
            ),
            step(
                "All stages together",
                question.compiled.book.plan.hours.of(question.choices) / 10,
                "h",
            ),
        ),
        narrowed_by=("Note the hours of finished builds, so that the catalog's can be corrected",),
    )


def _tenths_by_stage(question: Question) -> list[int]:
    plan = question.compiled.book.plan
    return [quantity.of(question.choices) for quantity in plan.hours_by_stage]


def _workshop_inputs(question: Question) -> tuple[StatedInput, ...]:
    workshop = question.compiled.catalog.workshop
    source = source_words(workshop.source)
    return (
        StatedInput(
            id="hours-per-week",
            label="Hours a week that go into this build",
            value=float(workshop.hours_per_week),
            unit="h",
            source=source,
        ),
        StatedInput(
            id="queue", label="Wait before work starts", value=workshop.queue_weeks,
            unit="weeks", source=source,
        ),
    )  # fmt: skip


def _weeks(question: Question) -> Worked:
    plan, workshop = question.compiled.book.plan, question.compiled.catalog.workshop
    longest = max(path.of(question.choices) for path in plan.paths)
    days = whole_days(longest, workshop.hours_per_week)
    return Worked(
        "the longest of all paths to the finish, in whole days: the queue with all the work, or a "
        "late part with the work from the stage that needs it",
        "longest path through a chain of stages with release times; common practice, no source",
        _workshop_inputs(question),
        (
            *_paths(question),
            step("Longest of these, in whole days begun", days, "days", 0),
            step("In weeks of seven days", days / DAYS_PER_WEEK, "weeks", 2),
        ),
        narrowed_by=("Order the part that arrives last sooner", "Confirm its lead time"),
    )


def _paths(question: Question) -> list[DerivationStep]:
    catalog, workshop = question.compiled.catalog, question.compiled.catalog.workshop
    tenths = _tenths_by_stage(question)
    waits = [("Queue, then all the work", workshop.queue_weeks, 0)]
    arrivals = [
        *((line.label, line.lead_weeks, line.needed_by) for line in question.vehicle.base_lines),
        *((option.label, option.lead_weeks, option.needed_by) for option in question.options),
    ]
    waits += [
        (
            f"Parts for: {label}, then the work from their stage",
            weeks,
            catalog.stage_order[needed_by],
        )
        for label, weeks, needed_by in arrivals
        if weeks and needed_by
    ]
    per_day = ticks_per_day(workshop.hours_per_week)
    return [
        step(
            words,
            (week_ticks(weeks, workshop.hours_per_week) + DAYS_PER_WEEK * sum(tenths[stage:]))
            / per_day,
            "days",
        )
        for words, weeks, stage in waits
    ]
