"""Where measured trips count: in driving cases like those that were driven, and less elsewhere."""

from __future__ import annotations

from typing import NamedTuple

from configurator.catalog.models.vehicle import DrivenConditions, MeasuredRoadLoad
from configurator.catalog.models.workshop import DrivingCase

ALIKE_C = 8.0
"""Air that differs by less leaves heating and air drag much the same. Common practice, no
source."""

ALIKE_KM_H = 15.0
"""Steady speeds that differ by less are alike. Common practice, no source."""


class Learnt(NamedTuple):
    """What trips say of a driving case: its consumption by the computed one, the doubt left."""

    factor: float
    doubt_left: float


def conditions_of(case: DrivingCase) -> DrivenConditions:
    """Give speeds and air of a driving case.

    Examples
    --------
    >>> conditions_of(DrivingCase(id="lane", label="Lane", steady_km_h=50, temperature_c=9))
    DrivenConditions(cycle=None, steady_km_h=50.0, temperature_c=9.0)
    """
    return DrivenConditions(
        cycle=case.cycle, steady_km_h=case.steady_km_h, temperature_c=case.temperature_c
    )


def was_driven(measured: MeasuredRoadLoad, case: DrivingCase) -> bool:
    """Tell whether a measured trip was driven in conditions like those of a case.

    Load and age of the battery may differ: mass and capacity are counted and doubted apart.
    """
    wanted = conditions_of(case)
    return any(_alike(driven, wanted) for driven in measured.driven)


def learnt_in(measured: MeasuredRoadLoad, case: DrivingCase) -> Learnt:
    """Give what measured trips say of the consumption in a driving case.

    Examples
    --------
    >>> case = DrivingCase(id="lane", label="Lane", steady_km_h=50, temperature_c=9)
    >>> trips = MeasuredRoadLoad(
    ...     consumption_factor=1.1, doubt_left=0.5, driven=(conditions_of(case),),
    ...     consumption_factor_elsewhere=1.05, doubt_left_elsewhere=0.8,
    ... )
    >>> learnt_in(trips, case)
    Learnt(factor=1.1, doubt_left=0.5)
    >>> learnt_in(trips, case.model_copy(update={"temperature_c": -5.0}))
    Learnt(factor=1.05, doubt_left=0.8)
    """
    if was_driven(measured, case):
        return Learnt(measured.consumption_factor, measured.doubt_left)
    return Learnt(measured.consumption_factor_elsewhere, measured.doubt_left_elsewhere)


def _alike(one: DrivenConditions, other: DrivenConditions) -> bool:
    if abs(one.temperature_c - other.temperature_c) > ALIKE_C or one.cycle != other.cycle:
        return False
    if one.steady_km_h is None or other.steady_km_h is None:
        return one.steady_km_h == other.steady_km_h
    return abs(one.steady_km_h - other.steady_km_h) <= ALIKE_KM_H
