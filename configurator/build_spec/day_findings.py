"""Findings about a customer's day: trailer, load, whether it fits, what could not be computed."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from configurator.build_spec.day_result import WHOLE, DayLimit, DayResult
from configurator.build_spec.spec import Finding
from configurator.catalog.models.day import CustomersDay

SUBJECT = "day"
OVERLOADS = frozenset({"F022", "F027"})
"""Codes that say that the vehicle may not carry, or perhaps not, what the day loads."""
TOO_HEAVY_A_TRAILER = "F021"
COMPUTED = "computed from the day as stated"
WORTH_TELLING_PERCENT = 0.5


def day_findings(day: CustomersDay | None, result: DayResult | None) -> list[Finding]:
    """Find what the customer and the workshop must know about a day.

    Parameters
    ----------
    day : CustomersDay or None
        As the customer states it; None for no day.
    result : DayResult or None
        What was computed of it; None where it could not be.
    """
    if day is None:
        return []
    if result is None:
        return [_not_computed()]
    return [
        *_trailer(day, result),
        *_load(result),
        *_short(result),
        *_too_weak(result),
    ]


def _not_computed() -> Finding:
    return Finding(
        code="F025",
        severity="notes",
        subject=SUBJECT,
        sentence="The customer's day cannot be computed as things stand.",
        source="the choices and the day as stated",
        remedy=(
            "Choose a battery, motor, gear and tyres that fit together, and let the day end where "
            "it began."
        ),
    )


def _trailer(day: CustomersDay, result: DayResult) -> Iterator[Finding]:
    if day.trailer is None or day.trailer.mass_kg <= result.trailer_allowed_kg:
        return
    allowed = (
        f"what is chosen allows for {result.trailer_allowed_kg:,.0f} kg"
        if result.trailer_allowed_kg
        else "nothing is chosen that allows for a trailer"
    )
    yield Finding(
        code="F021",
        severity="warns",
        subject=SUBJECT,
        sentence=(
            f"The day has a trailer of {day.trailer.mass_kg:,.0f} kg; {allowed}. A trailer that is "
            "too heavy can push the vehicle off the road or fail to stop."
        ),
        value=day.trailer.mass_kg,
        bound=result.trailer_allowed_kg,
        unit="kg",
        source="the options chosen",
        remedy="Choose a lighter trailer, or the tow bar and brakes for this one. Do not tow it.",
    )


def _load(result: DayResult) -> Iterator[Finding]:
    for code, verdict in (("F022", "beyond"), ("F027", "may be beyond")):
        told = [limit for limit in result.limits if limit.verdict == verdict]
        if told:
            yield _overloaded(code, told)
            return


def _overloaded(code: str, limits: Sequence[DayLimit]) -> Finding:
    """Tell all limits of a kind at once, the one most exceeded first."""
    ordered = sorted(limits, key=lambda limit: -limit.over_kg)
    worst, is_over = ordered[0], code == "F022"
    said = "; ".join(_limit_words(limit) for limit in ordered)
    ends = "Overloaded it stops late, and tyres or axles may fail."
    return Finding(
        code=code,
        severity="warns",
        subject=SUBJECT,
        sentence=f"On the day {said}. {ends}",
        value=worst.load_kg,
        bound=worst.limit_kg,
        unit="kg",
        source="the limits of vehicle, axles, tyres and wheels; the load where it usually goes",
        remedy=(
            "Carry less, or place it so that each axle keeps its limit, or choose lighter parts. "
            "Do not drive it so."
        )
        if is_over
        else "Weigh each axle with the vehicle loaded so before driving, or carry less.",
    )


def _limit_words(limit: DayLimit) -> str:
    load = f"{limit.load_kg:,.0f} ± {2 * limit.sigma_kg:,.0f} kg"
    bound = f"{limit.limit_words}, {limit.limit_kg:,.0f} kg"
    carries = "weighs" if limit.what == WHOLE else "carries"
    if limit.verdict == "beyond":
        over = f"{math.ceil(limit.over_kg):,} kg more than it may"
        return f"the {limit.what} {carries} {load}, {over} ({bound})"
    return f"the {limit.what} {carries} {load}, and may be over {bound}"


def _short(result: DayResult) -> Iterator[Finding]:
    if result.new.fits and result.aged.fits:
        return
    short = result.aged if result.new.fits else result.new
    battery = "an aged battery" if short is result.aged else "a new battery"
    yield Finding(
        code="F023",
        severity="notes",
        subject=SUBJECT,
        sentence=(
            f"With {battery} the customer's day of {result.distance_km:,.0f} km lacks "
            f"{math.ceil(-short.spare_low_km):,} km if nine in ten are to make it with "
            f"{result.reserve_percent:g} % left."
        ),
        value=short.spare_low_km,
        bound=0.0,
        unit="km",
        source=COMPUTED,
        remedy=" ".join(told.sentence for told in result.helps)
        or "Choose a larger battery, or charge on the way.",
    )


def _too_weak(result: DayResult) -> Iterator[Finding]:
    if result.not_followed_percent <= WORTH_TELLING_PERCENT:
        return
    yield Finding(
        code="F024",
        severity="notes",
        subject=SUBJECT,
        sentence=(
            "The vehicle is slower than the day wishes for about "
            f"{max(result.not_followed_percent, 1):.0f} % of the time, such as uphill: there its "
            "drive is not strong enough for the speed. The energy is told on the safe side."
        ),
        value=result.not_followed_percent,
        unit="%",
        source=COMPUTED,
        remedy="Allow a little more time, or choose a stronger drive.",
    )
