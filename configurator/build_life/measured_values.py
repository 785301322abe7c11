"""What was measured and read on the finished vehicle, as the spec is computed with it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from configurator.build_life.entries import AsBuiltRecorded
from configurator.build_life.required_records import SERIAL_NUMBER
from configurator.build_life.tolerances import RecordVerdict
from configurator.build_spec.spec import Fact, Spec
from configurator.catalog.models.as_built import ToldQuantity
from configurator.catalog.models.build import (
    AsBuilt,
    MeasuredRecord,
    OrderedFact,
    RecordToMake,
)
from configurator.catalog.models.rule import FactName

ORDERED_FACTS: tuple[FactName, ...] = (
    "kerb_mass_kg",
    "kerb_front_axle_kg",
    "kerb_rear_axle_kg",
    "laden_front_axle_kg",
    "laden_rear_axle_kg",
    "payload_kg",
    "usable_energy_kwh",
)
"""Promised figures that stand beside what follows from measured values; ranges come after them."""

LONGEST = 2000


def as_built_of(verdicts: Sequence[RecordVerdict], ordered: Spec) -> AsBuilt | None:
    """Gather what was measured; None while nothing is on record.

    A value out of tolerance counts, since it is what the vehicle weighs and stores; a record that
    is outdated by another part does not.

    Parameters
    ----------
    verdicts : sequence of RecordVerdict
        How each record stands.
    ordered : Spec
        The issued spec, whose promises are kept beside the measured values.
    """
    present = [verdict for verdict in verdicts if verdict.made is not None and verdict.counts]
    if not present:
        return None
    told = dict(_told(present))
    serials = {
        made.slot: str(made.values[SERIAL_NUMBER])
        for made in _made(present)
        if made.record == SERIAL_NUMBER and made.slot is not None
    }
    return AsBuilt(
        front_axle_kg=told.get("front-axle-kg"),
        rear_axle_kg=told.get("rear-axle-kg"),
        pack_capacity_kwh=told.get("pack-capacity-kwh"),
        pack_capacity_sigma_percent=_sigma_percent(present),
        serial_numbers=serials,
        records=tuple(
            _record(verdict, verdict.made)
            for verdict in present
            if verdict.made is not None and verdict.record.id != SERIAL_NUMBER
        ),
        to_make=tuple(_to_make(verdicts)),
        ordered=tuple(_ordered(ordered)),
    )


def _made(verdicts: Iterable[RecordVerdict]) -> Iterator[AsBuiltRecorded]:
    for verdict in verdicts:
        if verdict.made is not None:
            yield verdict.made


def _told(verdicts: Iterable[RecordVerdict]) -> Iterator[tuple[ToldQuantity, float]]:
    for verdict in verdicts:
        for held in verdict.values:
            if held.value.tells is not None and isinstance(held.given, float):
                yield held.value.tells, held.given


def _sigma_percent(verdicts: Iterable[RecordVerdict]) -> float | None:
    return next(
        (
            held.value.sigma_percent
            for verdict in verdicts
            for held in verdict.values
            if held.value.tells == "pack-capacity-kwh" and held.given is not None
        ),
        None,
    )


def _record(verdict: RecordVerdict, made: AsBuiltRecorded) -> MeasuredRecord:
    said = [(held.value.label, held.said) for held in verdict.values if held.said]
    limits = [(held.value.label, held.limit) for held in verdict.values if held.limit]
    return MeasuredRecord(
        id=made.record,
        label=verdict.record.label,
        value=_lines(said, is_alone=_is_one_number(verdict)),
        limit=_lines(limits, is_alone=_is_one_number(verdict)),
        instrument=made.instrument,
        calibrated_until=made.calibrated_until,
        measured_on=made.measured_on,
        by=made.by,
        in_tolerance=verdict.in_tolerance,
        why="" if verdict.in_tolerance else _why(verdict)[:LONGEST],
        source=verdict.source,
        tells=tuple(held.value.tells for held in verdict.values if held.value.tells is not None),
    )


def _to_make(verdicts: Iterable[RecordVerdict]) -> Iterator[RecordToMake]:
    for verdict in verdicts:
        if not verdict.counts and verdict.record.id != SERIAL_NUMBER:
            limits = [(held.value.label, held.limit) for held in verdict.values if held.limit]
            yield RecordToMake(
                label=verdict.record.label,
                limit=_lines(limits, is_alone=_is_one_number(verdict)),
                source=verdict.source,
            )


def _is_one_number(verdict: RecordVerdict) -> bool:
    return len(verdict.values) == 1 and verdict.values[0].value.kind == "number"


def _why(verdict: RecordVerdict) -> str:
    return verdict.words.removesuffix(f" Source: {verdict.source}.")


def _lines(pairs: Sequence[tuple[str, str]], *, is_alone: bool) -> str:
    told = [words if is_alone else f"{label}: {words}" for label, words in pairs]
    return "; ".join(told)[:LONGEST]


def _ordered(spec: Spec) -> Iterator[OrderedFact]:
    for name in ORDERED_FACTS:
        fact = spec.fact(name)
        if fact is not None:
            yield _payload(spec, fact) if name == "payload_kg" else _promise(fact)
    for case in spec.workshop.headline_cases:
        low, high = spec.fact("range_low_km", case), spec.fact("range_high_km", case)
        line = next((line for line in spec.ranges if line.case_id == case), None)
        if low is not None and high is not None and line is not None:
            yield OrderedFact(
                name="range_low_km",
                case=case,
                label=f"Range, {line.label}"[:200],
                unit="km",
                low=low.low,
                high=high.high,
            )
    source = spec.workshop.overnight_source
    hours = spec.fact("charging_hours", source)
    place = next((line.label for line in spec.charging if line.source_id == source), "")
    if hours is not None:
        yield _promise(hours).model_copy(update={"label": f"{hours.label}, {place}"[:200]})


def _payload(spec: Spec, fact: Fact) -> OrderedFact:
    """Promise what the least of all limits allows, not what the gross mass alone would."""
    carrying = spec.weights.carrying
    if carrying is None:
        return _promise(fact)
    least = {"low": carrying.payload_kg, "high": carrying.payload_kg}
    return _promise(fact).model_copy(update={"label": "Payload beside the driver", **least})


def _promise(fact: Fact) -> OrderedFact:
    return OrderedFact(
        name=fact.name,
        case=fact.case,
        label=fact.label,
        unit=fact.unit,
        low=fact.low,
        high=fact.high,
    )
