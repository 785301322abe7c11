"""What was measured on the finished vehicle, as its screen tells it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from configurator.app.view_models.words import day
from configurator.build_life.life import Life
from configurator.build_life.required_records import SERIAL_NUMBER
from configurator.build_life.tolerances import RecordVerdict, ValueVerdict
from configurator.build_spec.spec import Finding, Spec
from configurator.catalog.models.component import Component, Tyre
from configurator.catalog.models.text import SafetyMessage
from configurator.catalog.models.workshop import Stage

MEASURING_CARE = SafetyMessage(
    signal="danger",
    hazard="Several of these measurements are made where the drive battery's voltage may be.",
    consequence="A slip of a probe kills, or burns with an arc.",
    avoid=(
        "Let persons competent for high-voltage vehicles measure, two of them, with instruments "
        "rated for the voltage.",
        "Keep to the instrument's paper and to local codes; they come before any limit shown here.",
        "Drive, brake and weigh only once the checks before have been made.",
    ),
)
NOT_READ = "not read yet"


@dataclass(frozen=True)
class ValueLine:
    """One value of a record in words."""

    label: str
    said: str
    limit: str


@dataclass(frozen=True)
class RecordLine:
    """One record in words."""

    label: str
    because: str
    values: tuple[ValueLine, ...]
    made: str
    """With what, on which day, by whom; empty while it is not there."""
    found: str
    """`kept`, `beyond`, `to measure` or `not stated`: gives the mark."""
    verdict: str
    words: str
    source: str


@dataclass(frozen=True)
class StageTable:
    """The records of one stage."""

    title: str
    lines: tuple[RecordLine, ...]


def stage_tables(
    verdicts: Sequence[RecordVerdict], stages: Sequence[Stage]
) -> tuple[StageTable, ...]:
    """Sort records by the stage in which they are made; serial numbers stand elsewhere."""
    measured = [verdict for verdict in verdicts if verdict.record.id != SERIAL_NUMBER]
    labels = {stage.id: stage.label for stage in stages}
    known = [*labels, *{v.record.stage for v in measured if v.record.stage not in labels}]
    return tuple(
        StageTable(labels.get(stage, stage or "At any time"), tuple(map(record_line, found)))
        for stage in known
        if (found := [verdict for verdict in measured if verdict.record.stage == stage])
    )


def record_line(verdict: RecordVerdict) -> RecordLine:
    """Tell one record."""
    found, words = _found(verdict)
    return RecordLine(
        label=verdict.record.label,
        because=verdict.record.because,
        values=tuple(map(_value_line, verdict.values)),
        made=made_words(verdict),
        found=found,
        verdict=words if verdict.record.blocks else f"{words}; does not block",
        words=_why(verdict),
        source=verdict.source,
    )


def made_words(verdict: RecordVerdict) -> str:
    """Say with what, when and by whom something was measured."""
    made = verdict.made
    if made is None:
        return ""
    counts = f", calibrated until {day(made.calibrated_until)}" if made.calibrated_until else ""
    with_what = f"{made.instrument}{counts}; " if made.instrument else ""
    note = f". {made.note}" if made.note else ""
    return f"{with_what}{day(made.measured_on)}, {made.by}{note}"


def standing_words(verdicts: Sequence[RecordVerdict]) -> str:
    """Say how many of the records are there and within their limits."""
    settled = sum(1 for verdict in verdicts if verdict.is_present and verdict.in_tolerance)
    beyond = [verdict for verdict in verdicts if verdict.in_tolerance is False]
    told = f"{settled} of {len(verdicts)} records are there and within their limits."
    if not beyond:
        return told
    names = ", ".join(verdict.record.label for verdict in beyond)
    return f"{told} Out of tolerance, which blocks the handover: {names}."


def correction_words(life: Life) -> str:
    """Say that what is written down now corrects what the owner has; empty before the handover."""
    if life.handed_over is None:
        return ""
    on, revision = life.handed_over.handed_over_on, life.pack.revision if life.pack else 0
    return (
        f"The vehicle was handed over on {day(on)}, and revision {revision} of the pack was issued "
        "last. What is written down now is a correction: the earlier record stays beside it, it "
        "says why, and the next revision of the pack tells the owner."
    )


def serial_rows(verdicts: Iterable[RecordVerdict]) -> tuple[tuple[str, str, str], ...]:
    """List the slot, the part and the serial number of all that is fitted."""
    return tuple(
        (str(verdict.record.slot), verdict.record.label, _serial(verdict))
        for verdict in verdicts
        if verdict.record.id == SERIAL_NUMBER
    )


def choice_words(verdict: RecordVerdict) -> str:
    """Name a record in the list from which one is taken to be entered."""
    _, words = _found(verdict)
    return f"{verdict.record.label} ({words.lower()})"


def specified_words(verdict: RecordVerdict, spec: Spec) -> str:
    """Say what is specified where a record is read on the part; empty where it is of no part.

    It stands beside the entry, so that whoever reads the vehicle can hold one against the other.
    """
    named = [fitted.component for fitted in spec.fitted if fitted.slot in verdict.record.slots]
    told = [f"{_size(part)}{part.label}, {part.maker}" for part in named]
    return f"As specified: {'; '.join(told)}." if told else ""


def _size(part: Component) -> str:
    if not isinstance(part, Tyre):
        return ""
    return f"{part.size} {part.load_index} {part.speed_symbol}, "


def written_notice(
    verdict: RecordVerdict, found: Sequence[Finding] = ()
) -> tuple[Literal["said", "asked"], tuple[str, ...]]:
    """Say that a record is written down; where it is not within its limits, that first.

    Parameters
    ----------
    verdict : RecordVerdict
        As it stands now.
    found : sequence of Finding
        What the checks of the vehicle say with it.
    """
    label = verdict.record.label
    if verdict.in_tolerance is True:
        told = tuple(f"A check says now: {finding.sentence}" for finding in found)
        return "asked" if told else "said", (f"“{label}” is written down.", *told)
    _, words = _found(verdict)
    blocks = " It blocks the handover until it is measured again." if verdict.record.blocks else ""
    return "asked", (f"{words}: “{label}” is written down as it is.{blocks}", _why(verdict))


def written_numbers(written: int, fitted: int) -> str:
    """Say how many serial numbers were written down just now.

    Examples
    --------
    >>> written_numbers(1, 12)
    '1 serial number is written down, of 12 parts that are fitted.'
    """
    several = "1 serial number is" if written == 1 else f"{written} serial numbers are"
    return f"{several} written down, of {fitted} parts that are fitted."


def _serial(verdict: RecordVerdict) -> str:
    made = verdict.made
    return str(made.values.get(SERIAL_NUMBER, "")) if made and verdict.counts else ""


def _value_line(held: ValueVerdict) -> ValueLine:
    return ValueLine(held.value.label, held.said, held.limit)


def _found(verdict: RecordVerdict) -> tuple[str, str]:
    if not verdict.is_present:
        return "to measure", "To be measured"
    if verdict.in_tolerance is None:
        return "not stated", "Cannot be judged"
    return ("kept", "Within limits") if verdict.in_tolerance else ("beyond", "Out of tolerance")


def _why(verdict: RecordVerdict) -> str:
    is_plain = verdict.in_tolerance is True or not verdict.is_present
    return "" if is_plain else verdict.words.removesuffix(f" Source: {verdict.source}.")
