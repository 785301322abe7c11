"""How masses, axle loads and margins came about: a ledger with levers."""

from __future__ import annotations

from collections.abc import Sequence

from configurator.build_spec.derivations.ledger import (
    Lever,
    WeighedLine,
    kerb_lines,
    laden_lines,
    line_steps,
    mass_inputs,
)
from configurator.build_spec.derivations.worked import (
    FIRST_PRINCIPLES,
    Question,
    Worked,
    by_practice,
    of_component,
    of_vehicle,
    step,
)
from configurator.build_spec.sentences import listed
from configurator.build_spec.stated_input import StatedInput
from configurator.build_spec.sum_facts import least_axle_limit
from configurator.build_spec.sums import DRIVER_KG
from configurator.catalog.models.component import Tyre, Wheel
from configurator.catalog.models.rule import FactName
from configurator.physics.tyre import tyre_load_kg
from configurator.units import millimetres

STATICS = "static equilibrium: moments about the other axle"
WEIGH_LADEN = "Weigh each axle with the vehicle loaded so"
WEIGH = ("Weigh the donor on each axle", "Weigh the finished vehicle on each axle")


def derive_masses(question: Question, name: FactName) -> Worked | None:
    """Work out a mass, an axle load, a margin of an axle or the payload."""
    if name in {"kerb_mass_kg", "laden_mass_kg"}:
        return _mass(question, laden=name == "laden_mass_kg")
    if name.endswith("_axle_kg"):
        return _axle(question, laden=name.startswith("laden"), front="front" in name)
    if name.endswith("_axle_margin_kg"):
        return _margin(question, front=name.startswith("front"))
    return _payload(question) if name == "payload_kg" else None


def _lines(question: Question, *, laden: bool) -> Sequence[WeighedLine]:
    return laden_lines(question) if laden else kerb_lines(question)


def _one(_: object) -> float:
    return 1.0


def _lever(question: Question, *, front: bool) -> Lever:
    wheelbase_mm = millimetres(question.vehicle.wheelbase_m)
    return lambda mass: (wheelbase_mm - mass.x_mm if front else mass.x_mm) / wheelbase_mm


def _narrowed(question: Question) -> tuple[str, ...]:
    return (WEIGH_LADEN,) if question.weighed else WEIGH


def _mass(question: Question, *, laden: bool) -> Worked:
    masses = question.book.masses
    total_g = (masses.laden_g if laden else masses.kerb_g).of(question.choices)
    carried = ", with driver, people and load" if laden else ""
    start = "the donor, less what goes out, plus what goes in"
    if question.weighed:
        start = "both axles of the finished vehicle, as weighed"
    return Worked(
        f"{start}{carried}",
        "a plain sum",
        mass_inputs(question)[:3],
        (
            *line_steps(_lines(question, laden=laden), _one, 1000, "kg"),
            step("Sum", total_g / 1000, "kg"),
        ),
        narrowed_by=() if question.weighed and not laden else _narrowed(question),
    )


def _axle(question: Question, *, laden: bool, front: bool) -> Worked:
    far = "rear" if front else "front"
    lever = _lever(question, front=front)
    lines, lifted = _lines(question, laden=laden), ""
    if laden:
        # What is carried may stay away; the axle carries most without what would lift it.
        kerb = len(kerb_lines(question))
        away = [line for line in lines[kerb:] if line.by(lever) < 0]
        lines = [line for line in lines if line not in away]
        names = listed([line.words.removeprefix("Carried: ") for line in away])
        lifted = f"; left out, because it would lift this axle: {names}" if away else ""
    return Worked(
        f"each mass times its distance from the {far} axle, by the wheelbase; the lines are what "
        f"each mass brings onto this axle{lifted}",
        STATICS,
        mass_inputs(question),
        (
            *line_steps(lines, lever, 1000, "kg"),
            step("Sum on this axle", _on_axle_kg(question, laden=laden, front=front), "kg"),
        ),
        narrowed_by=() if question.weighed and not laden else _narrowed(question),
    )


def _on_axle_kg(question: Question, *, laden: bool, front: bool) -> float:
    masses = question.book.masses
    kerb = masses.kerb_front_moment if front else masses.kerb_rear_moment
    full = masses.heaviest_front_moment if front else masses.heaviest_rear_moment
    return (full if laden else kerb).of(question.choices) / (1000 * masses.wheelbase_mm)


def _margin(question: Question, *, front: bool) -> Worked:
    vehicle, parts = question.vehicle, question.parts
    axle = "Front axle" if front else "Rear axle"
    maker_kg = vehicle.front_axle_limit_kg if front else vehicle.rear_axle_limit_kg
    least = least_axle_limit(maker_kg, parts)
    load_kg = _on_axle_kg(question, laden=True, front=front)
    inputs: list[StatedInput] = [of_vehicle(vehicle, "axle-limit", f"{axle} limit", maker_kg, "kg")]
    limits = [step("Limit of the axle itself", maker_kg, "kg", 0)]
    if (tyre := parts.get("tyre", Tyre)) is not None:
        each_kg = tyre_load_kg(tyre.load_index)
        label = f"load index {tyre.load_index}, each"
        inputs.append(of_component(tyre, "tyre-load", label, each_kg, "kg"))
        limits.append(step("Its two tyres", 2 * each_kg, "kg", 0))
    if (wheel := parts.get("wheel", Wheel)) is not None:
        inputs.append(of_component(wheel, "wheel-rating", "rating, each", wheel.rating_kg, "kg"))
        limits.append(step("Its two wheels", 2 * wheel.rating_kg, "kg", 0))
    return Worked(
        "the least of axle, two tyres and two wheels, less the laden load of the axle",
        f"load index: ETRTO and ISO 4000-1; {STATICS}",
        (*inputs, *mass_inputs(question)),
        (
            *limits,
            step(f"The least, set by the {least.limited_by}", least.limit_kg, "kg", 0),
            step("Laden load of the axle, worked out as its own figure", load_kg, "kg"),
            step("The least, less the load", least.limit_kg - load_kg, "kg"),
        ),
        narrowed_by=_narrowed(question),
    )


def _payload(question: Question) -> Worked:
    limit_kg = question.vehicle.gross_mass_limit_kg
    kerb_kg = question.book.masses.kerb_g.of(question.choices) / 1000
    driver = by_practice(
        "driver", "Driver", DRIVER_KG, "kg",
        "mass in running order, Regulation (EU) 2021/535; from memory",
    )  # fmt: skip
    gross = of_vehicle(question.vehicle, "gross-limit", "Gross mass limit", limit_kg, "kg")
    return Worked(
        "the gross mass limit, less driver and kerb mass",
        FIRST_PRINCIPLES,
        (gross, driver, *mass_inputs(question)[:3]),
        (
            step("Gross mass limit", limit_kg, "kg"),
            step("Less the driver", -DRIVER_KG, "kg"),
            step("Less the kerb mass, worked out as its own figure", -kerb_kg, "kg"),
            step("Left to carry", limit_kg - DRIVER_KG - kerb_kg, "kg"),
        ),
        narrowed_by=_narrowed(question),
    )
