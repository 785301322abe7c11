"""How the chosen options make a vehicle look."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, TypeAlias, TypeVar

from configurator.catalog.models.group import OptionLook

RoofShape: TypeAlias = Literal["fixed", "folding", "raised", "hardtop"]
WheelStyle: TypeAlias = Literal["steel", "spoked", "slotted"]
Value = TypeVar("Value")

Extra: TypeAlias = Literal["roof-rack", "tow-ball", "spare-wheel", "awning", "load-cover"]


@dataclass(frozen=True, slots=True)
class VehicleLook:
    """What the picture shows; None where it is still open."""

    body_colour: str | None = None
    second_colour: str | None = None
    roof_shape: RoofShape | None = None
    wheel_style: WheelStyle | None = None
    extras: frozenset[Extra] = frozenset()


def look_of(looks: Iterable[OptionLook]) -> VehicleLook:
    """Merge the looks of the chosen options; where two differ, the later one shows.

    Parameters
    ----------
    looks : iterable of OptionLook
        One for each choice, in the order of the talk.

    Returns
    -------
    VehicleLook
        With None for what no choice decides.

    Examples
    --------
    >>> look = look_of([OptionLook(body_colour="#335577"), OptionLook(extra="awning")])
    >>> look.body_colour, look.roof_shape, sorted(look.extras)
    ('#335577', None, ['awning'])
    """
    known = tuple(looks)
    return VehicleLook(
        body_colour=_last(look.body_colour for look in known),
        second_colour=_last(look.second_colour for look in known),
        roof_shape=_last(look.roof_shape for look in known),
        wheel_style=_last(look.wheel_style for look in known),
        extras=frozenset(look.extra for look in known if look.extra is not None),
    )


def _last(values: Iterable[Value | None]) -> Value | None:
    decided = [value for value in values if value is not None]
    return decided[-1] if decided else None
