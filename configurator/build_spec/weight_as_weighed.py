"""The sums of a finished vehicle once it is weighed: its axles in place of what was computed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.fact_book import FactBook
from configurator.build_spec.facts import Extent, extents_of_complete
from configurator.build_spec.sums import MassSums, PlacedMassMm, raised
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.rule import FactName
from configurator.units import grams

MOVED_BY_THE_WEIGHBRIDGE: frozenset[FactName] = frozenset(
    {
        "kerb_mass_kg",
        "kerb_front_axle_kg",
        "kerb_rear_axle_kg",
        "laden_mass_kg",
        "laden_front_axle_kg",
        "laden_rear_axle_kg",
        "front_axle_margin_kg",
        "rear_axle_margin_kg",
        "payload_kg",
        "rear_share_change_points",
        "rollover_threshold_g",
        "rear_braking_share_percent",
    }
)
"""Facts of a weighed vehicle that follow from its axles and what is carried. A weighbridge tells
neither the height nor the side of the centre of gravity; those stay as computed."""


def weighed_axles(
    compiled: Compiled, choices: Mapping[str, str], build: BuildInput
) -> tuple[PlacedMassMm, PlacedMassMm] | None:
    """Place what the weighbridge said over the axles.

    The centre of gravity keeps the height and the side that were computed; a weighbridge tells
    neither.

    Returns
    -------
    tuple of PlacedMassMm or None
        None where an axle was not weighed, or choices are open: it holds for one build alone.
    """
    built = build.as_built
    if built is None or built.front_axle_kg is None or built.rear_axle_kg is None:
        return None
    if len(choices) < len(compiled.offer.groups):
        return None
    masses = compiled.book.masses
    kerb_g = masses.kerb_g.of(choices)
    z_mm = round(masses.kerb_height_moment.of(choices) / kerb_g)
    y_mm = round((masses.track_mm - masses.kerb_left_moment.of(choices) / kerb_g) / 2)
    return (
        PlacedMassMm(grams(built.front_axle_kg), 0, y_mm, z_mm),
        PlacedMassMm(grams(built.rear_axle_kg), masses.wheelbase_mm, y_mm, z_mm),
    )


def book_as_weighed(
    compiled: Compiled, choices: Mapping[str, str], build: BuildInput
) -> FactBook | None:
    """Let the sums of complete choices start from the weighed axles; None where nobody weighed."""
    axles = weighed_axles(compiled, choices, build)
    if axles is None:
        return None
    return replace(compiled.book, masses=_moved(compiled.book.masses, choices, axles))


def extents_as_weighed(
    compiled: Compiled,
    choices: Mapping[str, str],
    build: BuildInput,
    extents: Sequence[Extent],
) -> list[Extent]:
    """Tell the facts about weights from the weighbridge, once the finished vehicle stood on it.

    Parameters
    ----------
    compiled, choices, build
        The build; open choices leave every fact as it was computed.
    extents : sequence of Extent
        As computed from the donor and the ledger.

    Returns
    -------
    list of Extent
        In the same order.
    """
    book = book_as_weighed(compiled, choices, build)
    if book is None:
        return list(extents)
    weights_alone = replace(book, drive_facts=())
    weighed = {
        extent.name: extent
        for extent in extents_of_complete(weights_alone, choices)
        if extent.name in MOVED_BY_THE_WEIGHBRIDGE
    }
    return [weighed.get(extent.name, extent) for extent in extents]


def _moved(
    masses: MassSums, choices: Mapping[str, str], axles: tuple[PlacedMassMm, PlacedMassMm]
) -> MassSums:
    """Move the constants of the sums, so that these choices weigh what the weighbridge says."""
    front, rear = axles
    weighed_g = front.mass_g + rear.mass_g
    heavier_g = weighed_g - masses.kerb_g.of(choices)
    front_moment = front.mass_g * masses.wheelbase_mm - masses.kerb_front_moment.of(choices)
    rear_moment = rear.mass_g * masses.wheelbase_mm - masses.kerb_rear_moment.of(choices)
    height_moment = weighed_g * front.z_mm - masses.kerb_height_moment.of(choices)
    left_moment = weighed_g * (masses.track_mm - 2 * front.y_mm)
    return replace(
        masses,
        kerb_g=raised(masses.kerb_g, heavier_g),
        laden_g=raised(masses.laden_g, heavier_g),
        kerb_front_moment=raised(masses.kerb_front_moment, front_moment),
        heaviest_front_moment=raised(masses.heaviest_front_moment, front_moment),
        kerb_rear_moment=raised(masses.kerb_rear_moment, rear_moment),
        heaviest_rear_moment=raised(masses.heaviest_rear_moment, rear_moment),
        kerb_height_moment=raised(masses.kerb_height_moment, height_moment),
        laden_height_moment=raised(masses.laden_height_moment, height_moment),
        kerb_left_moment=raised(
            masses.kerb_left_moment, left_moment - masses.kerb_left_moment.of(choices)
        ),
    )
