"""Axle loads against their limits, and what was taken out and put in."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.platypus import Flowable, Table

from configurator.build_spec.spec import Axle, LedgerLine, Weights
from configurator.documents.figures import number, span
from configurator.documents.paragraphs import small
from configurator.documents.tables import headed_table

_UNBROKEN = "\N{NO-BREAK SPACE}"
_LIMITED_BY = {
    "axle": "the axle",
    "tyre": "its tyres",
    "wheel": "its wheels",
    "open": "still open: tyres or wheels",
}


def axle_blocks(weights: Weights) -> list[Flowable]:
    """Show both axles and the whole vehicle, computed beside measured."""
    return [_axle_table(weights), small(_sureness(weights))]


def ledger_table(lines: Sequence[LedgerLine]) -> Table:
    """List what was taken out (negative) and put in, with its place."""
    rows = [
        (
            line.what,
            line.place_label,
            f"{number(line.x_m, 2)} m",
            f"{number(line.mass_kg, 1)} kg",
            "always" if line.when == "kerb" else "when laden",
        )
        for line in lines
    ]
    head = ("What", "Place", "Behind front axle", "Mass, computed", "Counted")
    return headed_table(head, rows, (0.3, 0.28, 0.15, 0.15, 0.12), figures=(2, 3))


def _axle_table(weights: Weights) -> Table:
    rows = [_axle_row(weights.front), _axle_row(weights.rear), _whole_row(weights)]
    laden = "Laden, from the weighed kerb" if _rests_on_weighed(weights) else "Laden, computed"
    head = ("", "Donor", "Kerb, computed", "Kerb, measured", laden, "Limit", "Limited by")
    shares = (0.15, 0.1, 0.15, 0.14, 0.16, 0.13, 0.17)
    return headed_table(head, rows, shares, figures=(1, 2, 3, 4, 5), has_total=True)


def _axle_row(axle: Axle) -> tuple[str, ...]:
    return (
        f"{axle.axle.capitalize()} axle",
        f"{number(axle.donor_kg)} kg",
        span(axle.kerb_low_kg, axle.kerb_high_kg, unit="kg") + _give_or_take(axle),
        _measured(axle.measured_kg),
        span(axle.laden_low_kg, axle.laden_high_kg, unit="kg") + _laden_give_or_take(axle),
        span(axle.limit_low_kg, axle.limit_high_kg, unit="kg"),
        _LIMITED_BY[axle.limited_by],
    )


def _whole_row(weights: Weights) -> tuple[str, ...]:
    return (
        "Vehicle",
        f"{number(weights.front.donor_kg + weights.rear.donor_kg)} kg",
        span(weights.kerb_low_kg, weights.kerb_high_kg, unit="kg"),
        _measured(weights.measured_kerb_kg),
        span(weights.laden_low_kg, weights.laden_high_kg, unit="kg"),
        f"{number(weights.gross_limit_kg)} kg",
        "gross limit",
    )


def _give_or_take(axle: Axle) -> str:
    if axle.kerb_sigma_kg is None or axle.measured_kg is not None:
        return ""
    return f" ± {number(2 * axle.kerb_sigma_kg)}"


def _laden_give_or_take(axle: Axle) -> str:
    return "" if axle.heaviest is None else f" ± {number(2 * axle.heaviest.sigma_kg)}"


def _rests_on_weighed(weights: Weights) -> bool:
    return weights.front.heaviest is not None and weights.front.heaviest.rests_on_weighed


def _when(weights: Weights) -> str:
    """Say when each axle carries what is told, of complete builds."""
    front, rear = weights.front.heaviest, weights.rear.heaviest
    if front is None or rear is None or weights.carrying is None:
        return "Laden: with the driver, everybody and everything counted."
    return (
        f"Laden: {weights.carrying.fully_laden}; each axle where it carries most, the front axle "
        f"{front.when}, the rear axle {rear.when}."
    )


def _measured(mass_kg: float | None) -> str:
    return "not yet" if mass_kg is None else f"{number(mass_kg)} kg"


def _sureness(weights: Weights) -> str:
    share = span(weights.rear_share_low_percent, weights.rear_share_high_percent, 1)
    donor = number(weights.rear_share_donor_percent, 1)
    return (
        f"Kerb: ready to drive, without driver. {_when(weights)} {_how_sure(weights)} Rear axle's "
        f"share of the kerb mass: {share} % (donor {donor} %). Figures are rounded to whole "
        "kilograms; the checks use them unrounded."
    )


def _how_sure(weights: Weights) -> str:
    if weights.measured_kerb_kg is not None:
        return "The measured loads are of the weighbridge, the computed ones what was expected."
    margin = f"±{_UNBROKEN}{number(2 * weights.kerb_sigma_kg)}{_UNBROKEN}kg"
    return f"The computed kerb mass is likely to be within {margin} until the vehicle is weighed."
