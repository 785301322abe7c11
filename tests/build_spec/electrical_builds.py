"""The tiny catalog with cables, fuses, contactors and pre-charge, some of them too weak."""

from functools import cache
from typing import Any

from pydantic import TypeAdapter

from configurator.build_spec.compiled import Compiled
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.component import Component, Slot
from configurator.catalog.models.rule import FactName, Limit
from tests.build_spec.tiny_builds import changed, tiny_catalog

SOURCE = "invented for tests"
RATED: dict[str, Any] = {"sigma_percent": 5, "source": SOURCE}

PARTS: tuple[dict[str, Any], ...] = (
    {
        "id": "thin-cable",
        "kind": "traction_cable",
        "area_mm2": 50,
        "rated_current_a": {"value": 250, **RATED},
        "max_conductor_c": 90,
        "rated_voltage_v": 600,
    },
    {
        "id": "thick-cable",
        "kind": "traction_cable",
        "area_mm2": 120,
        "rated_current_a": {"value": 700, **RATED},
        "max_conductor_c": 90,
        "rated_voltage_v": 600,
    },
    {
        "id": "small-fuse",
        "kind": "main_fuse",
        "rated_current_a": 200,
        "rated_voltage_v": 80,
        "breaking_current_a": 2000,
    },
    {
        "id": "large-fuse",
        "kind": "main_fuse",
        "rated_current_a": 450,
        "rated_voltage_v": 500,
        "breaking_current_a": 20000,
    },
    {
        "id": "some-contactor",
        "kind": "main_contactor",
        "rated_current_a": 340,
        "peak_current_a": 600,
        "rated_voltage_v": 200,
    },
    {
        "id": "some-inlet",
        "kind": "dc_inlet",
        "max_power_kw": 50,
        "max_current_a": 150,
        "min_voltage_v": 60,
        "max_voltage_v": 84,
        "socket_label": "M",
    },
    {"id": "some-pre-charge", "kind": "pre_charge", "resistor_ohm": 50, "pulse_energy_j": 20},
)


@cache
def electrical_catalog() -> Catalog:
    """Let the cells fit the fuse, the warmth the cable; the motor has a link and a bleed."""
    tiny = tiny_catalog()
    adapter: TypeAdapter[Component] = TypeAdapter(Component)
    parts = tuple(
        adapter.validate_python(
            {"label": part["id"], "maker": "Invented Works", "source": SOURCE, **part}
        )
        for part in PARTS
    )
    components = tuple(
        part.model_copy(update={"link_capacitance_uf": 2000.0, "bleed_ohm": 4000.0})
        if part.kind == "motor"
        else part
        for part in tiny.components
    )
    vehicles = tuple(
        vehicle.model_copy(
            update={
                "cable_ambient_c": 60.0,
                "cable_run_m": 2.0,
                "fits": {
                    **vehicle.fits,
                    "main_contactor": "some-contactor",
                    "pre_charge": "some-pre-charge",
                },
            }
        )
        for vehicle in tiny.vehicles
    )
    return changed(
        _fitting(
            tiny,
            {
                "few-cells": {"main_fuse": "small-fuse"},
                "many-cells": {"main_fuse": "large-fuse"},
                "scarf": {"traction_cable": "thin-cable"},
                "hot-wire": {"traction_cable": "thick-cable"},
                "quick-plug": {"dc_inlet": "some-inlet"},
            },
        ),
        "electrical",
        components=(*components, *parts),
        vehicles=vehicles,
        limits=(),
    )


def _fitting(catalog: Catalog, fits: dict[str, dict[Slot, str]]) -> Catalog:
    groups = tuple(
        group.model_copy(
            update={
                "options": tuple(
                    option.model_copy(update={"fits": {**option.fits, **fits.get(option.id, {})}})
                    for option in group.options
                )
            }
        )
        for group in catalog.groups
    )
    return changed(catalog, "fitting", groups=groups)


def limit(name: FactName, *, at_least: float | None = None, at_most: float | None = None) -> Limit:
    return Limit(
        id=f"limit-{name.replace('_', '-')}",
        label=name,
        limit=name,
        at_least=at_least,
        at_most=at_most,
        because="A test wants it.",
        source=SOURCE,
    )


def choices_of(compiled: Compiled, **picks: str) -> dict[str, str]:
    return {**compiled.offer.house_choices(), **picks}
