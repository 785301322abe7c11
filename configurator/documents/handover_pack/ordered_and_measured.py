"""What was ordered, computed and measured, side by side, each with what that means."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, TypeAlias

from reportlab.platypus import Flowable

from configurator.build_spec.spec import Axle, Fact, Spec
from configurator.catalog.models.build import AsBuilt, OrderedFact
from configurator.catalog.models.component import Pack
from configurator.documents.figures import number, span
from configurator.documents.headings import subheading
from configurator.documents.paragraphs import small
from configurator.documents.tables import headed_table

Row: TypeAlias = tuple[str, str, str, str, str]

HEAD: Final = ("", "Ordered", "Computed", "Measured", "Verdict")
NOT_MEASURED: Final = "not measured"
KEPT: Final = "as ordered or better"
HOW: Final = (
    "Ordered is what the issued spec promised. Axles and battery are computed from the ledger of "
    "masses and the maker's paper, all else from what was measured, where it was. A verdict "
    "compares numbers and approves nothing."
)
_TENTHS: Final = frozenset({"usable_energy_kwh", "charging_hours"})
_MORE_IS_BETTER: Final = frozenset({"usable_energy_kwh", "payload_kg", "range_low_km"})
_LADEN: Final = {"laden_front_axle_kg": "front", "laden_rear_axle_kg": "rear"}
_WEIGHED: Final = frozenset({"kerb_mass_kg", "kerb_front_axle_kg", "kerb_rear_axle_kg"})


def ordered_and_measured_blocks(spec: Spec) -> list[Flowable]:
    """Compare promises with what was weighed and measured; nothing while no record tells it."""
    built = spec.build.as_built
    if built is None or not built.ordered:
        return []
    rows = [*_capacity(spec, built), *_weights(spec, built), *_followed(spec, built)]
    return [
        subheading("Ordered, computed and measured"),
        headed_table(HEAD, rows, (0.3, 0.17, 0.16, 0.14, 0.23)),
        small(HOW),
    ]


def _capacity(spec: Spec, built: AsBuilt) -> Iterator[Row]:
    pack = spec.component("pack")
    if isinstance(pack, Pack):
        nominal = f"{number(pack.capacity_kwh, 1)} kWh"
        measured = built.pack_capacity_kwh
        told = NOT_MEASURED if measured is None else f"{number(measured, 1)} kWh"
        verdict = _of_record(built, "pack-capacity-kwh")
        yield "Capacity of the battery", nominal, nominal, told, verdict


def _weights(spec: Spec, built: AsBuilt) -> Iterator[Row]:
    promised: dict[str, OrderedFact] = {fact.name: fact for fact in built.ordered}
    for axle, name in (
        (spec.weights.front, "kerb_front_axle_kg"),
        (spec.weights.rear, "kerb_rear_axle_kg"),
    ):
        yield _axle(axle, built, promised.get(name))
    whole = promised.get("kerb_mass_kg")
    if whole is not None:
        measured = spec.weights.measured_kerb_kg
        yield (
            whole.label,
            span(whole.low, whole.high, 0, "kg"),
            f"{number(spec.weights.kerb_low_kg)} kg",
            NOT_MEASURED if measured is None else f"{number(measured)} kg",
            "" if measured is None else _by(measured - whole.low, "kg"),
        )


def _axle(axle: Axle, built: AsBuilt, promised: OrderedFact | None) -> Row:
    return (
        f"{axle.axle.capitalize()} axle, empty",
        "" if promised is None else span(promised.low, promised.high, 0, "kg"),
        f"{number(axle.kerb_low_kg)} kg",
        NOT_MEASURED if axle.measured_kg is None else f"{number(axle.measured_kg)} kg",
        _of_record(built, f"{axle.axle}-axle-kg"),
    )


def _followed(spec: Spec, built: AsBuilt) -> Iterator[Row]:
    """Tell what follows from the measured values; nobody measures it itself."""
    for promised in built.ordered:
        fact = spec.fact(promised.name, promised.case)
        if promised.name in _WEIGHED or fact is None:
            continue
        low, high = _now(spec, fact)
        decimals = 1 if promised.name in _TENTHS else 0
        yield (
            promised.label,
            span(promised.low, promised.high, decimals, promised.unit),
            span(low, high, decimals, promised.unit),
            "",
            _verdict(spec, promised, low),
        )


def _now(spec: Spec, fact: Fact) -> tuple[float, float]:
    """Give a range as the whole band, the payload by the least of all limits, the rest as it is."""
    carrying = spec.weights.carrying
    if fact.name == "payload_kg" and carrying is not None:
        return carrying.payload_kg, carrying.payload_kg
    upper = spec.fact("range_high_km", fact.case) if fact.name == "range_low_km" else None
    return fact.low, (upper or fact).high


def _verdict(spec: Spec, promised: OrderedFact, now: float) -> str:
    if promised.name in _LADEN:
        axle = spec.weights.front if _LADEN[promised.name] == "front" else spec.weights.rear
        limit = f"its limit of {number(axle.limit_low_kg)} kg"
        return f"within {limit}" if now <= axle.limit_low_kg else f"BEYOND {limit}"
    more, decimals = now - promised.low, 1 if promised.name in _TENTHS else 0
    if promised.name not in _MORE_IS_BETTER:
        return _by(more, promised.unit, decimals)
    kept = round(more, decimals) >= 0
    verdict = KEPT if kept else _by(more, promised.unit, decimals)
    carrying = spec.weights.carrying
    if promised.name != "payload_kg" or carrying is None:
        return verdict
    return f"{verdict}; set by {carrying.limited_by}"


def _by(more: float, unit: str, decimals: int = 0) -> str:
    if not round(more, decimals):
        return "as ordered"
    return f"{number(abs(more), decimals)} {unit} {'more' if more > 0 else 'less'}"


def _of_record(built: AsBuilt, told: str) -> str:
    """Give the verdict of the record that tells a quantity."""
    record = next((record for record in built.records if told in record.tells), None)
    if record is None:
        return ""
    return verdict_words(in_tolerance=record.in_tolerance)


def verdict_words(*, in_tolerance: bool | None) -> str:
    """Say how a record stands.

    Examples
    --------
    >>> verdict_words(in_tolerance=False), verdict_words(in_tolerance=None)
    ('NOT within tolerance', 'not judged')
    """
    if in_tolerance is None:
        return "not judged"
    return "within tolerance" if in_tolerance else "NOT within tolerance"
