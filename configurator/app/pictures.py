"""Pictures of a vehicle as it is chosen so far."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from configurator.app.premises import premises
from configurator.build_spec.content_cache import ContentCache
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


# Drawing takes as long as everything else a pick does on the screen, and most picks show nowhere.
_PICTURES = ContentCache[Picture](size=256)


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
    key = (premises().catalog.sha256, vehicle.id, tuple(looks))
    return _PICTURES.get_or_make(key, lambda: _draw(vehicle, looks))


def _draw(vehicle: Vehicle, looks: Sequence[OptionLook]) -> Picture:
    drawing = side_view(vehicle, look_of(looks))
    return Picture(to_svg(drawing), f"{drawing.title}. {drawing.description}")


def chosen_looks(groups: Sequence[GroupState]) -> tuple[OptionLook, ...]:
    """List the looks of the options chosen, in the order of the talk."""
    return tuple(option.look for group in groups for option in group.options if option.is_chosen)
