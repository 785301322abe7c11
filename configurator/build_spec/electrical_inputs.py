"""What the facts of the electrical set are computed from, as people may check it."""

from __future__ import annotations

from collections.abc import Iterator

from configurator.build_spec.driving_inputs import losses_of
from configurator.build_spec.electrical_set import ElectricalSet
from configurator.build_spec.sentences import source_words
from configurator.build_spec.stated_input import StatedInput
from configurator.catalog.models.component import Component, Converter, Heater
from configurator.catalog.models.data import UncertainValue


def drawing_inputs(fitted: ElectricalSet) -> Iterator[StatedInput]:
    """List what the continuous current depends on."""
    motor, pack = fitted.motor, fitted.pack
    if motor is None or pack is None:
        return
    losses = losses_of(motor)
    yield of_part(motor, "continuous-power", "Continuous power", motor.continuous_power_kw, "kW")
    yield StatedInput(
        id="drive-efficiency",
        label=f"{motor.label}, efficiency beside the other losses",
        value=losses.efficiency,
        unit="",
        sigma=losses.efficiency * motor.efficiency.sigma_percent / 100,
        basis=motor.efficiency.basis,
        source=source_words(motor.efficiency.source),
    )
    yield of_part(motor, "no-load-loss", "Loss of the turning drive", losses.no_load_w, "W")
    yield of_part(
        motor, "square-loss", "Loss by the square of the power", losses.per_w * 1e6, "W/kW²"
    )
    converter = fitted.parts.get("converter", Converter)
    if converter is None:
        yield _uncertain(
            fitted.vehicle.auxiliary_power_w, "auxiliary-power", "12 V side on average", "W"
        )
    else:
        yield of_part(converter, "converter-rating", "Rating", converter.rating_w, "W")
        yield of_part(converter, "converter-efficiency", "Efficiency", converter.efficiency, "")
    heater = fitted.parts.get("heater", Heater)
    if heater is not None:
        yield of_part(heater, "heater-power", "Greatest power taken", fitted.heater_w(), "W")
    yield of_part(pack, "empty-voltage", "Voltage when empty", pack.empty_voltage_v, "V")
    yield of_part(pack, "resistance", "Resistance when new", pack.resistance_ohm, "Ω")
    yield of_part(
        pack, "aged-resistance", "Resistance when aged, of new", pack.aged_resistance_percent, "%"
    )


def carrying_inputs(fitted: ElectricalSet) -> Iterator[StatedInput]:
    """List what the cables' strength depends on."""
    cable, ambient_c = fitted.cable, fitted.vehicle.cable_ambient_c
    if cable is None or ambient_c is None:
        return
    yield _uncertain(cable.rated_current_a, "cable-rating", f"{cable.label}, at 30 °C", "A")
    yield of_part(cable, "cable-conductor", "Warmest conductor", cable.max_conductor_c, "°C")
    yield StatedInput(
        id="cable-ambient",
        label="Warmest around the cables",
        value=ambient_c,
        unit="°C",
        source=source_words(fitted.vehicle.source),
    )


def of_part(part: Component, name: str, label: str, value: float, unit: str) -> StatedInput:
    """State a certain value of a component."""
    return StatedInput(
        id=name,
        label=f"{part.label}, {label[:1].lower()}{label[1:]}",
        value=value,
        unit=unit,
        source=source_words(part.source),
    )


def _uncertain(value: UncertainValue, name: str, label: str, unit: str) -> StatedInput:
    return StatedInput(
        id=name,
        label=label,
        value=value.value,
        unit=unit,
        sigma=value.value * value.sigma_percent / 100,
        basis=value.basis,
        source=source_words(value.source),
    )
