"""Whether workshop, stages, driving cases, charging sources and survey fit together."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from configurator.catalog.cross_checks import names
from configurator.catalog.draft import Draft
from configurator.errors import Fault

WHOLE_PERCENT = Decimal(100)


def workshop_faults(draft: Draft) -> Iterator[Fault]:
    """Yield what the workshop names that does not exist, and VAT stated twice."""
    for entry in draft.workshop:
        at = names.place(entry)
        workshop = entry.value
        cases, sources = names.known_cases(draft), names.known_sources(draft)
        yield from names.all_named(at.at("headline_cases"), workshop.headline_cases, cases)
        yield from names.named(at.at("overnight_source"), workshop.overnight_source, sources)
        at_day, cycles = names.place(entry, "day"), _known_cycles(draft)
        yield from names.named(at_day.at("town"), workshop.day.town, cycles)
        yield from names.named(at_day.at("country"), workshop.day.country, cycles)
        days = [vat.valid_from for vat in workshop.vat]
        for number, day in enumerate(days):
            if day in days[:number]:
                what = f"VAT is stated twice from {day}; on each day one percentage holds"
                where = entry.where("vat", number, "valid_from")
                yield Fault("C077", where, what, "Take one of the two out.")


def stage_faults(draft: Draft) -> Iterator[Fault]:
    """Yield a fault if what is due at the stages does not add up to the price."""
    if not draft.stages.is_whole:
        return
    due = sum((stage.due_percent for stage in draft.stages.values), Decimal(0))
    if draft.stages.entries and due != WHOLE_PERCENT:
        where = draft.stages.entries[0].raw.document.where(())
        what = f"the stages' due_percent add up to {due}; the whole price is 100"
        difference = WHOLE_PERCENT - due
        yield Fault("C062", where, what, f"Change one of them by {difference:+}.")


def driving_case_faults(draft: Draft) -> Iterator[Fault]:
    """Yield driving cases that say two ways of driving or none, or an unknown cycle."""
    known = _known_cycles(draft)
    for entry in draft.driving_cases:
        case = entry.value
        yield from names.named(names.place(entry, "cycle"), case.cycle, known)
        if (case.cycle is None) == (case.steady_km_h is None):
            what = f'driving case "{case.id}" needs one of "cycle" and "steady_km_h"'
            yield Fault("C072", entry.where("id"), what, "Give exactly one of the two.")


def _known_cycles(draft: Draft) -> names.Known:
    cycles = frozenset(cycle.id for cycle in draft.cycles)
    return names.Known("driving cycle", "C052", cycles, is_certain=True)


def charging_source_faults(draft: Draft) -> Iterator[Fault]:
    """Yield charging sources whose percentages run backwards or whose phases do not fit."""
    for entry in draft.charging_sources:
        source = entry.value
        if source.from_percent >= source.to_percent:
            span = f"from {source.from_percent:g} to {source.to_percent:g} %"
            what = f"it charges {span}; that is no charging"
            remedy = "Make to_percent the greater of the two."
            yield Fault("C073", entry.where("from_percent"), what, remedy)
        if (source.supply == "dc") != (source.phases == 0):
            what = f"the supply is {source.supply} with {source.phases} phases"
            yield Fault(
                "C074",
                entry.where("phases"),
                f"{what}; direct current has none, alternating current 1 or 3",
                "Write 0 for dc, 1 or 3 for ac.",
            )


def survey_faults(draft: Draft) -> Iterator[Fault]:
    """Yield trades and stages of survey parts that do not exist."""
    trades, stages = names.known_trades(draft), names.known_stages(draft)
    for entry in draft.survey_templates:
        for number, part in enumerate(entry.value.parts):
            at = names.place(entry, "parts", number)
            yield from names.named(at.at("trade"), part.trade, trades)
            yield from names.named(at.at("stage"), part.stage, stages)


def country_rule_faults(draft: Draft) -> Iterator[Fault]:
    """Yield rules of law that end before they begin."""
    for entry in draft.country_rules:
        rule = entry.value
        if rule.valid_until is not None and rule.valid_until < rule.valid_from:
            what = f"it is valid until {rule.valid_until}, before {rule.valid_from}"
            remedy = "Put the two dates in order."
            yield Fault("C073", entry.where("valid_until"), f"{what}; nobody would see it", remedy)
