"""The stages of loading of a complete build: donor, kerb, driver, people, load, roof, trailer."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.sentences import in_a_sentence, listed
from configurator.build_spec.sums import (
    donor_axles_kg,
    donor_height_m,
    donor_height_sigma_m,
    donor_left_share,
    driver_item,
)
from configurator.build_spec.weight_doubt import (
    PART_SIGMA_PERCENT,
    PLACE_SIGMA_M,
    WEIGHBRIDGE_SIGMA_KG,
    Doubt,
    SharedDoubt,
    SureMass,
    doubt_of,
    side_sigma_percent,
)
from configurator.build_spec.weights_result import Loading, LoadingStage
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.group import Option
from configurator.catalog.models.vehicle import CarriedKind, PlacedItem, Vehicle
from configurator.physics.centre_of_gravity import MassAt, Stance, stance

AxleName = Literal["front", "rear"]

CARRIED_STAGES: tuple[tuple[CarriedKind, LoadingStage, str], ...] = (
    ("people", "people", "With people on the seats"),
    ("load", "load", "With load"),
    ("roof-load", "roof-load", "With load on the roof"),
    ("nose-weight", "nose-weight", "With a trailer's nose weight"),
)


@dataclass(frozen=True)
class Stage:
    """A stage of loading with all figures and their doubt."""

    stage: LoadingStage
    label: str
    stands: Stance
    doubt: Doubt
    is_weighed: bool
    """It stood on a weighbridge like this."""
    rests_on_weighed: bool = False
    """It is computed from axles that did."""

    def as_loading(self) -> Loading:
        """Write it for the spec."""
        stands, doubt = self.stands, self.doubt
        return Loading(
            stage=self.stage,
            label=self.label,
            mass_kg=round(stands.mass_kg, 3),
            mass_sigma_kg=round(doubt.mass_kg, 3),
            front_kg=round(stands.front_kg, 3),
            front_sigma_kg=round(doubt.front_kg, 3),
            rear_kg=round(stands.rear_kg, 3),
            rear_sigma_kg=round(doubt.rear_kg, 3),
            left_kg=round(stands.left_kg, 3),
            right_kg=round(stands.right_kg, 3),
            side_sigma_kg=round(doubt.side_kg, 3),
            x_m=round(stands.x_m, 4),
            y_m=round(stands.y_m, 4),
            height_m=round(stands.height_m, 4),
            height_sigma_m=round(doubt.height_m, 4),
            is_weighed=self.is_weighed,
            rests_on_weighed=self.rests_on_weighed,
        )


def stages_of(compiled: Compiled, choices: Mapping[str, str], build: BuildInput) -> list[Stage]:
    """Load a build step by step; each stage holds all before it, and none that adds nothing.

    Parameters
    ----------
    compiled : Compiled
        The build made ready.
    choices : mapping
        Complete choices.
    build : BuildInput
        With what was weighed: the donor, and the finished vehicle, whose axles then replace what
        is computed.

    Returns
    -------
    list of Stage
        The donor as it came first, then the vehicle from kerb to fully laden.
    """
    vehicle = compiled.offer.vehicle
    base = _base(compiled, choices, build)
    came, shared = "Donor as it came", base.shared
    is_weighed = build.donor.axles_were_weighed
    found = [_stage(vehicle, "donor", came, base.donor, shared, weighed=is_weighed)]
    ready = "Kerb: ready to drive, empty"
    found.append(_stage(vehicle, "kerb", ready, base.kerb, shared, weighed=base.is_weighed))
    loaded = [*base.kerb, _carried(vehicle, driver_item(vehicle))]
    stages = [found[1], _stage(vehicle, "driver", "With the driver", loaded, shared)]
    for kind, stage, label in CARRIED_STAGES:
        more = [_carried(vehicle, item) for item in base.carried if item.kind == kind]
        if more:
            loaded = [*loaded, *more]
            stages.append(_stage(vehicle, stage, label, loaded, shared))
    computed = (replace(stage, rests_on_weighed=base.is_weighed) for stage in stages[1:])
    return [*found, *computed]


def heaviest_on(
    compiled: Compiled,
    choices: Mapping[str, str],
    build: BuildInput,
    axle: AxleName,
) -> Stage:
    """Load a build with all that presses one axle down.

    What lies beyond the other axle, as the weight of a trailer on the tow ball, lifts this one: the
    axle carries most while it is not there.

    Parameters
    ----------
    compiled, choices, build
        As for `stages_of`.
    axle : {"front", "rear"}
        The axle.

    Returns
    -------
    Stage
        Its label says in a few words when the axle is loaded so.
    """
    vehicle = compiled.offer.vehicle
    base = _base(compiled, choices, build)
    pressing = [item for item in base.carried if not _lifts(vehicle, item, axle)]
    away = [item for item in base.carried if _lifts(vehicle, item, axle)]
    aboard = (driver_item(vehicle), *pressing)
    loaded = [*base.kerb, *(_carried(vehicle, item) for item in aboard)]
    found = _stage(vehicle, "load", _when(away), loaded, base.shared)
    return replace(found, rests_on_weighed=base.is_weighed)


def carried_items(compiled: Compiled, choices: Mapping[str, str]) -> tuple[PlacedItem, ...]:
    """List what the laden vehicle carries besides its driver."""
    options = compiled.offer.options_of(choices)
    return (
        *compiled.offer.vehicle.carries,
        *(item for option in options for item in option.carries),
    )


def _lifts(vehicle: Vehicle, item: PlacedItem, axle: AxleName) -> bool:
    x_m = vehicle.places[item.place].x_m
    return x_m > vehicle.wheelbase_m if axle == "front" else x_m < 0


def _when(away: Sequence[PlacedItem]) -> str:
    if not away:
        return "fully laden"
    if all(item.kind == "nose-weight" for item in away):
        return "laden, no trailer hitched"
    return f"laden, without {listed([in_a_sentence(item.what) for item in away])}"


@dataclass(frozen=True)
class _Base:
    """What every stage of loading starts from."""

    donor: list[SureMass]
    kerb: list[SureMass]
    is_weighed: bool
    """The finished vehicle stood on a weighbridge."""
    shared: SharedDoubt
    carried: tuple[PlacedItem, ...]


def _base(compiled: Compiled, choices: Mapping[str, str], build: BuildInput) -> _Base:
    vehicle = compiled.offer.vehicle
    parts = [_part(vehicle, item, sign) for sign, item in _changes(compiled, choices)]
    donor = _donor(vehicle, build, sum(part.sigma_kg**2 for part in parts))
    kerb = [*donor, *parts]
    weighed = _as_weighed(vehicle, build, kerb)
    return _Base(
        donor=donor,
        kerb=kerb if weighed is None else weighed,
        is_weighed=weighed is not None,
        shared=_shared(vehicle, build, donor),
        carried=carried_items(compiled, choices),
    )


def _stage(
    vehicle: Vehicle,
    stage: LoadingStage,
    label: str,
    items: Sequence[SureMass],
    shared: SharedDoubt,
    *,
    weighed: bool = False,
) -> Stage:
    stands = stance([item.at for item in items], vehicle.wheelbase_m, vehicle.track_m)
    doubt = doubt_of(items, shared, stands, vehicle.wheelbase_m, vehicle.track_m)
    return Stage(stage, label, stands, doubt, weighed)


def _changes(compiled: Compiled, choices: Mapping[str, str]) -> list[tuple[int, PlacedItem]]:
    sources: tuple[Vehicle | Option, ...] = (
        compiled.offer.vehicle,
        *compiled.offer.options_of(choices),
    )
    return [
        (sign, item)
        for source in sources
        for sign, items in ((-1, source.takes_out), (1, source.puts_in))
        for item in items
    ]


def _at(vehicle: Vehicle, item: PlacedItem, sign: int) -> MassAt:
    place = vehicle.places[item.place]
    return MassAt(sign * item.mass_kg, place.x_m, place.y_m, place.z_m)


def _part(vehicle: Vehicle, item: PlacedItem, sign: int) -> SureMass:
    sigma_kg = item.mass_kg * PART_SIGMA_PERCENT / 100
    return SureMass(_at(vehicle, item, sign), sigma_kg, PLACE_SIGMA_M)


def _carried(vehicle: Vehicle, item: PlacedItem) -> SureMass:
    """Load what is agreed to be carried; nobody doubts an agreement."""
    return SureMass(_at(vehicle, item, 1))


def _donor(vehicle: Vehicle, build: BuildInput, parts_variance: float) -> list[SureMass]:
    """Place the donor over its axles.

    With the parts its doubt makes that of the vehicle's kerb mass, which is stated; it is never
    surer than a weighbridge.
    """
    front_kg, rear_kg = donor_axles_kg(vehicle, build)
    y_m = vehicle.track_m * (0.5 - float(donor_left_share(build)))
    left_over = max(vehicle.mass_sigma_kg**2 - parts_variance, 2 * WEIGHBRIDGE_SIGMA_KG**2)
    each_kg = math.sqrt(left_over / 2)
    height_m = donor_height_m(vehicle)
    return [
        SureMass(MassAt(front_kg, 0.0, y_m, height_m), each_kg, is_donor=True),
        SureMass(MassAt(rear_kg, vehicle.wheelbase_m, y_m, height_m), each_kg, is_donor=True),
    ]


def _shared(vehicle: Vehicle, build: BuildInput, donor: Sequence[SureMass]) -> SharedDoubt:
    stands = stance([item.at for item in donor], vehicle.wheelbase_m, vehicle.track_m)
    return SharedDoubt(
        stands,
        donor_height_sigma_m(vehicle),
        side_sigma_percent(stands.mass_kg, was_weighed=build.donor.sides_were_weighed),
    )


def _as_weighed(
    vehicle: Vehicle, build: BuildInput, kerb: Sequence[SureMass]
) -> list[SureMass] | None:
    """Put the weighed axles in place of what is computed; the centre keeps its height and side."""
    built = build.as_built
    if built is None or built.front_axle_kg is None or built.rear_axle_kg is None:
        return None
    computed = stance([item.at for item in kerb], vehicle.wheelbase_m, vehicle.track_m)
    # To the millimetre, as the exact sums have it.
    y_m, height_m = round(computed.y_m, 3), round(computed.height_m, 3)
    axles = ((built.front_axle_kg, 0.0), (built.rear_axle_kg, vehicle.wheelbase_m))
    return [
        SureMass(MassAt(mass_kg, x_m, y_m, height_m), WEIGHBRIDGE_SIGMA_KG)
        for mass_kg, x_m in axles
    ]
