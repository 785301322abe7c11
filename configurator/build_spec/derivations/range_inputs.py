"""What the range is computed from, each uncertain input with its doubt and where it comes from."""

from __future__ import annotations

from configurator.build_spec.derivations.measured_input import as_measured
from configurator.build_spec.derivations.worked import (
    Question,
    by_practice,
    of_component,
    of_uncertain,
)
from configurator.build_spec.drive_state import Parts
from configurator.build_spec.driving_inputs import rolling_of
from configurator.build_spec.stated_input import StatedInput
from configurator.catalog.guesses import guess_sentence
from configurator.catalog.models.build import Donor
from configurator.catalog.models.component import Component, Motor, Pack, Tyre
from configurator.catalog.models.data import Basis, UncertainValue
from configurator.catalog.models.vehicle import Vehicle
from configurator.catalog.models.workshop import DrivingCase
from configurator.physics.range_band import DOUBTS
from configurator.physics.road_vehicle import RoadVehicle


def range_inputs(
    question: Question, case: DrivingCase, vehicle: RoadVehicle
) -> tuple[StatedInput, ...]:
    """State the inputs of a range: those in doubt first, then the conditions."""
    parts, stated = question.parts, question.vehicle
    pack = parts.get("pack", Pack)
    return (
        *inputs_in_doubt(parts, stated, vehicle, question.build.donor).values(),
        *(() if pack is None else (_resistance(pack, vehicle),)),
        *_measured(vehicle),
        *_conditions(case),
    )


def inputs_in_doubt(
    parts: Parts, stated: Vehicle, vehicle: RoadVehicle, donor: Donor
) -> dict[str, StatedInput]:
    """State the inputs that a range band doubts, as they count on the trip.

    Parameters
    ----------
    parts : Parts
        What is fitted.
    stated : Vehicle
        As the catalog has it, or as it was measured.
    vehicle : RoadVehicle
        What the energy model was told.
    donor : Donor
        Says whether it was weighed.

    Returns
    -------
    dict
        Doubt, as in `range_band.DOUBTS` → the input; empty where a part is missing to drive.
    """
    motor, tyre, pack = parts.get("motor", Motor), parts.get("tyre", Tyre), parts.get("pack", Pack)
    if motor is None or tyre is None or pack is None:
        return {}
    found = (
        _mass(stated, vehicle, donor),
        _valued("drag-area", "Drag area with the choices", stated.drag_area_m2,
                vehicle.drag_area_m2, "m²", sigma_percent=vehicle.drag_area_sigma_percent),
        _valued("rolling-resistance", f"{tyre.label}: rolling resistance with the choices",
                rolling_of(stated, tyre), vehicle.rolling_resistance,
                "", sigma_percent=vehicle.rolling_resistance_sigma_percent),
        _valued("drive-efficiency", "Motor, inverter and gear: efficiency", motor.efficiency,
                vehicle.drive_efficiency, "",
                sigma_percent=vehicle.drive_efficiency_sigma_percent),
        _valued("recovery", "Recovery, wheels to terminals", motor.recovery_efficiency,
                vehicle.recovery_efficiency, "",
                sigma_percent=vehicle.recovery_efficiency_sigma_percent),
        _doubted(motor, "no-load-loss", "loss of the turning drive", vehicle.no_load_loss_w,
                 "W", sigma_percent=vehicle.no_load_loss_sigma_percent),
        _valued("auxiliaries", "12 V circuits", stated.auxiliary_power_w,
                vehicle.auxiliary_power_w, "W",
                sigma_percent=vehicle.auxiliary_power_sigma_percent),
        _valued("heat-loss", "Cabin, heat loss", stated.cabin_heat_loss_w_per_k,
                vehicle.cabin_heat_loss_w_per_k, "W/K",
                sigma_percent=vehicle.cabin_heat_loss_sigma_percent),
        _usable_energy(pack, stated, vehicle),
    )  # fmt: skip
    return dict(zip(DOUBTS, found, strict=True))


def _mass(stated: Vehicle, vehicle: RoadVehicle, donor: Donor) -> StatedInput:
    basis: Basis = "catalog"
    if stated.measured_road_load.weighed_sigma_kg is not None:
        basis = "measured"
        source = "measured: the finished vehicle, empty; what is carried as agreed"
    elif donor.axles_were_weighed:
        source = "computed by the ledger of masses; measured: the donor as it came"
    else:
        source = "computed by the ledger of masses"
    found = by_practice("mass", "Mass on the trip", vehicle.mass_kg, "kg", source)
    return found.model_copy(update={"sigma": vehicle.mass_sigma_kg, "basis": basis})


def _usable_energy(pack: Pack, stated: Vehicle, vehicle: RoadVehicle) -> StatedInput:
    found = _doubted(
        pack,
        "usable-energy",
        "usable energy here",
        vehicle.usable_energy_wh / 1000,
        "kWh",
        sigma_percent=vehicle.usable_energy_sigma_percent,
    )
    return as_measured(found, stated.measured_capacity_kwh)


def _resistance(pack: Pack, vehicle: RoadVehicle) -> StatedInput:
    found = of_component(pack, "resistance", "resistance here", vehicle.resistance_ohm, "Ω")
    if "resistance_ohm" not in pack.guessed:
        return found
    source = guess_sentence("resistance_ohm", pack.guessed["resistance_ohm"])
    return found.model_copy(update={"basis": "guessed", "source": source})


def _valued(
    name: str, label: str, stated: UncertainValue, value: float, unit: str, *, sigma_percent: float
) -> StatedInput:
    """State an input that the choices or other parts change, with the doubt that counts."""
    found = of_uncertain(name, label, stated, unit)
    return found.model_copy(update={"value": value, "sigma": value * sigma_percent / 100})


def _doubted(
    part: Component, name: str, label: str, value: float, unit: str, *, sigma_percent: float
) -> StatedInput:
    return of_component(part, name, label, value, unit, sigma=value * sigma_percent / 100)


def _measured(vehicle: RoadVehicle) -> tuple[StatedInput, ...]:
    """State what measured trips say; nothing where none was measured."""
    if vehicle.consumption_factor == 1 and vehicle.doubt_left == 1:
        return ()
    source = "trips measured on this vehicle"
    told = (
        by_practice(
            "measured-trips", "Measured trips took, by what was computed",
            vehicle.consumption_factor, "", source,
        ),
        by_practice(
            "doubt-left", "Share of the doubt about the consumption that they leave",
            vehicle.doubt_left, "", source,
        ),
    )  # fmt: skip
    return tuple(stated.model_copy(update={"basis": "measured"}) for stated in told)


def _conditions(case: DrivingCase) -> tuple[StatedInput, ...]:
    agreed = "the driving case of the catalog"
    found = [
        by_practice("outside", "Outside", case.temperature_c, "°C", agreed),
        by_practice("cabin", "Inside, as wished", case.cabin_c, "°C", agreed),
    ]
    if case.steady_km_h is not None:
        found.append(by_practice("speed", "Steady speed", case.steady_km_h, "km/h", agreed))
    return tuple(found)
