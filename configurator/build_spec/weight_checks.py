"""The weights of a complete build against the catalog's limits, judged with their doubt."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.facts import Extent
from configurator.build_spec.limit_forms import LimitForms, within
from configurator.build_spec.loadings import Stage
from configurator.build_spec.ratio_facts import BRAKING_G
from configurator.build_spec.sentences import source_words
from configurator.build_spec.spec import Axle
from configurator.build_spec.sums import DRIVER_KG
from configurator.build_spec.weights_result import WeightCheck, WeightVerdict
from configurator.catalog.models.rule import FactName
from configurator.physics.centre_of_gravity import rear_braking_share_percent, rollover_threshold_g

WITHIN_SIGMAS = 2.0
"""A limit nearer than this many standard deviations may be exceeded; about one in forty is."""

CERTAIN: frozenset[FactName] = frozenset(
    {"roof_load_kg", "nose_weight_kg", "tyre_speed_margin_km_h"}
)
"""Facts about weights and tyres that rest on agreements and marks alone."""


def weight_checks(
    compiled: Compiled,
    stages: Sequence[Stage],
    extents: Mapping[tuple[FactName, str | None], Extent],
    front: Axle,
    rear: Axle,
) -> tuple[WeightCheck, ...]:
    """Hold the weights of a complete build against each limit about them.

    Parameters
    ----------
    compiled : Compiled
        With the limits that apply to the vehicle.
    stages : sequence of Stage
        From the donor over kerb and driver to fully laden.
    extents : mapping
        The facts of the build; a weighed vehicle's replace those that it moves.
    front, rear : Axle
        The axles with their limits.

    Returns
    -------
    tuple of WeightCheck
        In the order of the catalog; a limit may be exceeded where it lies within two sigma.
    """
    told = _told(compiled, stages, front, rear)
    is_weighed = stages[1].is_weighed
    checks = []
    for forms in compiled.limits:
        name = forms.limit.limit
        extent = extents.get((name, None))
        if name in told:
            value, sigma = told[name]
            # What nobody weighed is the fact itself, to the last digit.
            exact = value if is_weighed or extent is None else extent.low
            checks.append(_check(forms, exact, sigma, is_weighed=is_weighed))
        elif name in CERTAIN and extent is not None:
            checks.append(_check(forms, extent.low, None, is_weighed=False))
    return tuple(checks)


def _told(
    compiled: Compiled, stages: Sequence[Stage], front: Axle, rear: Axle
) -> dict[FactName, tuple[float, float]]:
    """Compute facts from the stages, each with its standard deviation."""
    vehicle, masses = compiled.offer.vehicle, compiled.book.masses
    kerb, driver, laden = stages[1], stages[2], stages[-1]
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
        "front_axle_margin_kg": (front.limit_high_kg - laden.stands.front_kg, laden.doubt.front_kg),
        "rear_axle_margin_kg": (rear.limit_high_kg - laden.stands.rear_kg, laden.doubt.rear_kg),
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
    forms: LimitForms, value: float, sigma: float | None, *, is_weighed: bool
) -> WeightCheck:
    limit = forms.limit
    return WeightCheck(
        limit_id=limit.id,
        label=limit.label,
        fact=limit.limit,
        value=round(value, 4),
        sigma=None if sigma is None else round(sigma, 4),
        bound=forms.bound,
        bound_is="at most" if limit.at_most is not None else "at least",
        verdict=_verdict(forms, value, sigma),
        severity=limit.severity,
        is_weighed=is_weighed,
        because=limit.because,
        source=source_words(limit.source),
    )


def _verdict(forms: LimitForms, value: float, sigma: float | None) -> WeightVerdict:
    if not within(forms.limit, value, forms.bound):
        return "beyond"
    if sigma is not None and abs(value - forms.bound) < WITHIN_SIGMAS * sigma:
        return "may be beyond"
    return "kept"
