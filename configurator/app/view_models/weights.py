"""The weights page: stages of loading, limits of each axle, checks, and what the numbers mean."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from configurator.app.view_models.words import (
    UNBROKEN_SPACE,
    count,
    rounded,
    source_told,
)
from configurator.build_spec.derivations.explain import Key
from configurator.build_spec.mass_marks import mass_marks, views_of_masses
from configurator.build_spec.sentences import listed, still_open
from configurator.build_spec.spec import Axle, Spec, Weights
from configurator.build_spec.weight_words import (
    bound_words,
    carrying_words,
    known_words,
    spare_words,
    value_words,
    verdict_in_words,
    when_words,
)
from configurator.build_spec.weights_result import Loading, WeightCheck, WeightVerdict
from configurator.drawings.mass_view import FLOW_WORDS, mass_key, numbers_of
from configurator.drawings.shapes import Drawing

LOADING_HEADS = ("Stage", "Mass", "Front", "Rear", "Left", "Right", "Centre of gravity")
AXLE_HEADS = ("Axle", "Axle itself", "Two tyres", "Two wheels", "The least")
MASS_HEADS = ("No.", "What", "Place", "Mass", "")


@dataclass(frozen=True)
class CheckRow:
    """One limit with the value it is about."""

    label: str
    value: str
    bound: str
    verdict: WeightVerdict
    verdict_words: str
    why: str
    worked_out: Key


@dataclass(frozen=True)
class WeightsPage:
    """Everything on the page, in words."""

    in_brief: str
    change: str
    """How the empty build's centre of gravity lies against the donor's."""
    loadings: tuple[tuple[str, ...], ...]
    axles: tuple[tuple[str, ...], ...]
    speeds: str
    checks: tuple[CheckRow, ...]
    views: tuple[Drawing, ...]
    key: Drawing
    masses: tuple[tuple[str, ...], ...]
    may_carry: str
    """The payload by the least of all limits, and what "fully laden" means."""


def weights_page(spec: Spec) -> WeightsPage:
    """Prepare the weights of a complete build.

    Parameters
    ----------
    spec : Spec
        With its stages of loading.

    Returns
    -------
    WeightsPage
        Every mass and height with two standard deviations, as long as it is not weighed.
    """
    weights = spec.weights
    return WeightsPage(
        in_brief=_in_brief(weights.checks),
        change=_change(weights.loadings[0], weights.loadings[1]),
        loadings=tuple(_loading_row(loading) for loading in weights.loadings),
        axles=tuple(_axle_row(axle) for axle in (weights.front, weights.rear)),
        speeds=_speeds(weights),
        checks=tuple(_check_row(check) for check in weights.checks),
        views=views_of_masses(spec) or (),
        key=mass_key(),
        masses=_masses(spec),
        may_carry="" if weights.carrying is None else carrying_words(weights.carrying),
    )


def why_no_weights(spec: Spec) -> str:
    """Say what keeps the stages of loading from being told; empty when nothing does."""
    if spec.weights.loadings:
        return ""
    names = [group.group_label for group in spec.open_groups]
    return (
        "The stages of loading belong to one finished choice of parts. "
        f"{still_open(names)} "
        "The talk shows the axles as from–to meanwhile."
    )


def _in_brief(checks: Sequence[WeightCheck]) -> str:
    tally: dict[WeightVerdict, int] = {"kept": 0, "may be beyond": 0, "beyond": 0}
    for check in checks:
        tally[check.verdict] += 1
    is_weighed = any(check.is_weighed for check in checks)
    until = "weighed again or as loaded" if is_weighed else "weighed"
    return (
        f"{count(tally['kept'], 'limit is', 'limits are')} kept, "
        f"{tally['may be beyond']} may be exceeded until the vehicle is {until}, "
        f"{tally['beyond']} {'is' if tally['beyond'] == 1 else 'are'} exceeded."
    )


def _change(donor: Loading, kerb: Loading) -> str:
    back = _signed(1000 * (kerb.x_m - donor.x_m), "mm further back", "mm further forward")
    up = _signed(1000 * (kerb.height_m - donor.height_m), "mm higher", "mm lower")
    side = _signed(1000 * (kerb.y_m - donor.y_m), "mm to the right", "mm to the left")
    return (
        f"Against the donor the empty vehicle's centre of gravity lies {listed([back, up, side])}."
    )


def _signed(value: float, above: str, below: str) -> str:
    return f"{rounded(abs(value), 0)}{UNBROKEN_SPACE}{above if value >= 0 else below}"


def _loading_row(loading: Loading) -> tuple[str, ...]:
    return (
        f"{loading.label}{known_words(loading)}",
        _give_or_take(loading.mass_kg, loading.mass_sigma_kg, 0, "kg"),
        _give_or_take(loading.front_kg, loading.front_sigma_kg, 0, "kg"),
        _give_or_take(loading.rear_kg, loading.rear_sigma_kg, 0, "kg"),
        _figure(loading.left_kg, 0, "kg"),
        _figure(loading.right_kg, 0, "kg"),
        _give_or_take(loading.height_m, loading.height_sigma_m, 2, "m"),
    )


def _axle_row(axle: Axle) -> tuple[str, ...]:
    limits = (axle.maker_limit_kg, axle.tyres_limit_kg, axle.wheels_limit_kg)
    return (
        axle.axle.capitalize(),
        *("not stated" if limit is None else _figure(limit, 0, "kg") for limit in limits),
        f"{_figure(axle.limit_low_kg, 0, 'kg')}, by the {axle.limited_by}",
    )


def _speeds(weights: Weights) -> str:
    if weights.tyre_speed_km_h is None or weights.geared_speed_km_h is None:
        return "The speed symbol of the tyres or the gearing is not stated."
    allowed = _figure(weights.tyre_speed_km_h, 0, "km/h")
    return (
        f"The tyres' speed symbol allows {allowed}; motor and gearing reach "
        f"{_figure(weights.geared_speed_km_h, 0, 'km/h')}."
    )


def _check_row(check: WeightCheck) -> CheckRow:
    when = when_words(check)
    return CheckRow(
        label=check.label,
        value=value_words(check),
        bound=bound_words(check),
        verdict=check.verdict,
        verdict_words=f"{verdict_in_words(check)}: {spare_words(check)}",
        why=source_told(" ".join(filter(None, [when, check.because, f"Source: {check.source}."]))),
        worked_out=(check.fact, None),
    )


def _masses(spec: Spec) -> tuple[tuple[str, ...], ...]:
    marks = mass_marks(spec.ledger)
    return tuple(
        (
            "–" if number is None else str(number),
            mark.what,
            mark.label,
            _figure(mark.mass_kg, 0, "kg"),
            FLOW_WORDS[mark.flow],
        )
        for number, mark in zip(numbers_of(marks), marks, strict=True)
    )


def _give_or_take(value: float, sigma: float | None, decimals: int, unit: str) -> str:
    if sigma is None:
        return _figure(value, decimals, unit)
    spread = f"±{UNBROKEN_SPACE}{_figure(2 * sigma, decimals, unit)}"
    return f"{rounded(value, decimals)} {spread}"


def _figure(value: float, decimals: int, unit: str) -> str:
    return f"{rounded(value, decimals)}{UNBROKEN_SPACE}{unit}"
