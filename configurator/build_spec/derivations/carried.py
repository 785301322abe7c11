"""How roof load, nose weight, seats and the margin of the 12 V supply came about."""

from __future__ import annotations

from configurator.build_spec.derivation import DerivationStep
from configurator.build_spec.derivations.worked import (
    Question,
    Worked,
    of_component,
    of_vehicle,
    step,
)
from configurator.catalog.models.component import Converter
from configurator.catalog.models.rule import FactName
from configurator.catalog.models.vehicle import CarriedKind

_KINDS: dict[FactName, CarriedKind] = {
    "roof_load_kg": "roof-load",
    "nose_weight_kg": "nose-weight",
}


def derive_carried(question: Question, name: FactName) -> Worked | None:
    """Work out what is carried of a kind, the seats, or the margin of the 12 V supply."""
    if name in _KINDS:
        return _carried(question, name)
    if name == "seats":
        return _seats(question)
    return _low_voltage(question) if name == "low_voltage_margin_w" else None


def _carried(question: Question, name: FactName) -> Worked:
    vehicle, kind = question.vehicle, _KINDS[name]
    items = [*vehicle.puts_in, *vehicle.carries]
    for option in question.options:
        items += [*option.puts_in, *option.carries]
    steps = [step(item.what, item.mass_kg, "kg") for item in items if item.kind == kind]
    total_kg = sum(found.value for found in steps)
    return Worked(
        "what is fitted and carried there, together",
        "a plain sum of what was agreed",
        (of_vehicle(vehicle, "stated", "Places and masses as the catalog has them", 0.0, "kg"),),
        (*steps, step("Together", total_kg, "kg")),
        narrowed_by=("Weigh what will be carried",),
    )


def _seats(question: Question) -> Worked:
    seats = [step(option.label, option.seats, "", 0) for option in question.options if option.seats]
    total = 1 + sum(found.value for found in seats)
    return Worked(
        "the driver's seat and those that the choices bring",
        "a plain count",
        (),
        (step("Driver's seat", 1, "", 0), *seats, step("Together", total, "", 0)),
    )


def _low_voltage(question: Question) -> Worked | None:
    converter = question.parts.get("converter", Converter)
    if converter is None:
        return None
    base_w = question.vehicle.base_low_voltage_load_w
    loads = [step("12 V load that every build has", base_w, "W", 0), *_loads(question)]
    total_w = sum(found.value for found in loads)
    return Worked(
        "the converter's rating, less the loads of the 12 V circuits together",
        "a plain sum; rating from the maker's data sheet",
        (
            of_component(converter, "converter-rating", "rating", converter.rating_w, "W"),
            of_vehicle(question.vehicle, "base-load", "12 V load of every build", base_w, "W"),
        ),
        (
            *loads,
            step("Loads together", total_w, "W", 0),
            step("Rating of the converter", converter.rating_w, "W", 0),
            step("Rating, less the loads", converter.rating_w - total_w, "W", 0),
        ),
        narrowed_by=("Measure the current of the 12 V circuits with everything switched on",),
    )


def _loads(question: Question) -> list[DerivationStep]:
    return [
        step(option.label, option.effects.low_voltage_load_w, "W", 0)
        for option in question.options
        if option.effects.low_voltage_load_w
    ]
