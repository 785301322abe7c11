"""What is computed for a build, by the names that a record's bounds may use."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from configurator.build_spec.electrical_check import ElectricalCheck
from configurator.build_spec.spec import Axle, Spec
from configurator.catalog.models.as_built import ComputedName
from configurator.catalog.models.component import Pack, Tyre
from configurator.catalog.models.main_circuit import MainFuse


def computed_value(spec: Spec, name: ComputedName) -> float | None:
    """Give what a measured value is held against; None where it is not computed for this build.

    Parameters
    ----------
    spec : Spec
        The issued spec, or the one with measured values: both give what was computed.
    name : ComputedName
        In the unit that its name ends with.
    """
    return _VALUES[name](spec)


def _check(spec: Spec, check_id: str) -> ElectricalCheck | None:
    return next((check for check in spec.electrical if check.id == check_id), None)


def _bound_of(check_id: str) -> Callable[[Spec], float | None]:
    def bound(spec: Spec) -> float | None:
        check = _check(spec, check_id)
        return None if check is None else check.bound

    return bound


def _value_of(check_id: str) -> Callable[[Spec], float | None]:
    def value(spec: Spec) -> float | None:
        check = _check(spec, check_id)
        return None if check is None else check.value

    return value


def _pack(spec: Spec) -> Pack | None:
    pack = spec.component("pack")
    return pack if isinstance(pack, Pack) else None


def _capacity_kwh(spec: Spec) -> float | None:
    pack = _pack(spec)
    return None if pack is None else pack.capacity_kwh


def _full_v(spec: Spec) -> float | None:
    pack = _pack(spec)
    return None if pack is None else pack.full_voltage_v


def _overnight_pilot_percent(spec: Spec) -> float | None:
    wanted = spec.workshop.overnight_source
    return next(
        (line.pilot_duty_percent for line in spec.charging if line.source_id == wanted), None
    )


def _kerb_kg(axle: Axle, sigmas: int) -> float:
    """Give an empty axle as computed, so many standard deviations away, to the kilogram."""
    return round(axle.kerb_low_kg + sigmas * (axle.kerb_sigma_kg or 0))


def _fuse_a(spec: Spec) -> float | None:
    fuse = spec.component("main_fuse")
    return fuse.rated_current_a if isinstance(fuse, MainFuse) else None


def _load_index(spec: Spec) -> float | None:
    tyre = spec.component("tyre")
    return tyre.load_index if isinstance(tyre, Tyre) else None


_VALUES: Mapping[ComputedName, Callable[[Spec], float | None]] = MappingProxyType(
    {
        "kerb-front-axle-kg": lambda spec: round(spec.weights.front.kerb_low_kg),
        "kerb-front-axle-least-kg": lambda spec: _kerb_kg(spec.weights.front, -2),
        "kerb-front-axle-most-kg": lambda spec: _kerb_kg(spec.weights.front, 2),
        "kerb-rear-axle-kg": lambda spec: round(spec.weights.rear.kerb_low_kg),
        "kerb-rear-axle-least-kg": lambda spec: _kerb_kg(spec.weights.rear, -2),
        "kerb-rear-axle-most-kg": lambda spec: _kerb_kg(spec.weights.rear, 2),
        "front-axle-limit-kg": lambda spec: spec.weights.front.limit_low_kg,
        "rear-axle-limit-kg": lambda spec: spec.weights.rear.limit_low_kg,
        "pack-capacity-kwh": _capacity_kwh,
        "full-voltage-v": _full_v,
        "isolation-kohm": _bound_of("isolation-joined"),
        "inlet-isolation-kohm": _bound_of("isolation-inlet"),
        "bonding-ohm": _bound_of("bonding"),
        "pre-charge-seconds": _value_of("pre-charge-time"),
        "pre-charge-within-seconds": _bound_of("pre-charge-time"),
        "bleed-seconds": _value_of("bleed-time"),
        "bleed-within-seconds": _bound_of("bleed-time"),
        "overnight-pilot-percent": _overnight_pilot_percent,
        "main-fuse-a": _fuse_a,
        "tyre-load-index": _load_index,
    }
)
