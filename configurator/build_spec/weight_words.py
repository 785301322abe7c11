"""A limit about weights in words: what is compared, told apart from its bound."""

from __future__ import annotations

from configurator.build_spec.fact_names import FACT_LABELS, MOST_DECIMALS
from configurator.build_spec.sentences import in_a_sentence
from configurator.build_spec.spec import Weights
from configurator.build_spec.weights_result import Carrying, Compared, Loading, WeightCheck
from configurator.catalog.models.rule import FactName

MINUS = "\N{MINUS SIGN}"
UNBROKEN = "\N{NO-BREAK SPACE}"

OF_THE_EMPTY_VEHICLE: frozenset[FactName] = frozenset(
    {
        "kerb_mass_kg",
        "rear_share_change_points",
        "centre_of_gravity_height_m",
        "left_share_percent",
        "rear_braking_share_percent",
    }
)
"""Facts that nothing carried can move."""


def compared_of(check: WeightCheck) -> Compared:
    """Tell what people compare with the bound: the fact, where nothing else is said."""
    if check.compared is not None:
        return check.compared
    label = FACT_LABELS[check.fact]
    return Compared(
        value=check.value,
        sigma=check.sigma,
        bound=check.bound,
        bound_is=check.bound_is,
        unit=label.unit,
        decimals=label.decimals,
    )


def value_words(check: WeightCheck) -> str:
    """Write the value with two standard deviations.

    Returns
    -------
    str
        Rounded so that a value beyond its bound never reads like the bound.
    """
    seen = compared_of(check)
    decimals = _telling_decimals(seen)
    if seen.sigma is None:
        return _with_unit(seen.value, decimals, seen.unit)
    spread = _with_unit(2 * seen.sigma, decimals, seen.unit)
    return f"{_number(seen.value, decimals)} ±{UNBROKEN}{spread}"


def bound_words(check: WeightCheck) -> str:
    """Write the bound and its side."""
    seen = compared_of(check)
    return f"{seen.bound_is} {_with_unit(seen.bound, _telling_decimals(seen), seen.unit)}"


def spare_words(check: WeightCheck) -> str:
    """Write by how much the bound is kept or exceeded."""
    seen = compared_of(check)
    room = seen.bound - seen.value if seen.bound_is == "at most" else seen.value - seen.bound
    decimals = _telling_decimals(seen)
    missed = "too much" if seen.bound_is == "at most" else "too little"
    stands = "to spare" if room >= 0 else missed
    return f"{_with_unit(abs(room), decimals, seen.unit)} {stands}"


def when_words(check: WeightCheck) -> str:
    """Say at which loading, or where, the value holds; empty where it goes without saying."""
    when = compared_of(check).when
    return f"{when[:1].upper()}{when[1:]}." if when else ""


def verdict_in_words(check: WeightCheck) -> str:
    """Say the verdict, and of a doubtful one what settles it."""
    if check.verdict == "may be beyond":
        return f"May be beyond, {_what_settles(check)}"
    return "Kept" if check.verdict == "kept" else "Beyond the limit"


def weigh_words(weights: Weights) -> str:
    """Say what the weighbridge is still for; a vehicle that stood on it is not sent there again."""
    if weights.measured_kerb_kg is None:
        return (
            "weigh each axle on a weighbridge before handover and before carrying more than is "
            "stated here"
        )
    return "weigh each axle on a weighbridge, as loaded, before carrying more than is stated here"


def give_or_take_words(weights: Weights) -> str:
    """Say what the figure behind ± stands for."""
    until = " until the vehicle is weighed" if weights.measured_kerb_kg is None else ""
    return f"± is two standard deviations, within which nineteen in twenty lie{until}."


def known_words(loading: Loading) -> str:
    """Say how a stage of loading is known, where a weighbridge had a part in it."""
    if loading.is_weighed:
        return ", as weighed"
    return ", computed from the weighed kerb mass" if loading.rests_on_weighed else ""


def carrying_words(carrying: Carrying) -> str:
    """Say what may be carried by the least of all limits, and what "fully laden" means."""
    spread = 2 * carrying.payload_sigma_kg
    return (
        f"Fully laden means {carrying.fully_laden}. Beside the driver it may carry "
        f"{carrying.payload_kg:,.0f} ±{UNBROKEN}{spread:,.0f}{UNBROKEN}kg, people on the seats "
        f"first and the rest here: {in_a_sentence(carrying.place_label)}. What ends it is "
        f"{carrying.limited_by}."
    )


def _what_settles(check: WeightCheck) -> str:
    if not check.is_weighed:
        return "weigh before handover"
    return "weigh it again" if check.fact in OF_THE_EMPTY_VEHICLE else "weigh it as loaded"


def _telling_decimals(seen: Compared) -> int:
    """Add decimals while value and bound print alike without being alike."""
    decimals = seen.decimals
    while (
        decimals < MOST_DECIMALS
        and seen.value != seen.bound
        and _number(seen.value, decimals) == _number(seen.bound, decimals)
    ):
        decimals += 1
    return decimals


def _with_unit(value: float, decimals: int, unit: str) -> str:
    return f"{_number(value, decimals)}{UNBROKEN}{unit}" if unit else _number(value, decimals)


def _number(value: float, decimals: int) -> str:
    # A hair below zero is zero.
    return f"{round(value, decimals) + 0.0:,.{decimals}f}".replace("-", MINUS)
