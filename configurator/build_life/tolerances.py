"""Whether what was measured is within its limits: the number, the limit, the source, in words."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from configurator.build_life.computed_values import computed_value
from configurator.build_life.entries import AsBuiltRecorded
from configurator.build_life.required_records import RequiredRecord
from configurator.build_spec.days import day_in_words
from configurator.build_spec.spec import Spec
from configurator.catalog.models.as_built import Bound, ComputedBound, RecordValue
from configurator.catalog.models.component import Slot

YES, NO = "yes", "no"


@dataclass(frozen=True)
class ValueVerdict:
    """One value held against its limits."""

    value: RecordValue
    given: float | str | None
    at_least: float | None
    at_most: float | None
    in_tolerance: bool | None
    """None where it is not there, or where what it is held against is not computed."""
    limit: str
    """In words, such as "813.4 to 873.4 kg"; empty where nothing bounds it."""

    @property
    def said(self) -> str:
        """The value as people read it.

        Examples
        --------
        >>> from configurator.catalog.models.as_built import RecordValue
        >>> ohm = RecordValue(id="worst", label="Worst point", unit="Ω")
        >>> ValueVerdict(ohm, 0.018, None, 0.1, True, "at most 0.1 Ω").said
        '0.018 Ω'
        """
        if self.given is None:
            return ""
        return self.given if isinstance(self.given, str) else figure(self.given, self.value.unit)


@dataclass(frozen=True)
class RecordVerdict:
    """How a record that is needed stands."""

    record: RequiredRecord
    made: AsBuiltRecorded | None
    values: tuple[ValueVerdict, ...]
    is_present: bool
    in_tolerance: bool | None
    """None where it is not there, or cannot be judged."""
    value: float | str | None
    """The one that decides: the first out of tolerance, else the first number."""
    bound: float | None
    unit: str
    source: str
    counts: bool
    """It is there, and of what is fitted now."""
    words: str
    """The verdict in a sentence, with number, limit and source."""

    @property
    def is_settled(self) -> bool:
        """Whether it stands in nobody's way."""
        return not self.record.blocks or (self.is_present and self.in_tolerance is True)


def record_verdicts(
    required: Sequence[RequiredRecord],
    records: Sequence[AsBuiltRecorded],
    spec: Spec,
    outdated: Collection[tuple[str, Slot | None]] = (),
) -> tuple[RecordVerdict, ...]:
    """Hold what was recorded against its limits.

    Parameters
    ----------
    required : sequence of RequiredRecord
        What the vehicle needs.
    records : sequence of AsBuiltRecorded
        The records that count, as `Life.records` gives them.
    spec : Spec
        The issued spec, whose computed values are the limits.
    outdated : collection
        (record, slot) measured when another component was fitted; they are measured again.

    Returns
    -------
    tuple of RecordVerdict
        One for each that is needed, in the same order.
    """
    made = {(record.record, record.slot): record for record in records}
    return tuple(
        _verdict(record, made.get(record.key), spec, is_outdated=record.key in outdated)
        for record in required
    )


def figure(value: float, unit: str = "") -> str:
    """Write a measured number with its unit, without idle decimals.

    Examples
    --------
    >>> figure(843.0, "kg"), figure(0.018, "Ω"), figure(53.3, "%"), figure(2400.0)
    ('843 kg', '0.018 Ω', '53.3 %', '2,400')
    """
    return f"{value:,.4f}".rstrip("0").rstrip(".") + (f" {unit}" if unit else "")


def _verdict(
    record: RequiredRecord, made: AsBuiltRecorded | None, spec: Spec, *, is_outdated: bool
) -> RecordVerdict:
    values = tuple(_held(value, made, spec) for value in record.values)
    against = (
        () if made is None else (*_against_whole(record, made, is_outdated), *_against(values))
    )
    unknown = [held for held in values if held.in_tolerance is None]
    decides = _deciding(values)
    if made is None:
        in_tolerance, words = None, "Not on record yet."
    elif against:
        in_tolerance, words = False, " ".join(against)
    elif unknown:
        what = ", ".join(held.value.label for held in unknown)
        words = f"Cannot be judged: what bounds it is not computed for this build ({what})."
        in_tolerance = None
    else:
        in_tolerance, words = True, _kept(values)
    if made is not None and any(held.limit for held in values):
        words = f"{words} Source: {record.source}."
    return RecordVerdict(
        record=record,
        made=made,
        values=values,
        is_present=made is not None,
        in_tolerance=in_tolerance,
        value=decides.given,
        bound=_crossed(decides),
        unit=decides.value.unit,
        source=record.source,
        counts=made is not None and not is_outdated,
        words=words,
    )


def _against_whole(
    record: RequiredRecord, made: AsBuiltRecorded, is_outdated: bool
) -> Sequence[str]:
    found = []
    if is_outdated:
        found.append("It was measured when another part was fitted; measure it again.")
    if record.needs_instrument and not made.instrument:
        found.append("No instrument is named.")
    if record.needs_calibration and made.calibrated_until is None:
        found.append("Nothing says until when the instrument's calibration counts.")
    elif record.needs_calibration and made.calibrated_until is not None:
        ended = made.calibrated_until
        if ended < made.measured_on:
            found.append(
                f"The calibration of {made.instrument} ended on {day_in_words(ended)}, before the "
                f"day of measurement, {day_in_words(made.measured_on)}."
            )
    return found


def _against(values: Sequence[ValueVerdict]) -> Sequence[str]:
    return [
        f"{held.value.label}: {held.said or 'not on record'}; it must be {held.limit or 'told'}."
        for held in values
        if held.in_tolerance is False
    ]


def _kept(values: Sequence[ValueVerdict]) -> str:
    told = [f"{held.value.label}: {held.said}, {held.limit}" for held in values if held.limit]
    return f"{'; '.join(told)}." if told else "On record."


def _held(value: RecordValue, made: AsBuiltRecorded | None, spec: Spec) -> ValueVerdict:
    given = None if made is None else made.values.get(value.id)
    low, high = _number(value.at_least, spec), _number(value.at_most, spec)
    limit = _limit(value, low, high)
    is_unknown = (value.at_least is not None and low is None) or (
        value.at_most is not None and high is None
    )
    return ValueVerdict(value, given, low, high, _keeps(value, given, low, high, is_unknown), limit)


def _keeps(
    value: RecordValue,
    given: float | str | None,
    low: float | None,
    high: float | None,
    is_unknown: bool,
) -> bool | None:
    if given is None:
        return False
    if value.kind == "yes-no":
        return given == YES
    if value.kind == "text" or isinstance(given, str):
        return value.kind == "text" and bool(str(given).strip())
    if (low is not None and given < low) or (high is not None and given > high):
        return False
    return None if is_unknown else True


def _number(bound: Bound | None, spec: Spec) -> float | None:
    if not isinstance(bound, ComputedBound):
        return bound
    computed = computed_value(spec, bound.of)
    return None if computed is None else round(computed * bound.percent / 100 + bound.plus, 4)


def _limit(value: RecordValue, low: float | None, high: float | None) -> str:
    if value.kind == "yes-no":
        return YES
    if low is not None and low == high:
        return f"exactly {figure(low, value.unit)}"
    if low is not None and high is not None:
        return f"{figure(low)} to {figure(high, value.unit)}"
    if low is not None:
        return f"at least {figure(low, value.unit)}"
    if high is not None:
        return f"at most {figure(high, value.unit)}"
    return ""


def _deciding(values: Sequence[ValueVerdict]) -> ValueVerdict:
    for held in values:
        if held.in_tolerance is False and held.given is not None:
            return held
    return next((held for held in values if held.value.kind == "number"), values[0])


def _crossed(held: ValueVerdict) -> float | None:
    """Give the bound that was crossed, else the one there is."""
    low, high, given = held.at_least, held.at_most, held.given
    if isinstance(given, float) and high is not None and given > high:
        return high
    return high if low is None else low
