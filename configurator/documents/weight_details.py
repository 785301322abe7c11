"""How a finished build stands: loadings, limits, checks, and the drawing with its masses."""

from __future__ import annotations

from reportlab.platypus import Flowable, Table

from configurator.build_spec.mass_marks import mass_marks, views_of_masses
from configurator.build_spec.spec import Axle, Spec, Weights
from configurator.build_spec.weight_words import (
    bound_words,
    carrying_words,
    give_or_take_words,
    known_words,
    spare_words,
    value_words,
    verdict_in_words,
    weigh_words,
    when_words,
)
from configurator.build_spec.weights_result import Loading, WeightCheck
from configurator.documents.drawing_flowable import DrawingFlowable
from configurator.documents.figures import number
from configurator.documents.headings import subheading
from configurator.documents.noted import Noted
from configurator.documents.paragraphs import small, words
from configurator.documents.styles import TEXT_WIDTH
from configurator.documents.tables import headed_table
from configurator.drawings.mass_view import FLOW_WORDS, mass_key, numbers_of

_VIEW_HEIGHT = 190.0


def loading_blocks(spec: Spec) -> list[Flowable]:
    """Show the stages of loading, the limits of each axle and the checks of a complete build."""
    weights = spec.weights
    if not weights.loadings:
        return [small("While choices are open the stages of loading are not told.")]
    return [
        words(_no_approval(weights)),
        *stage_blocks(weights),
        subheading("What limits each axle"),
        Noted(_axle_limits(weights), small(_speeds(weights))),
        subheading("Weights against their limits"),
        _checks(weights),
    ]


def stage_blocks(weights: Weights) -> list[Flowable]:
    """Show how the vehicle stands at each stage of loading; nothing while choices are open."""
    if not weights.loadings:
        return []
    return [
        subheading("From empty to fully laden"),
        _loadings(weights),
        *([] if weights.carrying is None else [words(carrying_words(weights.carrying))]),
        small(
            f"{give_or_take_words(weights)} Heights are above the ground. What is carried is "
            "taken as agreed."
        ),
    ]


def mass_drawing_blocks(spec: Spec) -> list[Flowable]:
    """Draw where the masses are, with the table of what each number is."""
    views = views_of_masses(spec)
    if views is None:
        return []
    return [
        subheading("Where the masses are"),
        *(DrawingFlowable(view, width=TEXT_WIDTH, height=_VIEW_HEIGHT) for view in views),
        DrawingFlowable(mass_key(), width=TEXT_WIDTH, height=64.0),
        _legend(spec),
    ]


def _no_approval(weights: Weights) -> str:
    return (
        "Computed, and no approval. Overloaded axles, tyres and wheels fail without a warning: "
        f"{weigh_words(weights)}. Lift the vehicle at its lifting points alone, on stands made for "
        "its mass, and let a competent person measure the height of the centre of gravity and set "
        "the brakes."
    )


def _loadings(weights: Weights) -> Flowable:
    rows = [_loading_row(loading) for loading in weights.loadings]
    head = ("", "Mass", "Front axle", "Rear axle", "Left", "Right", "Centre of gravity")
    shares = (0.25, 0.135, 0.135, 0.135, 0.095, 0.095, 0.155)
    return headed_table(head, rows, shares, figures=(1, 2, 3, 4, 5, 6))


def _loading_row(loading: Loading) -> tuple[str, ...]:
    return (
        f"{loading.label}{known_words(loading)}",
        _give_or_take(loading.mass_kg, loading.mass_sigma_kg, 0, "kg"),
        _give_or_take(loading.front_kg, loading.front_sigma_kg, 0, "kg"),
        _give_or_take(loading.rear_kg, loading.rear_sigma_kg, 0, "kg"),
        f"{number(loading.left_kg)} kg",
        f"{number(loading.right_kg)} kg",
        _give_or_take(loading.height_m, loading.height_sigma_m, 2, "m"),
    )


def _axle_limits(weights: Weights) -> Table:
    rows = [_limit_row(axle) for axle in (weights.front, weights.rear)]
    head = ("", "The axle itself", "Its two tyres", "Its two wheels", "The least")
    return headed_table(head, rows, (0.2, 0.18, 0.18, 0.18, 0.26), figures=(1, 2, 3, 4))


def _limit_row(axle: Axle) -> tuple[str, ...]:
    limits = (axle.maker_limit_kg, axle.tyres_limit_kg, axle.wheels_limit_kg)
    least = f"{number(axle.limit_low_kg)} kg, by the {axle.limited_by}"
    told = ("not stated" if limit is None else f"{number(limit)} kg" for limit in limits)
    return (f"{axle.axle.capitalize()} axle", *told, least)


def _speeds(weights: Weights) -> str:
    if weights.tyre_speed_km_h is None or weights.geared_speed_km_h is None:
        return "The speed symbol of the tyres or the gearing is not stated."
    return (
        f"The tyres' speed symbol allows {number(weights.tyre_speed_km_h)} km/h; motor and gearing "
        f"reach {number(weights.geared_speed_km_h)} km/h."
    )


def _checks(weights: Weights) -> Flowable:
    rows = [_check_row(check) for check in weights.checks]
    head = ("Limit", "Value", "Bound", "Verdict", "Why, and from where")
    return headed_table(head, rows, (0.19, 0.15, 0.14, 0.13, 0.39), figures=(1, 2))


def _check_row(check: WeightCheck) -> tuple[str, ...]:
    verdict = verdict_in_words(check)
    return (
        check.label,
        value_words(check),
        bound_words(check),
        f"{verdict if check.verdict == 'kept' else verdict.upper()}: {spare_words(check)}",
        " ".join(filter(None, [when_words(check), check.because, f"Source: {check.source}."])),
    )


def _give_or_take(value: float, sigma: float | None, decimals: int, unit: str) -> str:
    if sigma is None:
        return f"{number(value, decimals)} {unit}"
    return f"{number(value, decimals)} ± {number(2 * sigma, decimals)} {unit}"


def _legend(spec: Spec) -> Flowable:
    marks = mass_marks(spec.ledger)
    rows = [
        (
            "–" if place_number is None else str(place_number),
            mark.what,
            mark.label,
            f"{number(mark.mass_kg)} kg",
            FLOW_WORDS[mark.flow],
        )
        for place_number, mark in zip(numbers_of(marks), marks, strict=True)
    ]
    head = ("No.", "What", "Place", "Mass", "")
    return headed_table(head, rows, (0.07, 0.38, 0.27, 0.1, 0.18), figures=(3,))
