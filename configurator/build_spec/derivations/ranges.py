"""How range and consumption came about: energies by kind, then the doubts that make the band."""

from __future__ import annotations

import math
from dataclasses import dataclass

from configurator.build_spec.band_causes import NARROWED_BY
from configurator.build_spec.derivation import DerivationStep
from configurator.build_spec.derivations.range_inputs import range_inputs
from configurator.build_spec.derivations.worked import Question, Worked, step
from configurator.build_spec.driving_inputs import road_vehicle
from configurator.build_spec.range_facts import trip_of
from configurator.catalog.models.rule import FactName
from configurator.catalog.models.workshop import DrivingCase
from configurator.physics.achieved_speed import drive_trip
from configurator.physics.cell_energy import cell_energies
from configurator.physics.energy_split import EnergySplit, energy_split
from configurator.physics.range_band import (
    DOUBTS,
    Z_OF_P90,
    RangeBand,
    range_bands,
    variance_shares,
)
from configurator.physics.road_vehicle import RoadVehicle, Trip
from configurator.physics.trip_arrays import trip_arrays
from configurator.physics.vehicle_table import vehicle_table
from configurator.units import KM_H_PER_M_S

RANGE_NAMES: frozenset[FactName] = frozenset(
    {"range_low_km", "range_mid_km", "range_high_km", "consumption_wh_per_km"}
)
_JOULES_PER_WH = 3600.0
_KINDS = {
    "drag_j": "Air, while the drive pushes",
    "rolling_j": "Tyres, while the drive pushes",
    "climbing_j": "Climbing",
    "speeding_up_j": "Speeding up, less what rolling out gives",
    "drive_loss_j": "Losses of motor, inverter and gear by load",
    "no_load_j": "Losses of the turning drive without load",
    "recovered_j": "Back from braking",
    "auxiliaries_j": "12 V circuits, with the converter's loss",
    "cabin_j": "Heating or cooling the cabin",
    "battery_loss_j": "Lost in the battery's resistance",
}


@dataclass(frozen=True)
class _Drive:
    """A build in a driving case."""

    case: DrivingCase
    vehicle: RoadVehicle
    trip: Trip
    band: RangeBand


def derive_range(question: Question, name: FactName, case_id: str | None) -> Worked | None:
    """Work out an edge or the middle of a range, or the consumption, in one driving case."""
    drive = _drive(question, case_id) if name in RANGE_NAMES else None
    if drive is None:
        return None
    split = energy_split(drive.vehicle, drive.trip)
    shares = variance_shares([drive.vehicle], drive.trip)[0]
    steps = [*_consumption(split, drive), *_middle(name, drive), *_edge(name, drive)]
    by_share = sorted(shares, key=lambda doubt: -shares[doubt])
    return Worked(
        _FORMULAS[name],
        "longitudinal forces on a vehicle, second by second; first-order propagation of the doubts "
        "in the logarithm of the range (GUM, JCGM 100)",
        range_inputs(question, drive.case, drive.vehicle),
        tuple(steps),
        beside=tuple(_driven(drive)),
        narrowed_by=tuple(
            f"{_sentence(NARROWED_BY[doubt])} "
            f"({doubt}: {100 * shares[doubt]:.0f} % of the variance)"
            for doubt in by_share[:4]
            if shares[doubt] >= 0.01
        ),
    )


def _sentence(words: str) -> str:
    return words[0].upper() + words[1:]


_ADDED = "energies out of the cells by kind, added up and divided by the way: the consumption"
_FORMULAS: dict[FactName, str] = {
    "consumption_wh_per_km": _ADDED,
    "range_mid_km": f"{_ADDED}; usable energy by the consumption",
    "range_low_km": f"{_ADDED}; usable energy by the consumption; divided by the factor that nine "
    "in ten keep, from the doubts together",
    "range_high_km": f"{_ADDED}; usable energy by the consumption; times the factor that one in "
    "ten passes, from the doubts together",
}


def _drive(question: Question, case_id: str | None) -> _Drive | None:
    catalog, book = question.compiled.catalog, question.compiled.book
    case = next((found for found in catalog.driving_cases if found.id == case_id), None)
    fact = book.drive_fact("range_mid_km", case_id)
    if case is None or fact is None:
        return None
    vehicle = road_vehicle(book.around, case, book.state(fact, question.choices))
    if vehicle is None:
        return None
    trip = trip_of(case, {cycle.id: cycle for cycle in catalog.cycles})
    return _Drive(case, vehicle, trip, range_bands([vehicle], trip)[0])


def _consumption(split: EnergySplit, drive: _Drive) -> list[DerivationStep]:
    km = trip_arrays(drive.trip).distance_m / 1000
    found = [
        step(words, getattr(split, kind) / _JOULES_PER_WH / km, "Wh/km")
        for kind, words in _KINDS.items()
    ]
    # Only trips that were measured move it; the kinds are computed.
    moved = drive.band.consumption_wh_per_km - split.total_j / _JOULES_PER_WH / km
    if drive.vehicle.consumption_factor != 1:
        found.append(step("What measured trips add, or take away", moved, "Wh/km"))
    return [*found, step("Consumption, together", drive.band.consumption_wh_per_km, "Wh/km")]


def _middle(name: FactName, drive: _Drive) -> list[DerivationStep]:
    if name == "consumption_wh_per_km":
        return []
    energy_kwh = drive.vehicle.usable_energy_wh / 1000
    return [
        step("Usable energy, as warm and as old as the battery is here", energy_kwh, "kWh", 2),
        step("Middle of the range", drive.band.mid_km, "km"),
    ]


def _edge(name: FactName, drive: _Drive) -> list[DerivationStep]:
    if name not in {"range_low_km", "range_high_km"}:
        return []
    table = vehicle_table([drive.vehicle], drive.trip)
    vehicle = drive.vehicle
    moved = (cell_energies(table, drive.trip).slopes * table.sigmas)[0]
    # The doubt about the usable energy, the last, is none about the consumption.
    moved[:-1] *= vehicle.doubt_left
    variance = math.log(drive.band.high_km / drive.band.mid_km) ** 2 / Z_OF_P90**2
    single = [
        step(f"One standard deviation of the {doubt} moves the range by", 100 * abs(part), "%", 2)
        for doubt, part in zip(DOUBTS, moved.tolist(), strict=True)
        if part
    ]
    correlation = vehicle.drag_rolling_correlation
    together = "Together, as the root of the sum of squares"
    if correlation:
        single.append(step("Drag area and rolling resistance go together by", correlation, "", 2))
        together += ", of those two with twice their product by that"
    factor = math.exp(Z_OF_P90 * math.sqrt(variance))
    edge = drive.band.low_km if name == "range_low_km" else drive.band.high_km
    words = "Middle by the factor" if name == "range_low_km" else "Middle times the factor"
    return [
        *single,
        step(together, 100 * math.sqrt(variance), "%", 2),
        step(f"Factor: e to the power of {Z_OF_P90:.4f} times that", factor, "", 4),
        step(words, edge, "km"),
    ]


def _driven(drive: _Drive) -> list[DerivationStep]:
    """Tell what comes of the trip as driven, where the power does not suffice for it."""
    driven = drive_trip(drive.vehicle, drive.trip)
    if driven.seconds_behind <= 0:
        return []
    per_km = driven.cell_j / _JOULES_PER_WH / (driven.distance_m / 1000)
    per_km *= drive.vehicle.consumption_factor
    return [
        step("As driven, slower than asked for", driven.seconds_behind, "s", 0),
        step("At most slower by", driven.greatest_lag_m_s * KM_H_PER_M_S, "km/h"),
        step("Consumption as driven", per_km, "Wh/km"),
        step("Middle of the range as driven", drive.vehicle.usable_energy_wh / per_km, "km"),
    ]
