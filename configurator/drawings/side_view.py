"""The vehicle from its left side in the chosen colours, roof, wheels and extras."""

from __future__ import annotations

from collections.abc import Iterator

from configurator.catalog.models.vehicle import Vehicle
from configurator.drawings.look import Extra, RoofShape, VehicleLook, WheelStyle
from configurator.drawings.shapes import (
    Box,
    Drawing,
    Paint,
    Shape,
    bounds_of_all,
    box_around,
    grown,
)
from configurator.drawings.side.body import painted_body, underside, wheel_arches
from configurator.drawings.side.extra import extras
from configurator.drawings.side.fitting import fittings
from configurator.drawings.side.roof import roof
from configurator.drawings.side.silhouette import (
    USUAL_WHEEL_RADIUS_M,
    Silhouette,
    silhouette_of,
)
from configurator.drawings.side.wheel import wheel
from configurator.drawings.side.window import windows
from configurator.drawings.smooth import ellipse

MARGIN_M = 0.12

ROOF_WORDS: dict[RoofShape, str] = {
    "fixed": "fixed roof",
    "folding": "folding fabric roof",
    "raised": "raised pop-top roof",
    "hardtop": "removable hardtop",
}
WHEEL_WORDS: dict[WheelStyle, str] = {
    "steel": "steel wheels with hub caps",
    "spoked": "spoked wheels",
    "slotted": "slotted wheels",
}
EXTRA_WORDS: dict[Extra, str] = {
    "roof-rack": "roof rack",
    "tow-ball": "tow ball",
    "spare-wheel": "spare wheel at the rear",
    "awning": "rolled awning",
    "load-cover": "load cover",
}


def side_view(
    vehicle: Vehicle, look: VehicleLook, *, wheel_radius_m: float = USUAL_WHEEL_RADIUS_M
) -> Drawing:
    """Draw a vehicle from its left side, front to the left.

    Parameters
    ----------
    vehicle : Vehicle
        With its outline and wheelbase [m].
    look : VehicleLook
        What is chosen; what is open is drawn in primer grey, hatched or dashed.
    wheel_radius_m : float
        Radius of the wheel with its tyre [m], > 0.

    Returns
    -------
    Drawing
        In metres: x behind the front axle, z above the ground.
    """
    form = silhouette_of(vehicle, wheel_radius_m)
    outline = vehicle.outline
    shapes = (
        *_ground_shadow(form),
        *underside(form),
        *painted_body(outline, form, look),
        *roof(form, look),
        *windows(outline),
        *wheel_arches(form, look),
        *(
            shape
            for x in form.axles_x
            for shape in wheel((x, wheel_radius_m), wheel_radius_m, look.wheel_style)
        ),
        *fittings(outline, form),
        *extras(outline, form, look),
    )
    return Drawing(
        title=f"{vehicle.label}, side view",
        description=look_in_words(look),
        unit="m",
        box=box_around((_usual_box(form), grown(bounds_of_all(shapes), 0.02))),
        shapes=shapes,
    )


def look_in_words(look: VehicleLook) -> str:
    """Say what the picture shows, for those who cannot see it.

    Examples
    --------
    >>> look_in_words(VehicleLook(roof_shape="folding"))
    'Front to the left. Body colour still open; folding fabric roof; wheels still open.'
    """
    parts = [
        "body colour still open" if look.body_colour is None else "body in the chosen colour",
        *(["second colour on the lower band"] if look.second_colour else []),
        "roof still open" if look.roof_shape is None else ROOF_WORDS[look.roof_shape],
        "wheels still open" if look.wheel_style is None else WHEEL_WORDS[look.wheel_style],
        *(EXTRA_WORDS[extra] for extra in sorted(look.extras)),
    ]
    sentence = "; ".join(parts)
    return f"Front to the left. {sentence[0].upper()}{sentence[1:]}."


def _ground_shadow(form: Silhouette) -> Iterator[Shape]:
    middle = ((form.front_x + form.rear_x) / 2, 0.0)
    half = (form.rear_x - form.front_x) / 2
    for step in range(10):
        radii = (half * (1.07 - 0.022 * step), 0.085 - 0.006 * step)
        yield ellipse(middle, radii, Paint(fill="#1b2226", opacity=0.05))


def _usual_box(form: Silhouette) -> Box:
    """Keep the same frame for every look of a vehicle, so that the picture does not jump."""
    outer = Box(form.front_x, 0.0, form.rear_x + 0.12, form.crown_z + 0.1)
    return grown(outer, MARGIN_M)
