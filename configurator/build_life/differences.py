"""What differs between two specs, item by item, as a change order tells it."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from datetime import date
from decimal import Decimal
from typing import TypeVar

from configurator.build_life.text_changes import TextChanged, text_changes
from configurator.build_spec.spec import Axle, PriceLine, RangeLine, Spec
from configurator.build_spec.survey import second_donor_words
from configurator.catalog.models.data import Data

Item = TypeVar("Item")
STILL_OPEN = "still open"


class WordsChanged(Data):
    """Something said in words: a choice, a verdict of the survey; None where there is none."""

    label: str
    before: str | None
    after: str | None


class LineChanged(Data):
    """A printed line [GBP with VAT]; None where there is none."""

    id: str
    label: str
    before_gbp: Decimal | None
    after_gbp: Decimal | None
    is_another_choice: bool
    """Of an option beside another than was ordered; not of what was open till now, was found on
    the donor, settles a sum or is a discount."""

    @property
    def change_gbp(self) -> Decimal:
        """What it adds to the price."""
        return (self.after_gbp or Decimal(0)) - (self.before_gbp or Decimal(0))


class SpanChanged(Data):
    """A figure as a from–to, in its unit; None where it cannot be told."""

    label: str
    unit: str
    before: tuple[float, float] | None
    after: tuple[float, float] | None
    limit: tuple[float, float] | None = None
    """Of the later spec."""


class DatesChanged(Data):
    """The earliest handover, from–to."""

    before: tuple[date, date]
    after: tuple[date, date]


class SpecDifferences(Data):
    """Everything that differs; empty parts where nothing does."""

    before_sha256: str
    after_sha256: str
    choices: tuple[WordsChanged, ...] = ()
    survey: tuple[WordsChanged, ...] = ()
    lines: tuple[LineChanged, ...] = ()
    total_before_gbp: tuple[Decimal, Decimal]
    total_after_gbp: tuple[Decimal, Decimal]
    masses: tuple[SpanChanged, ...] = ()
    ranges: tuple[SpanChanged, ...] = ()
    handover: DatesChanged | None = None
    texts: tuple[TextChanged, ...] = ()
    findings: tuple[WordsChanged, ...] = ()

    @property
    def price_change_gbp(self) -> Decimal:
        """What the printed lines add together."""
        return sum((line.change_gbp for line in self.lines), Decimal(0))


def spec_differences(before: Spec, after: Spec) -> SpecDifferences:
    """Compare two specs of one build.

    Parameters
    ----------
    before, after : Spec
        Issued, or proposed.

    Returns
    -------
    SpecDifferences
        Each choice, line, mass, axle load, range band, date, text and finding that differs.
    """
    price, later = before.price, after.price
    return SpecDifferences(
        before_sha256=before.sha256(),
        after_sha256=after.sha256(),
        choices=_words(_choices(before), _choices(after)),
        survey=_words(_survey(before), _survey(after)),
        lines=_lines(price.lines, later.lines, {group.group_id for group in before.open_groups}),
        total_before_gbp=(price.total_low_gbp, price.total_high_gbp),
        total_after_gbp=(later.total_low_gbp, later.total_high_gbp),
        masses=_masses(before, after),
        ranges=_ranges(before.ranges, after.ranges),
        handover=_handover(before, after),
        texts=text_changes(before.texts, after.texts),
        findings=_words(_findings(before), _findings(after)),
    )


def altered_amounts_gbp(lines: Iterable[LineChanged]) -> tuple[tuple[Decimal, Decimal], ...]:
    """Pair what a choice cost with what it costs now: one option going out, another coming in.

    What was open till now, is found on the donor or settles a provisional sum is no change of
    mind, and left out.

    Examples
    --------
    >>> told = {"label": "Floor", "before_gbp": None, "after_gbp": None, "is_another_choice": True}
    >>> gone = LineChanged(**{**told, "id": "floor.mat", "before_gbp": Decimal(50)})
    >>> come = LineChanged(**{**told, "id": "floor.oak", "after_gbp": Decimal(80)})
    >>> altered_amounts_gbp([come, gone])
    ((Decimal('50'), Decimal('80')),)
    """
    before: dict[str, Decimal] = {}
    after: dict[str, Decimal] = {}
    for line in lines:
        if not line.is_another_choice:
            continue
        question = line.id.partition(".")[0]
        before[question] = before.get(question, Decimal(0)) + (line.before_gbp or Decimal(0))
        after[question] = after.get(question, Decimal(0)) + (line.after_gbp or Decimal(0))
    return tuple((before[question], after[question]) for question in before)


def _words(
    before: Mapping[str, tuple[str, str]], after: Mapping[str, tuple[str, str]]
) -> tuple[WordsChanged, ...]:
    """Pair (label, words) by key, in the later order, what is gone at the end."""
    changed = []
    for key in [*after, *(key for key in before if key not in after)]:
        was, now = before.get(key), after.get(key)
        if (was and was[1]) != (now and now[1]):
            label = (now or was or ("", ""))[0]
            changed.append(WordsChanged(label=label, before=was and was[1], after=now and now[1]))
    return tuple(changed)


def _choices(spec: Spec) -> dict[str, tuple[str, str]]:
    chosen = {c.group_id: (c.group_label, c.option_label) for c in spec.choices}
    return chosen | {g.group_id: (g.group_label, STILL_OPEN) for g in spec.open_groups}


def _survey(spec: Spec) -> dict[str, tuple[str, str]]:
    donor, second = spec.build.donor, spec.build.second_donor
    told = {
        "Donor as it came": donor.description,
        "Identity mark of the donor": donor.identity_mark,
        "Second donor, for parts": second_donor_words(second),
    }
    # No id of a part has a space in it.
    return {label: (label, words) for label, words in told.items() if words} | {
        part.part_id: (
            part.label,
            f"{part.verdict}; {part.origin}" if part.origin else part.verdict,
        )
        for part in spec.survey
    }


def _findings(spec: Spec) -> dict[str, tuple[str, str]]:
    told: dict[str, tuple[str, str]] = {}
    for found in spec.findings:
        if found.severity != "notes":
            key = f"{found.code}/{found.subject}"
            said = told.get(key, ("", ""))[1]
            told[key] = (found.severity, f"{said} {found.sentence}".strip())
    return told


def _lines(
    before: Iterable[PriceLine], after: Iterable[PriceLine], were_open: Collection[str]
) -> tuple[LineChanged, ...]:
    was, now = _by_id(before, lambda line: line.id), _by_id(after, lambda line: line.id)
    return tuple(
        LineChanged(
            id=key,
            label=(now.get(key) or was[key]).label,
            before_gbp=was[key].amount_gbp if key in was else None,
            after_gbp=now[key].amount_gbp if key in now else None,
            is_another_choice=(now.get(key) or was[key]).kind == "option"
            and key.partition(".")[0] not in were_open,
        )
        for key in [*now, *(key for key in was if key not in now)]
        if (key in was and was[key].amount_gbp) != (key in now and now[key].amount_gbp)
    )


def _masses(before: Spec, after: Spec) -> tuple[SpanChanged, ...]:
    was, now = before.weights, after.weights
    spans = [
        _span(
            "Kerb mass", (was.kerb_low_kg, was.kerb_high_kg), (now.kerb_low_kg, now.kerb_high_kg)
        ),
        _span(
            "Laden mass",
            (was.laden_low_kg, was.laden_high_kg),
            (now.laden_low_kg, now.laden_high_kg),
            (now.gross_limit_kg, now.gross_limit_kg),
        ),
    ]
    for old, new in ((was.front, now.front), (was.rear, now.rear)):
        spans += _axle(old, new)
    return tuple(span for span in spans if span.before != span.after)


def _axle(old: Axle, new: Axle) -> list[SpanChanged]:
    name, limit = f"{new.axle.capitalize()} axle", (new.limit_low_kg, new.limit_high_kg)
    kerb = (old.kerb_low_kg, old.kerb_high_kg), (new.kerb_low_kg, new.kerb_high_kg)
    laden = (old.laden_low_kg, old.laden_high_kg), (new.laden_low_kg, new.laden_high_kg)
    return [_span(f"{name}, kerb", *kerb, limit), _span(f"{name}, laden", *laden, limit)]


def _span(
    label: str,
    before: tuple[float, float],
    after: tuple[float, float],
    limit: tuple[float, float] | None = None,
) -> SpanChanged:
    return SpanChanged(label=label, unit="kg", before=before, after=after, limit=limit)


def _ranges(before: Iterable[RangeLine], after: Iterable[RangeLine]) -> tuple[SpanChanged, ...]:
    was, now = (_by_id(lines, lambda line: line.case_id) for lines in (before, after))
    spans = [
        SpanChanged(
            label=(now.get(key) or was[key]).label,
            unit="km",
            before=(was[key].low_km, was[key].high_km) if key in was else None,
            after=(now[key].low_km, now[key].high_km) if key in now else None,
        )
        for key in [*now, *(key for key in was if key not in now)]
    ]
    return tuple(span for span in spans if span.before != span.after)


def _handover(before: Spec, after: Spec) -> DatesChanged | None:
    was = (before.plan.earliest_handover, before.plan.latest_handover)
    now = (after.plan.earliest_handover, after.plan.latest_handover)
    return None if was == now else DatesChanged(before=was, after=now)


def _by_id(items: Iterable[Item], key: Callable[[Item], str]) -> dict[str, Item]:
    return {key(item): item for item in items}
