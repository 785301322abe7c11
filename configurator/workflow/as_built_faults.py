"""What was typed about a measurement, as the entry of the book that it becomes, or its faults."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from configurator.build_life.entries import AsBuiltRecorded
from configurator.build_life.life import Life
from configurator.build_life.required_records import SERIAL_NUMBER, RequiredRecord
from configurator.build_life.tolerances import NO, YES
from configurator.build_spec.days import day_in_words
from configurator.catalog.did_you_mean import did_you_mean
from configurator.catalog.models.as_built import RecordValue, ToldQuantity
from configurator.catalog.models.component import Slot
from configurator.catalog.plausible import PLAUSIBLE
from configurator.errors import Fault

LONGEST_VALUE = 120
LONGEST_TEXT = 200
GREATEST = 1e9
SHORTEST_REASON = 3

_PLAUSIBLE: Mapping[ToldQuantity, str] = {
    "front-axle-kg": "front_axle_kg",
    "rear-axle-kg": "rear_axle_kg",
    "pack-capacity-kwh": "pack_capacity_kwh",
}


@dataclass(frozen=True)
class TypedRecord:
    """A record as somebody entered it."""

    values: Mapping[str, float | str]
    measured_on: date
    measured_by: str
    instrument: str = ""
    calibrated_until: date | None = None
    note: str = ""


def record_of(
    required: Sequence[RequiredRecord], record_id: str, slot: Slot | None
) -> RequiredRecord | Fault:
    """Find which record is meant, among those that the vehicle needs."""
    for record in required:
        if record.key == (record_id, slot):
            return record
    known = sorted({record.id for record in required})
    what = f'this vehicle needs no record "{record_id[:60]}"'
    if record_id in known:
        what = f'there is no "{record_id}" of what is not fitted: {str(slot)[:40]}'
    return Fault("P090", "As built", what, did_you_mean(record_id, known))


def recorded(
    record: RequiredRecord, typed: TypedRecord
) -> tuple[AsBuiltRecorded | None, list[Fault]]:
    """Make the entry of a measurement, or tell every fault of it.

    Parameters
    ----------
    record : RequiredRecord
        What is measured.
    typed : TypedRecord
        As it was entered.
    """
    faults: list[Fault] = []
    values: dict[str, float | str] = {}
    for value in record.values:
        given = typed.values.get(value.id)
        read = _read(record, value, given)
        if isinstance(read, Fault):
            faults.append(read)
        else:
            values[value.id] = read
    faults += _not_asked(record, typed)
    faults += _instrument_faults(record, typed)
    faults += _text_faults(record, typed)
    if faults:
        return None, faults
    return AsBuiltRecorded(
        record=record.id,
        slot=record.slot,
        values=values,
        instrument=typed.instrument.strip(),
        calibrated_until=typed.calibrated_until,
        measured_on=typed.measured_on,
        by=typed.measured_by.strip(),
        note=typed.note.strip(),
    ), []


def correction_faults(life: Life, record: RequiredRecord, typed: TypedRecord) -> Iterator[Fault]:
    """Find a record that is altered after the handover without a word why.

    Parameters
    ----------
    life : Life
        Of the build.
    record : RequiredRecord
        What is written down anew.
    typed : TypedRecord
        As it was entered.
    """
    handed_over = life.handed_over
    if handed_over is not None and len(typed.note.strip()) < SHORTEST_REASON:
        what = (
            f"the vehicle was handed over on {day_in_words(handed_over.handed_over_on)}, so this "
            "corrects what the owner was told, and nothing says why"
        )
        remedy = "Write the reason; the next revision of the pack tells it to the owner."
        yield Fault("P107", record.label, what, remedy)


def same_number_faults(
    life: Life, required: Sequence[RequiredRecord], found: Sequence[AsBuiltRecorded]
) -> Iterator[Fault]:
    """Find one serial number that stands for two parts: a recall would find the wrong one.

    Parameters
    ----------
    life : Life
        Of the build.
    required : sequence of RequiredRecord
        What is fitted now; numbers of places where nothing is fitted any more are left out.
    found : sequence of AsBuiltRecorded
        What is written down now.
    """
    labels = {record.slot: record.label for record in required if record.id == SERIAL_NUMBER}
    numbers = {
        made.slot: str(made.values.get(SERIAL_NUMBER, ""))
        for made in (*life.records, *found)
        if made.record == SERIAL_NUMBER and made.slot in labels
    }
    new = {made.slot for made in found if made.record == SERIAL_NUMBER}
    first: dict[str, Slot | None] = {}
    for slot, number in numbers.items():
        if not any(character.isdigit() for character in number):
            # In words, such as that a part carries none.
            continue
        other = first.setdefault("".join(number.split()).casefold(), slot)
        if other != slot and new & {slot, other}:
            what = f"“{number}” is written down for {labels[other]} too"
            remedy = (
                "Read it on the part itself; where one plate stands for both, write that beside it."
            )
            yield Fault("P133", labels[slot], what, remedy)


def _read(
    record: RequiredRecord, value: RecordValue, given: float | str | None
) -> float | str | Fault:
    where, what = record.label, record.label if record.slot else value.label
    words = str("" if given is None else given).strip()
    if not words:
        return Fault("P091", where, f"“{what}” is not told", "Enter what was measured or read.")
    if value.kind == "text":
        if len(words) > LONGEST_VALUE or not words.isprintable():
            told = f"“{what}” has {len(words)} characters, or some that cannot be printed"
            return Fault("P093", where, told, f"Write {LONGEST_VALUE} or fewer on one line.")
        return words
    if value.kind == "yes-no":
        if words.casefold() not in {YES, NO}:
            return Fault("P093", where, f'“{what}” is "{words[:40]}"', 'Answer "yes" or "no".')
        return words.casefold()
    return _number(where, value, words)


def _number(where: str, value: RecordValue, words: str) -> float | Fault:
    try:
        number = float(words)
    except ValueError:
        number = math.nan
    if not math.isfinite(number) or abs(number) > GREATEST:
        unit = f" in {value.unit}" if value.unit else ""
        remedy = f"Write a number{unit}, with a point for decimals, such as 2.4."
        return Fault(
            "P093", where, f'“{value.label}” is "{words[:40]}", which is no number', remedy
        )
    if value.tells is not None:
        plausible = PLAUSIBLE[_PLAUSIBLE[value.tells]]
        if not plausible.holds(number):
            what = f"“{value.label}” is {number:g} {value.unit}; {plausible.in_words}"
            return Fault("P094", where, what, "Look at the ticket or the screen again.")
    return number


def _not_asked(record: RequiredRecord, typed: TypedRecord) -> Iterator[Fault]:
    known = [value.id for value in record.values]
    for given in typed.values:
        if given not in known:
            what = f'nobody asks for a value "{str(given)[:60]}" of it'
            yield Fault("P092", record.label, what, did_you_mean(str(given), known))


def _instrument_faults(record: RequiredRecord, typed: TypedRecord) -> Iterator[Fault]:
    if record.needs_instrument and not typed.instrument.strip():
        what = "no instrument is named"
        yield Fault("P095", record.label, what, "Name it with the number on its label.")
    if record.needs_calibration and typed.calibrated_until is None:
        what = "nothing says until when the instrument's calibration counts"
        yield Fault("P095", record.label, what, "Read the day on its label.")


def _text_faults(record: RequiredRecord, typed: TypedRecord) -> Iterator[Fault]:
    if not typed.measured_by.strip():
        yield Fault("P096", record.label, "nobody is named who measured", "Name the person.")
    texts = (typed.instrument, typed.measured_by, typed.note)
    for text in texts:
        if len(text.strip()) > LONGEST_TEXT or not text.strip().isprintable():
            what = f'"{text.strip()[:30]}…" is too long or cannot be printed'
            yield Fault("P097", record.label, what, f"Write {LONGEST_TEXT} characters or fewer.")
