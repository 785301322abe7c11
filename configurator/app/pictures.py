"""Pictures of a vehicle as it is chosen so far."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from configurator.build_spec.standing import GroupState
from configurator.catalog.models.group import OptionLook
from configurator.catalog.models.vehicle import Vehicle
from configurator.drawings.look import look_of
from configurator.drawings.side_view import side_view
from configurator.drawings.svg import to_svg


@dataclass(frozen=True)
class Picture:
    """A drawing for the screen, with the words for whoever does not see it."""

    svg: str
    alt: str


def vehicle_picture(vehicle: Vehicle, looks: Sequence[OptionLook]) -> Picture:
    """Draw a vehicle from the side in what is chosen.

    Parameters
    ----------
    vehicle : Vehicle
        With its outline.
    looks : sequence of OptionLook
        Of the options chosen, in the order of the talk.

    Returns
    -------
    Picture
        SVG of the vehicle, and its description.
    """
    drawing = side_view(vehicle, look_of(looks))
    return Picture(to_svg(drawing), f"{drawing.title}. {drawing.description}")


def chosen_looks(groups: Sequence[GroupState]) -> tuple[OptionLook, ...]:
    """List the looks of the options chosen, in the order of the talk."""
    return tuple(option.look for group in groups for option in group.options if option.is_chosen)
