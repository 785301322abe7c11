"""What would leave more in the battery at the end of a customer's day."""

from __future__ import annotations

import math
from collections.abc import Iterator

from configurator.build_spec.day_driven import DayAsked, outcome
from configurator.build_spec.day_result import DayHelp, DayOutcome
from configurator.catalog.models.day import CustomersDay

SLOWEST_KM_H = 60.0
"""Below this nobody is asked to drive on a motorway; common practice, no source."""

SLOWER_BY_KM_H = 10.0
LONGEST_STOP_H = 6.0
"""A longer stop makes two days of one; common practice, no source."""

WORTH_TELLING_KM = 1.0
JUST_KM = 5.0
"""A margin below this is told as none."""


def helps_for(asked: DayAsked) -> tuple[DayHelp, ...]:
    """List what helps a day, judged with a new battery.

    Parameters
    ----------
    asked : DayAsked
        The day with the choices it is asked of.

    Returns
    -------
    tuple of DayHelp
        Of a day that does not fit only what makes it fit, alone or together; of one that does,
        whatever leaves a kilometre more. Empty where nothing does.
    """
    now = _outcome(asked, asked.day)
    if now is None:
        return ()
    found = [*_slower(asked, now), *_warmed(asked), *_charged(asked, now)]
    if not now.fits:
        return tuple(told for told in found if told.fits) or tuple(_together(asked))
    worth_km = now.spare_low_km + WORTH_TELLING_KM
    return tuple(told for told in found if told.spare_low_km >= worth_km)


def _outcome(asked: DayAsked, day: CustomersDay) -> DayOutcome | None:
    asked = asked.with_day(day)
    driven = asked.driven("new")
    if driven is None or math.fsum(driven.joules_by_road().values()) <= 0:
        return None
    return outcome("new", driven, asked.halfway(driven.usable_kwh))


def _slower(asked: DayAsked, now: DayOutcome) -> Iterator[DayHelp]:
    """Find the greatest speed at which the day fits, in steps; of one that fits, the first step."""
    day = asked.day
    if not day.motorway_km:
        return
    speeds = [day.motorway_km_h - SLOWER_BY_KM_H * step for step in range(1, 8)]
    tried = []
    for speed in (speed for speed in speeds if speed >= SLOWEST_KM_H):
        then = _outcome(asked, day.model_copy(update={"motorway_km_h": speed}))
        if then is None:
            return
        tried.append((speed, then))
        if now.fits or then.fits:
            break
    if not tried:
        return
    speed, then = tried[-1] if tried[-1][1].fits else tried[0]
    yield _help("slower", f"Drive {speed:g} km/h on the motorway", then)


def _warmed(asked: DayAsked) -> Iterator[DayHelp]:
    day = asked.day
    if day.preheats or day.temperature_c >= day.cabin_c:
        return
    then = _outcome(asked, day.model_copy(update={"preheats": True}))
    if then is not None:
        yield _help("preheat", "Warm the cabin from the cable before setting out", then)


def _charged(asked: DayAsked, now: DayOutcome) -> Iterator[DayHelp]:
    """Tell how long to charge halfway: as long as the day needs, or an hour more."""
    day, source, power_kw = asked.day, asked.supply.source, asked.supply.power_kw
    if source is None or power_kw <= 0:
        return
    hours = day.hours_charging + 1.0
    if not now.fits:
        needed = asked.halfway(now.usable_kwh).share_needed(_longest_day_share(now, day, asked))
        if needed is None:
            return
        hours = math.ceil(4 * needed * now.usable_kwh / power_kw) / 4
    if hours > LONGEST_STOP_H:
        return
    then = _outcome(asked, day.model_copy(update={"hours_charging": hours}))
    if then is not None:
        stop = f"Charge for {_time(hours)} halfway"
        sentence = f"{stop} ({source.label}, {asked.supply.in_words})"
        yield _help("charging", sentence, then)


def _together(asked: DayAsked) -> Iterator[DayHelp]:
    """Drive as slowly as can be asked, warm from the cable, charge as long as is then needed."""
    day = asked.day
    slower = bool(day.motorway_km) and day.motorway_km_h > SLOWEST_KM_H
    warmed = day.temperature_c < day.cabin_c and not day.preheats
    calm = day.model_copy(
        update={
            "motorway_km_h": SLOWEST_KM_H if slower else day.motorway_km_h,
            "preheats": warmed or day.preheats,
        }
    )
    acts = [f"{SLOWEST_KM_H:g} km/h on the motorway"] if slower else []
    acts += ["a cabin warmed from the cable"] if warmed else []
    calm_asked = asked.with_day(calm)
    then = _outcome(calm_asked, calm)
    if then is None or not acts:
        return
    if then.fits:
        yield _help("together", f"Together, {' and '.join(acts)}", then)
        return
    told = next(_charged(calm_asked, then), None)
    if told is not None and told.fits:
        sentence = f"With {' and '.join(acts)}, c{told.sentence[1:]}"
        yield told.model_copy(update={"kind": "together", "sentence": sentence})


def _longest_day_share(now: DayOutcome, day: CustomersDay, asked: DayAsked) -> float:
    """Tell the day by the range that nine in ten likely get."""
    reached_km = day.distance_km + now.spare_low_km
    return asked.halfway(now.usable_kwh).longest_share * day.distance_km / reached_km


def _time(hours: float) -> str:
    """Say a time as a clock does.

    Examples
    --------
    >>> _time(1.25), _time(3.0), _time(0.5)
    ('1 h 15 min', '3 h', '30 min')
    """
    whole, minutes = divmod(round(60 * hours), 60)
    parts = [f"{whole} h"] if whole else []
    return " ".join([*parts, f"{minutes} min"] if minutes else parts)


def _help(kind: str, act: str, then: DayOutcome) -> DayHelp:
    return DayHelp.model_validate(
        {
            "kind": kind,
            "sentence": f"{act}: {_margin(then)}.",
            "spare_low_km": then.spare_low_km,
            "fits": then.fits,
        }
    )


def _margin(then: DayOutcome) -> str:
    """Tell what is left as a round number, never more than there is."""
    if not then.fits:
        return f"{math.ceil(-then.spare_low_km):,} km are still missing"
    if then.spare_low_km < JUST_KM:
        return "the day just fits, with nothing to spare"
    return f"the day fits with {JUST_KM * math.floor(then.spare_low_km / JUST_KM):,.0f} km to spare"
