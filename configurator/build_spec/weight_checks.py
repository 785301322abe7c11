"""The weights of a complete build against the catalog's limits, judged with their doubt."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.fact_names import FACT_LABELS
from configurator.build_spec.facts import Extent
from configurator.build_spec.limit_forms import LimitForms
from configurator.build_spec.loadings import Stage
from configurator.build_spec.ratio_facts import BRAKING_G
from configurator.build_spec.sentences import source_words
from configurator.build_spec.spec import Axle
from configurator.build_spec.sums import DRIVER_KG
from configurator.build_spec.weights_result import Carrying, Compared, WeightCheck, WeightVerdict
from configurator.catalog.models.rule import FactName
from configurator.physics.centre_of_gravity import rear_braking_share_percent, rollover_threshold_g

WITHIN_SIGMAS = 2.0
"""A limit nearer than this many standard deviations may be exceeded; about one in forty is."""

CERTAIN: frozenset[FactName] = frozenset(
    {"roof_load_kg", "nose_weight_kg", "tyre_speed_margin_km_h"}
)
"""Facts about weights and tyres that rest on agreements and marks alone."""

BoundIs = Literal["at most", "at least"]

_TURNED: dict[BoundIs, BoundIs] = {"at most": "at least", "at least": "at most"}

_WHEN: dict[FactName, str] = {
    "laden_mass_kg": "fully laden",
    "rollover_threshold_g": "fully laden",
    "rear_braking_share_percent": "with the driver alone, where the rear axle carries least",
    "kerb_mass_kg": "empty, ready to drive",
    "rear_share_change_points": "empty, ready to drive",
    "centre_of_gravity_height_m": "empty, ready to drive",
    "left_share_percent": "empty, ready to drive",
}
"""At which loading a fact is told."""


@dataclass(frozen=True)
class Weighed:
    """The weights of a complete build, as its limits need them."""

    stages: Sequence[Stage]
    """From the donor over kerb and driver to fully laden."""
    heaviest_front: Stage
    heaviest_rear: Stage
    front: Axle
    rear: Axle
    payload: Carrying
    tyre_km_h: float | None
    """What the tyres' speed symbol allows."""


Told = tuple[float, float]
"""A value with its standard deviation."""


def weight_checks(
    compiled: Compiled,
    weighed: Weighed,
    extents: Mapping[tuple[FactName, str | None], Extent],
) -> tuple[WeightCheck, ...]:
    """Hold the weights of a complete build against each limit about them.

    Parameters
    ----------
    compiled : Compiled
        With the limits that apply to the vehicle.
    weighed : Weighed
        Stages of loading, and each axle where it carries most.
    extents : mapping
        The facts of the build, from the weighed axles once there are any.

    Returns
    -------
    tuple of WeightCheck
        In the order of the catalog; a limit may be exceeded where it lies within two sigma.
    """
    told = _told(compiled, weighed)
    is_weighed = weighed.stages[1].is_weighed
    checks = []
    for forms in compiled.limits:
        name = forms.limit.limit
        extent = extents.get((name, None))
        if name in told:
            value, sigma = told[name]
            # The fact itself, to the last digit.
            exact = value if extent is None else extent.low
            checks.append(_check(forms, exact, sigma, weighed, is_weighed=is_weighed))
        elif name in CERTAIN and extent is not None:
            checks.append(_check(forms, extent.low, None, weighed, is_weighed=False))
    return tuple(checks)


def _told(compiled: Compiled, weighed: Weighed) -> dict[FactName, Told]:
    """Compute facts from the stages, each with its standard deviation."""
    vehicle, masses = compiled.offer.vehicle, compiled.book.masses
    kerb, driver, laden = weighed.stages[1], weighed.stages[2], weighed.stages[-1]
    front, rear = weighed.heaviest_front, weighed.heaviest_rear
    height_m = laden.stands.height_m
    threshold = rollover_threshold_g(vehicle.track_m, height_m)
    braking = rear_braking_share_percent(
        driver.stands.rear_kg / driver.stands.mass_kg,
        driver.stands.height_m,
        vehicle.wheelbase_m,
        float(BRAKING_G),
    )
    lifted = float(BRAKING_G) / vehicle.wheelbase_m * driver.doubt.height_m
    mass = kerb.stands.mass_kg
    rear_share = kerb.stands.rear_kg / mass - float(masses.donor_rear_share)
    payload = vehicle.gross_mass_limit_kg - DRIVER_KG - mass
    return {
        "front_axle_margin_kg": (
            weighed.front.limit_high_kg - front.stands.front_kg,
            front.doubt.front_kg,
        ),
        "rear_axle_margin_kg": (
            weighed.rear.limit_high_kg - rear.stands.rear_kg,
            rear.doubt.rear_kg,
        ),
        "kerb_mass_kg": (mass, kerb.doubt.mass_kg),
        "laden_mass_kg": (laden.stands.mass_kg, laden.doubt.mass_kg),
        "payload_kg": (payload, kerb.doubt.mass_kg),
        "rear_share_change_points": (100 * rear_share, 100 * kerb.doubt.rear_share_change),
        "centre_of_gravity_height_m": (kerb.stands.height_m, kerb.doubt.height_m),
        "left_share_percent": (100 * kerb.stands.left_kg / mass, 100 * kerb.doubt.left_share),
        "rollover_threshold_g": (threshold, threshold * laden.doubt.height_m / height_m),
        "rear_braking_share_percent": (
            braking,
            100 * (driver.doubt.rear_share**2 + lifted**2) ** 0.5,
        ),
    }


def _check(
    forms: LimitForms,
    value: float,
    sigma: float | None,
    weighed: Weighed,
    *,
    is_weighed: bool,
) -> WeightCheck:
    limit = forms.limit
    bound_is: BoundIs = "at most" if limit.at_most is not None else "at least"
    compared = compared_with(limit.limit, (value, sigma), (forms.bound, bound_is), weighed)
    return WeightCheck(
        limit_id=limit.id,
        label=limit.label,
        fact=limit.limit,
        value=round(value, 4),
        sigma=None if sigma is None else round(sigma, 4),
        bound=forms.bound,
        bound_is=bound_is,
        verdict=_verdict(compared),
        severity=limit.severity,
        is_weighed=is_weighed,
        because=limit.because,
        source=source_words(limit.source),
        compared=compared,
    )


def _verdict(seen: Compared) -> WeightVerdict:
    room = seen.bound - seen.value if seen.bound_is == "at most" else seen.value - seen.bound
    if room < 0:
        return "beyond"
    if seen.sigma is not None and room < WITHIN_SIGMAS * seen.sigma:
        return "may be beyond"
    return "kept"


def compared_with(
    name: FactName,
    told: tuple[float, float | None],
    bound: tuple[float, BoundIs],
    weighed: Weighed,
) -> Compared:
    """Tell what people compare: of a margin the load and its limit, else the fact itself."""
    (value, sigma), (limit, bound_is) = told, bound
    label = FACT_LABELS[name]
    when = _WHEN.get(name, "")
    if name in {"front_axle_margin_kg", "rear_axle_margin_kg"}:
        is_front = name.startswith("front")
        stage = weighed.heaviest_front if is_front else weighed.heaviest_rear
        most_kg = (weighed.front if is_front else weighed.rear).limit_high_kg
        # A bound above 0 keeps so much of the axle's limit free.
        value, limit, bound_is = most_kg - value, most_kg - limit, _TURNED[bound_is]
        when = stage.label
    elif name == "payload_kg" and weighed.payload.payload_kg < value:
        value, sigma = weighed.payload.payload_kg, weighed.payload.payload_sigma_kg
        when = f"{weighed.payload.limited_by} comes first, with the load where it usually goes"
    elif name == "tyre_speed_margin_km_h" and weighed.tyre_km_h is not None:
        value, limit = weighed.tyre_km_h - value, weighed.tyre_km_h - limit
        bound_is, when = _TURNED[bound_is], "the speed that motor and gearing can reach"
    return Compared(
        value=round(value, 4),
        sigma=None if sigma is None else round(sigma, 4),
        bound=round(limit, 4),
        bound_is=bound_is,
        unit=label.unit,
        decimals=label.decimals,
        when=when,
    )
