"""Pictures of a vehicle as it is chosen so far."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from configurator.build_spec.spec import SpecChoice
from configurator.catalog.models.vehicle import Vehicle
from configurator.drawings.look import look_of
from configurator.drawings.side_view import side_view
from configurator.drawings.svg import to_svg


@dataclass(frozen=True)
class Picture:
    """A drawing for the screen, with the words for whoever does not see it."""

    svg: str
    alt: str


def vehicle_picture(vehicle: Vehicle, choices: Sequence[SpecChoice]) -> Picture:
    """Draw a vehicle from the side in what is chosen.

    Parameters
    ----------
    vehicle : Vehicle
        With its outline.
    choices : sequence of SpecChoice
        In the order of the talk.

    Returns
    -------
    Picture
        SVG of the vehicle, and its description.
    """
    drawing = side_view(vehicle, look_of(choice.look for choice in choices))
    return Picture(to_svg(drawing), f"{drawing.title}. {drawing.description}")
