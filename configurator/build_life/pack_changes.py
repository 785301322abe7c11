"""What differs between two revisions of a handover pack, in sentences that name no person."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from configurator.build_life.differences import SpanChanged, WordsChanged, spec_differences
from configurator.build_life.erasing import REMOVED
from configurator.build_life.required_records import SERIAL_NUMBER
from configurator.build_life.tolerances import figure
from configurator.build_spec.days import day_in_words
from configurator.build_spec.spec import Spec
from configurator.catalog.models.build import AsBuilt, MeasuredRecord
from configurator.catalog.models.component import Slot

Reasons = Mapping[tuple[str, Slot | None], str]
"""(record, slot) → why it was corrected after the handover."""
_NOT_WORDS = ("measured_on", "calibrated_until", "in_tolerance")
IN_DETAIL = "Figures differ in detail."


def pack_changes(before: Spec, after: Spec, reasons: Reasons) -> tuple[str, ...]:
    """Say what the owner finds changed against the revision before.

    Parameters
    ----------
    before, after : Spec
        With what was measured; the earlier one as it was issued, also where it is erased by now.
    reasons : mapping
        Why a record was corrected after the handover.

    Returns
    -------
    tuple of str
        A sentence for each choice, record, serial number, mass, range and text that differs.
    """
    found = spec_differences(before, after)
    told = [
        *(_choice(item) for item in found.choices),
        *(f"{item.label}: the survey of the donor says otherwise." for item in found.survey),
        *_records(before, after, reasons),
        *_serial_numbers(before, after, reasons),
        *_payload(before, after),
        *(_span(item.label, item) for item in found.masses),
        *(_span(f"Range, {item.label}", item) for item in found.ranges),
        *(f"Text “{text.title}”: {text.how}." for text in found.texts),
        *_owner(before, after),
    ]
    return tuple(told) or (IN_DETAIL,)


def _choice(item: WordsChanged) -> str:
    return f"{item.label}: {item.after or 'none'}, was {item.before or 'none'}."


def _payload(before: Spec, after: Spec) -> Iterator[str]:
    was, now = before.weights.carrying, after.weights.carrying
    if was is not None and now is not None and was.payload_kg != now.payload_kg:
        yield _span(
            "Payload beside the driver",
            SpanChanged(
                label="",
                unit="kg",
                before=(was.payload_kg, was.payload_kg),
                after=(now.payload_kg, now.payload_kg),
            ),
        )


def _span(label: str, item: SpanChanged) -> str:
    was, now = (_from_to(span, item.unit, 0) for span in (item.before, item.after))
    if was == now:
        was, now = (_from_to(span, item.unit, 1) for span in (item.before, item.after))
    return f"{label}: {now}, was {was}."


def _from_to(span: tuple[float, float] | None, unit: str, decimals: int) -> str:
    if span is None:
        return "not told"
    low, high = (figure(round(end, decimals)) for end in span)
    return f"{low if low == high else f'{low} to {high}'} {unit}"


def _records(before: Spec, after: Spec, reasons: Reasons) -> Iterator[str]:
    was = {record.id: record for record in _built(before).records}
    for record in _built(after).records:
        earlier = was.get(record.id)
        if earlier is None or _differ(earlier, record):
            yield f"{record.label}: {_record(record, earlier)}{_why(reasons, record.id, None)}."


def _differ(earlier: MeasuredRecord, record: MeasuredRecord) -> bool:
    if REMOVED not in earlier.model_dump_json():
        return earlier != record
    # Of an erased revision the words are not what they were; days and verdict still are.
    return any(getattr(earlier, field) != getattr(record, field) for field in _NOT_WORDS)


def _record(record: MeasuredRecord, earlier: MeasuredRecord | None) -> str:
    made = f"{record.value}, on {day_in_words(record.measured_on)}"
    if earlier is None:
        return f"{made}, was not on record"
    if earlier.value == record.value and earlier.measured_on == record.measured_on:
        return f"{made}, written down anew"
    return f"{made}, was {earlier.value}, on {day_in_words(earlier.measured_on)}"


def _serial_numbers(before: Spec, after: Spec, reasons: Reasons) -> Iterator[str]:
    was, now = _built(before).serial_numbers, _built(after).serial_numbers
    for fitted in after.fitted:
        old, new = was.get(fitted.slot), now.get(fitted.slot)
        if old != new:
            words = f"{new or 'none'}, was {old or 'none'}"
            why = _why(reasons, SERIAL_NUMBER, fitted.slot)
            yield f"Serial number of {fitted.component.label}: {words}{why}."


def _why(reasons: Reasons, record: str, slot: Slot | None) -> str:
    reason = reasons.get((record, slot), "").rstrip(".")
    return f"; corrected after the handover: {reason}" if reason else ""


def _owner(before: Spec, after: Spec) -> Iterator[str]:
    if before.build.customer == after.build.customer:
        return
    is_removed = after.build.customer.name == REMOVED
    what = "is removed" if is_removed else "is another"
    yield f"The owner's name or contact {what}."


def _built(spec: Spec) -> AsBuilt:
    return spec.build.as_built or AsBuilt()
