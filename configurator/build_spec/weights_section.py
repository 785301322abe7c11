"""The weights part of the Spec: axles with their limits, and the ledger of what goes in and out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Literal

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.drive_state import Parts
from configurator.build_spec.extremes import NOTHING, Asking
from configurator.build_spec.facts import Extent
from configurator.build_spec.loadings import AxleName, Stage, carried_items, heaviest_on, stages_of
from configurator.build_spec.settle import Settled
from configurator.build_spec.spec import Axle, LedgerLine, Weights
from configurator.build_spec.sum_facts import least_axle_limit
from configurator.build_spec.sums import driver_item
from configurator.build_spec.weight_carrying import carrying_of
from configurator.build_spec.weight_checks import Weighed, weight_checks
from configurator.build_spec.weights_result import Heaviest
from configurator.catalog.models.build import AsBuilt, BuildInput
from configurator.catalog.models.component import Tyre, Wheel
from configurator.catalog.models.rule import FactName
from configurator.catalog.models.vehicle import PlacedItem, Vehicle
from configurator.physics.tyre import tyre_load_kg, tyre_speed_km_h

Extents = Mapping[tuple[FactName, str | None], Extent]


def weights_section(
    compiled: Compiled,
    settled: Settled,
    build: BuildInput,
    extents: Extents,
    asking: Asking,
    *,
    computed: Extents,
) -> Weights:
    """Lay out masses and axle loads [kg] with their limits.

    Parameters
    ----------
    compiled, settled, build, asking
        The build as it stands.
    extents : mapping
        The facts, from the weighed axles once the finished vehicle stood on a weighbridge.
    computed : mapping
        The facts from the donor and the ledger alone; they stand beside what was weighed.
    """
    vehicle = compiled.offer.vehicle
    donor_share = 100 * float(compiled.book.masses.donor_rear_share)
    kerb, laden = computed["kerb_mass_kg", None], extents["laden_mass_kg", None]
    change = extents["rear_share_change_points", None]
    complete = len(settled.choices) == len(compiled.offer.groups)
    # While choices are open the house's others stand in; how sure a mass is hardly depends on them.
    choices = {**compiled.offer.house_choices(), **settled.choices}
    stages = stages_of(compiled, choices, build)
    parts = _possible_parts(compiled, settled, asking)
    kerb_doubt = stages[1].doubt
    front = _axle(compiled, build.as_built, (computed, extents), parts, "front").model_copy(
        update={"kerb_sigma_kg": _stored(kerb_doubt.front_kg)}
    )
    rear = _axle(compiled, build.as_built, (computed, extents), parts, "rear").model_copy(
        update={"kerb_sigma_kg": _stored(kerb_doubt.rear_kg)}
    )
    measured = (
        front.measured_kg + rear.measured_kg
        if front.measured_kg is not None and rear.measured_kg is not None
        else None
    )
    tyre_km_h, geared_km_h = _speeds(parts, extents) if complete else (None, None)
    weights = Weights(
        front=front,
        rear=rear,
        kerb_low_kg=_stored(kerb.low),
        kerb_high_kg=_stored(kerb.high),
        kerb_sigma_kg=vehicle.mass_sigma_kg,
        laden_low_kg=_stored(laden.low),
        laden_high_kg=_stored(laden.high),
        gross_limit_kg=vehicle.gross_mass_limit_kg,
        rear_share_donor_percent=_stored(donor_share),
        rear_share_low_percent=_stored(donor_share + change.low),
        rear_share_high_percent=_stored(donor_share + change.high),
        measured_kerb_kg=measured,
        tyre_speed_km_h=tyre_km_h,
        geared_speed_km_h=geared_km_h,
    )
    if not complete:
        return weights
    return _of_complete(
        compiled, choices=choices, build=build, extents=extents, weights=weights, stages=stages
    )


def _of_complete(
    compiled: Compiled,
    *,
    choices: Mapping[str, str],
    build: BuildInput,
    extents: Extents,
    weights: Weights,
    stages: Sequence[Stage],
) -> Weights:
    """Add the stages of loading, each axle where it carries most, and what the limits say."""
    front, rear = (heaviest_on(compiled, choices, build, axle) for axle in ("front", "rear"))
    carrying = carrying_of(
        compiled.offer.vehicle,
        carried_items(compiled, choices),
        stages,
        weights.front,
        weights.rear,
    )
    weighed = Weighed(
        stages, front, rear, weights.front, weights.rear, carrying, weights.tyre_speed_km_h
    )
    return weights.model_copy(
        update={
            "front": weights.front.model_copy(
                update={"heaviest": _heaviest(front, front.doubt.front_kg)}
            ),
            "rear": weights.rear.model_copy(
                update={"heaviest": _heaviest(rear, rear.doubt.rear_kg)}
            ),
            "loadings": tuple(stage.as_loading() for stage in stages),
            "checks": weight_checks(compiled, weighed, extents),
            "carrying": carrying,
        }
    )


def _heaviest(stage: Stage, sigma_kg: float) -> Heaviest:
    return Heaviest(
        sigma_kg=round(sigma_kg, 4), when=stage.label, rests_on_weighed=stage.rests_on_weighed
    )


def _possible_parts(compiled: Compiled, settled: Settled, asking: Asking) -> list[Parts]:
    """List the tyres and wheels of the builds still possible, one for each combination."""
    book = compiled.book
    regions = book.slot_regions(frozenset({"tyre", "wheel"}), _left(compiled, settled))
    if settled.is_possible and len(regions) > 1:
        regions = [region for region in regions if asking.least(NOTHING, region) is not None]
    return [book.parts_in(region) for region in regions]


def _speeds(parts: Sequence[Parts], extents: Extents) -> tuple[float | None, float | None]:
    """Tell the speed of the tyres' symbol and the geared speed [km/h]."""
    tyre, margin = parts[0].get("tyre", Tyre), extents.get(("tyre_speed_margin_km_h", None))
    if tyre is None:
        return None, None
    allowed = tyre_speed_km_h(tyre.speed_symbol)
    return allowed, None if margin is None else _stored(allowed - margin.low)


def _left(compiled: Compiled, settled: Settled) -> dict[str, frozenset[str]]:
    """List what is left in each group; where the picks contradict each other, the house's choice.

    The facts are computed for the same builds.
    """
    picked = {group: frozenset({option}) for group, option in settled.choices.items()}
    if not settled.is_possible:
        house = compiled.offer.house_choices()
        return {group: frozenset({option}) for group, option in house.items()} | picked
    return {
        group: picked.get(group) or frozenset(o for o, can in options.items() if can)
        for group, options in settled.available.items()
    }


def _axle(
    compiled: Compiled,
    as_built: AsBuilt | None,
    computed_and_told: tuple[Extents, Extents],
    parts: Sequence[Parts],
    axle: AxleName,
) -> Axle:
    computed, extents = computed_and_told
    book, vehicle = compiled.book, compiled.offer.vehicle
    is_front = axle == "front"
    maker_limit = vehicle.front_axle_limit_kg if is_front else vehicle.rear_axle_limit_kg
    donor_g = book.masses.donor_front_g if is_front else book.masses.donor_rear_g
    kerb = computed["kerb_front_axle_kg" if is_front else "kerb_rear_axle_kg", None]
    laden = extents["laden_front_axle_kg" if is_front else "laden_rear_axle_kg", None]
    limits = [least_axle_limit(maker_limit, fitted) for fitted in parts]
    limit_high = max(limit.limit_kg for limit in limits)
    margin = extents.get(("front_axle_margin_kg" if is_front else "rear_axle_margin_kg", None))
    # What is left of its limit at least in every build bounds the load, where the load's own end
    # is told a hair wider.
    laden_high = laden.high if margin is None else min(laden.high, limit_high - margin.low)
    causes = {limit.limited_by for limit in limits}
    measured = None
    if as_built is not None:
        measured = as_built.front_axle_kg if is_front else as_built.rear_axle_kg
    return Axle(
        axle=axle,
        donor_kg=donor_g / 1000,
        kerb_low_kg=_stored(kerb.low),
        kerb_high_kg=_stored(kerb.high),
        laden_low_kg=_stored(laden.low),
        laden_high_kg=_stored(max(laden.low, laden_high)),
        limit_low_kg=min(limit.limit_kg for limit in limits),
        limit_high_kg=limit_high,
        limited_by=causes.pop() if len(causes) == 1 else "open",
        measured_kg=measured,
        maker_limit_kg=maker_limit,
        tyres_limit_kg=_agreed([_tyres_kg(fitted) for fitted in parts]),
        wheels_limit_kg=_agreed([_wheels_kg(fitted) for fitted in parts]),
    )


def _tyres_kg(parts: Parts) -> float | None:
    tyre = parts.get("tyre", Tyre)
    return None if tyre is None else 2 * tyre_load_kg(tyre.load_index)


def _wheels_kg(parts: Parts) -> float | None:
    wheel = parts.get("wheel", Wheel)
    return None if wheel is None else 2 * wheel.rating_kg


def _agreed(values: Sequence[float | None]) -> float | None:
    """Tell what all builds have in common; None where they differ."""
    return values[0] if len(set(values)) == 1 else None


def ledger(compiled: Compiled, settled: Settled) -> tuple[LedgerLine, ...]:
    """List what is taken out and put in, with places, then what the laden vehicle carries."""
    vehicle = compiled.offer.vehicle
    options = compiled.offer.options_of(settled.choices)
    lines = [*_lines(vehicle, vehicle.takes_out, -1, "kerb")]
    lines += _lines(vehicle, vehicle.puts_in, 1, "kerb")
    for option in options:
        lines += _lines(vehicle, option.takes_out, -1, "kerb")
        lines += _lines(vehicle, option.puts_in, 1, "kerb")
    lines += _lines(vehicle, (driver_item(vehicle), *vehicle.carries), 1, "laden")
    for option in options:
        lines += _lines(vehicle, option.carries, 1, "laden")
    return tuple(lines)


def _lines(
    vehicle: Vehicle, items: Sequence[PlacedItem], sign: int, when: Literal["kerb", "laden"]
) -> Iterator[LedgerLine]:
    for item in items:
        place = vehicle.places[item.place]
        yield LedgerLine(
            what=item.what,
            mass_kg=sign * item.mass_kg,
            place_id=item.place,
            place_label=place.label,
            x_m=place.x_m,
            y_m=place.y_m,
            z_m=place.z_m,
            emblem=item.emblem,
            when=when,
            kind=item.kind,
        )


def _stored(value: float) -> float:
    return round(value, 3)
