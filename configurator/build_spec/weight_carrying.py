"""What a complete build may carry where the load goes, and what "fully laden" means."""

from __future__ import annotations

from collections.abc import Sequence

from configurator.build_spec.loadings import Stage
from configurator.build_spec.sentences import in_a_sentence, listed
from configurator.build_spec.spec import Axle
from configurator.build_spec.sums import DRIVER_KG
from configurator.build_spec.weight_placing import Room, load_place, most_placed
from configurator.build_spec.weights_result import Carrying
from configurator.catalog.models.vehicle import PlacedItem, Vehicle

LIMITED_WORDS = {"axle": "the axle itself", "tyre": "its tyres", "wheel": "its wheels"}


def carrying_of(
    vehicle: Vehicle,
    carried: Sequence[PlacedItem],
    stages: Sequence[Stage],
    front: Axle,
    rear: Axle,
) -> Carrying:
    """Tell the payload by the least of all limits, and what is carried when fully laden.

    Parameters
    ----------
    vehicle : Vehicle
        With its places and its gross mass limit [kg].
    carried : sequence of PlacedItem
        What the laden build carries besides its driver.
    stages : sequence of Stage
        From the donor over kerb and driver to fully laden.
    front, rear : Axle
        With their limits [kg].

    Returns
    -------
    Carrying
        Masses [kg] beside the driver.
    """
    allowed = most_placed(vehicle, carried, rooms_of(vehicle, stages[2], front, rear))
    return Carrying(
        payload_kg=round(allowed.mass_kg, 3),
        payload_sigma_kg=round(allowed.sigma_kg, 3),
        limited_by=allowed.limited_by,
        place_label=vehicle.places[load_place(vehicle, carried)].label,
        fully_laden=_fully_laden(stages[-1].stands.mass_kg, carried),
    )


def rooms_of(vehicle: Vehicle, driver: Stage, front: Axle, rear: Axle) -> tuple[Room, ...]:
    """List every limit with what the vehicle and its driver leave of it [kg]."""
    stands, doubt = driver.stands, driver.doubt
    return (
        Room(
            "the gross mass limit",
            vehicle.gross_mass_limit_kg - stands.mass_kg,
            doubt.mass_kg,
            at_front=1,
            at_rear=1,
        ),
        Room(
            axle_limit_words(front),
            front.limit_high_kg - stands.front_kg,
            doubt.front_kg,
            at_front=1,
            at_rear=0,
        ),
        Room(
            axle_limit_words(rear),
            rear.limit_high_kg - stands.rear_kg,
            doubt.rear_kg,
            at_front=0,
            at_rear=1,
        ),
    )


def axle_limit_words(axle: Axle) -> str:
    """Name an axle's limit with the part that sets it."""
    part = LIMITED_WORDS.get(axle.limited_by)
    return f"the limit of the {axle.axle} axle" + (f" ({part})" if part else "")


def _fully_laden(mass_kg: float, carried: Sequence[PlacedItem]) -> str:
    """Say the mass and what it holds."""
    aboard = [
        f"{what} {kg:,.0f}\N{NO-BREAK SPACE}kg"
        for what, kg in (
            ("driver", DRIVER_KG),
            *((in_a_sentence(item.what), item.mass_kg) for item in carried),
        )
    ]
    return f"{mass_kg:,.0f}\N{NO-BREAK SPACE}kg: {listed(aboard)}"
