"""Which records a vehicle needs before it is handed over: it follows from what is fitted."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from configurator.build_spec.sentences import source_words
from configurator.build_spec.spec import Spec
from configurator.build_spec.text_section import applies
from configurator.catalog.models.as_built import (
    MARKS_LABEL,
    MARKS_OF,
    ComputedBound,
    RecordTemplate,
    RecordValue,
)
from configurator.catalog.models.component import Slot
from configurator.catalog.models.workshop import SurveyPart

SERIAL_NUMBER: Final = "serial-number"
WEIGHBRIDGE: Final = "weighbridge"
PRACTICE = "common practice, no source"


@dataclass(frozen=True)
class RequiredRecord:
    """A record that this very vehicle needs."""

    id: str
    """Of the catalog's record, or of one that is asked for without being listed."""
    slot: Slot | None
    """Whose serial number it is."""
    label: str
    stage: str
    """Id of the stage in which it is made; empty for what is read as parts arrive."""
    slots: tuple[str, ...]
    """Whose parts it tests; with another part fitted it is made again."""
    values: tuple[RecordValue, ...]
    needs_instrument: bool
    needs_calibration: bool
    blocks: bool
    because: str
    source: str
    groups: tuple[str, ...] = ()
    """Whose choices it tests."""

    @property
    def key(self) -> tuple[str, Slot | None]:
        """What an entry of the book names it by."""
        return self.id, self.slot

    @property
    def is_weighing(self) -> bool:
        """Whether it tells what an axle weighs."""
        return any(value.tells in {"front-axle-kg", "rear-axle-kg"} for value in self.values)


def required_records(
    spec: Spec, templates: Sequence[RecordTemplate], parts: Sequence[SurveyPart] = ()
) -> tuple[RequiredRecord, ...]:
    """List the records that a vehicle needs, in the catalog's order, marks and serial numbers last.

    Parameters
    ----------
    spec : Spec
        The issued spec; what is fitted and chosen, and the country of the workshop, decide.
    templates : sequence of RecordTemplate
        The workshop's records. Where none of them weighs both axles, a weighbridge is asked for.
    parts : sequence of SurveyPart
        What the survey of such a vehicle looks at: maker and marks of its brake, steering and
        restraint parts are read on the finished vehicle, whatever the survey said of them.

    Returns
    -------
    tuple of RequiredRecord
        Each with its reason and source.
    """
    choices = {choice.group_id: choice.option_id for choice in spec.choices}
    asked = [
        template
        for template in templates
        if template.country in {None, spec.workshop.country}
        if applies(template.applies_if, spec.vehicle.id, choices, spec.fitted)
    ]
    told = {value.tells for template in asked for value in template.values}
    weighed = () if {"front-axle-kg", "rear-axle-kg"} <= told else (_weighbridge(spec),)
    return (*map(_of_template, asked), *weighed, *_marks(spec, parts), *_serial_numbers(spec))


def _of_template(template: RecordTemplate) -> RequiredRecord:
    return RequiredRecord(
        id=template.id,
        slot=None,
        label=template.label,
        stage=template.stage,
        slots=tuple(template.applies_if.slots),
        values=template.values,
        needs_instrument=template.needs_instrument,
        needs_calibration=template.needs_calibration,
        blocks=template.blocks,
        because=template.because,
        source=source_words(template.source),
        groups=tuple(template.applies_if.choices),
    )


def _weighbridge(spec: Spec) -> RequiredRecord:
    """Ask for what the tool itself computes with, whatever the catalog lists."""
    front = RecordValue(
        id="front",
        label="Front axle",
        unit="kg",
        tells="front-axle-kg",
        at_most=ComputedBound(of="front-axle-limit-kg"),
    )
    rear = RecordValue(
        id="rear",
        label="Rear axle",
        unit="kg",
        tells="rear-axle-kg",
        at_most=ComputedBound(of="rear-axle-limit-kg"),
    )
    return RequiredRecord(
        id=WEIGHBRIDGE,
        slot=None,
        label="Weighbridge ticket, empty and ready to drive",
        stage=spec.plan.stages[-1].stage_id if spec.plan.stages else "",
        slots=(),
        values=(front, rear),
        needs_instrument=True,
        needs_calibration=False,
        blocks=True,
        because="Range and loads are computed from these two numbers.",
        source=PRACTICE,
    )


def _marks(spec: Spec, parts: Sequence[SurveyPart]) -> Iterator[RequiredRecord]:
    """Ask who made each brake, steering and restraint part, kept or new."""
    told = {surveyed.part_id: surveyed.origin for surveyed in spec.survey}
    for part in parts:
        if part.origin_must_be_known:
            origin = told.get(part.id, "") or "nothing"
            yield RequiredRecord(
                id=f"{MARKS_OF}{part.id}",
                slot=None,
                label=MARKS_LABEL.format(part=part.label),
                stage="",
                slots=(),
                values=(
                    RecordValue(id="marks", label="Marks", kind="text"),
                    RecordValue(id="identified", label="Maker identified", kind="yes-no"),
                ),
                needs_instrument=False,
                needs_calibration=False,
                blocks=True,
                because=(
                    "Such a part of unknown make may fail unseen; it does not go on the road. Of "
                    f"its origin the survey says: {origin.rstrip('.')}."
                ),
                source=PRACTICE,
            )


def _serial_numbers(spec: Spec) -> Iterator[RequiredRecord]:
    for fitted in spec.fitted:
        yield RequiredRecord(
            id=SERIAL_NUMBER,
            slot=fitted.slot,
            label=fitted.component.label,
            stage="",
            slots=(fitted.slot,),
            values=(RecordValue(id=SERIAL_NUMBER, label="Serial number", kind="text"),),
            needs_instrument=False,
            needs_calibration=False,
            blocks=True,
            because="A recall or a repair years later finds its part by the number alone.",
            source=PRACTICE,
        )
