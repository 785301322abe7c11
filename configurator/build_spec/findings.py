"""Findings: what is broken, near to it, or not yet known, with numbers, source and remedy."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.day_findings import day_findings
from configurator.build_spec.day_result import DayResult
from configurator.build_spec.electrical_check import ElectricalCheck
from configurator.build_spec.electrical_findings import electrical_findings
from configurator.build_spec.fact_names import FACT_LABELS, with_unit
from configurator.build_spec.facts import Extent
from configurator.build_spec.guess_findings import guess_findings
from configurator.build_spec.limit_forms import LimitForms, within
from configurator.build_spec.not_followed import cases_not_followed
from configurator.build_spec.offer import check_choices
from configurator.build_spec.performance_findings import performance_findings
from configurator.build_spec.performance_result import PerformanceLine
from configurator.build_spec.sentences import (
    bound_words,
    contradiction_sentence,
    in_a_sentence,
    source_words,
)
from configurator.build_spec.settle import Settled
from configurator.build_spec.spec import Finding
from configurator.build_spec.survey import of_unknown_origin
from configurator.build_spec.weight_findings import weight_findings, without_near
from configurator.build_spec.weights_result import WeightCheck
from configurator.catalog.models.as_built import MARKS_OF
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.rule import Rule, Severity
from configurator.errors import Fault


def find_all(
    compiled: Compiled,
    build: BuildInput,
    settled: Settled,
    extents: Sequence[Extent],
    *,
    day: DayResult | None = None,
    electrical: Sequence[ElectricalCheck] = (),
    performance: Sequence[PerformanceLine] = (),
    weights: Sequence[WeightCheck] = (),
) -> tuple[Finding, ...]:
    """Gather every finding about a build, those that block first."""
    findings = [
        *_withdrawn(compiled, build),
        *_contradiction(compiled, settled),
        *_broken_rules(compiled, settled),
        *_not_weighed(weights, _limit_findings(compiled, extents)),
        *_unknown_origins(compiled, build),
        *_unweighed_donor(build),
        *unlikely_donor(compiled, build),
        *_not_followed(compiled, settled),
        *day_findings(build.day, day),
        *guess_findings(compiled, settled),
        *electrical_findings(electrical, {forms.limit.limit for forms in compiled.limits}),
        *performance_findings(performance),
        *weight_findings(compiled.offer.vehicle, weights),
    ]
    order: dict[Severity, int] = {"blocks": 0, "warns": 1, "notes": 2}
    told = without_near(findings)
    return tuple(sorted(told, key=lambda finding: order[finding.severity]))


def _not_weighed(weights: Sequence[WeightCheck], findings: Sequence[Finding]) -> list[Finding]:
    """Leave to the weighbridge what it has judged."""
    weighed = {check.limit_id for check in weights if check.is_weighed}
    return [finding for finding in findings if finding.subject not in weighed]


def _not_followed(compiled: Compiled, settled: Settled) -> list[Finding]:
    if len(settled.choices) < len(compiled.offer.groups):
        return []
    return cases_not_followed(compiled, settled.choices)


def breaks_rule(rule: Rule, choices: Mapping[str, str]) -> bool:
    """Tell whether choices, complete or not, already break a rule."""
    if any(choices.get(group) not in options for group, options in rule.when.items()):
        return False
    wrong = any(
        group in choices and choices[group] not in options for group, options in rule.then.items()
    )
    return wrong or any(choices.get(g) in options for g, options in rule.then_not.items())


def _broken_rules(compiled: Compiled, settled: Settled) -> list[Finding]:
    return [
        Finding(
            code="F001",
            severity="blocks",
            subject=rule.id,
            sentence=rule.because,
            source=source_words(rule.source),
            remedy="Change one of the choices it names.",
        )
        for rule in compiled.rules
        if breaks_rule(rule, settled.choices)
    ]


def _limit_findings(compiled: Compiled, extents: Sequence[Extent]) -> list[Finding]:
    """Judge each limit by the side of its fact that is kindest to it while choices are open."""
    by_key = {(extent.name, extent.case): extent for extent in extents}
    findings = []
    for forms in compiled.limits:
        extent = by_key.get((forms.limit.limit, forms.limit.case))
        if extent is not None:
            findings.append(_limit_finding(forms, extent))
    return [finding for finding in findings if finding is not None]


def _limit_finding(forms: LimitForms, extent: Extent) -> Finding | None:
    limit, bound = forms.limit, forms.bound
    kindest = extent.low if limit.at_most is not None else extent.high
    said = (
        f"{limit.label}: {with_unit(limit.limit, kindest)}, {bound_words(forms)}. {limit.because}"
    )

    def finding(code: str, severity: Severity, sentence: str, remedy: str) -> Finding:
        return Finding(
            code=code,
            severity=severity,
            subject=limit.id,
            sentence=sentence,
            value=round(kindest, 3),
            bound=bound,
            unit=FACT_LABELS[limit.limit].unit,
            source=source_words(limit.source),
            remedy=remedy,
        )

    if not within(limit, kindest, bound):
        if limit.severity == "blocks":
            remedy = "Choose something that moves the number back inside the limit."
            return finding("F002", "blocks", said, remedy)
        remedy = "Have the engineer look at it before the spec is agreed."
        return finding("F003", "warns", said, remedy)
    if extent.low == extent.high and _is_near(forms, kindest):
        remedy = "Weigh or measure before promising more."
        return finding("F004", "notes", f"Near its limit. {said}", remedy)
    return None


def _is_near(forms: LimitForms, value: float) -> bool:
    room = abs(forms.bound) * forms.limit.near_percent / 100
    return forms.limit.near_percent > 0 and abs(value - forms.bound) <= room


def _contradiction(compiled: Compiled, settled: Settled) -> list[Finding]:
    if settled.is_possible:
        return []
    conflict = compiled.engine.conflict(settled.picks)
    return [
        Finding(
            code="F006",
            severity="blocks",
            subject=", ".join(group for group, _ in conflict.picks) or "all choices",
            sentence=contradiction_sentence(compiled, conflict),
            source="the catalog's rules and limits",
            remedy="Change one of these choices; the talk shows what fits."
            if conflict.picks
            else "No choice can help. Run `configurator check`, and loosen what it names.",
        )
    ]


def _withdrawn(compiled: Compiled, build: BuildInput) -> list[Finding]:
    return [
        Finding(
            code="F007",
            severity="blocks",
            subject=fault.where,
            sentence=f"{fault.what}. The choice is kept on record but cannot be built.",
            source="the catalog",
            remedy=_what_is_offered(compiled, fault),
        )
        for fault in check_choices(compiled.offer, build.choices)
    ]


def _what_is_offered(compiled: Compiled, fault: Fault) -> str:
    """Name what is offered as people see it; the fault names ids, for those who edit files."""
    group = compiled.offer.group_by_id.get(fault.where.removeprefix("choices."))
    if group is None:
        return "Choose again from what is offered; this choice is then left out."
    names = " or ".join(option.label for option in group.options)
    return f"Choose again for {in_a_sentence(group.label)}: {names}."


def _unknown_origins(compiled: Compiled, build: BuildInput) -> list[Finding]:
    read = {record.id for record in build.as_built.records} if build.as_built else set()
    return [
        Finding(
            code="F005",
            severity="warns",
            subject=surveyed.part.id,
            sentence=(
                f"{surveyed.part.label}: maker and marks are not recorded. A brake, steering or "
                "restraint part of unknown origin blocks the handover."
            ),
            source="common practice, no source",
            remedy="Identify the maker and marks, and record who identified it.",
        )
        for surveyed in compiled.surveyed
        if of_unknown_origin(surveyed.part, surveyed.line)
        and f"{MARKS_OF}{surveyed.part.id}" not in read
    ]


def _unweighed_donor(build: BuildInput) -> list[Finding]:
    built = build.as_built
    if build.donor.axles_were_weighed or (built is not None and built.weighed_kg is not None):
        return []
    return [
        Finding(
            code="F008",
            severity="notes",
            subject="donor",
            sentence="The donor has not been weighed; masses start from the usual figures.",
            source="common practice, no source",
            remedy="Weigh each axle on arrival and enter both figures.",
        )
    ]


UNLIKELY_PERCENT = 25.0
"""A donor this far from the usual weight was weighed or typed wrongly, or is another vehicle."""


def unlikely_donor(compiled: Compiled, build: BuildInput) -> list[Finding]:
    """Warn where a weighed axle is far from the vehicle's usual figure."""
    vehicle, donor = compiled.offer.vehicle, build.donor
    axles = (
        ("front", donor.front_axle_kg, vehicle.donor_front_axle_kg),
        ("rear", donor.rear_axle_kg, vehicle.donor_rear_axle_kg),
    )
    return [
        Finding(
            code="F010",
            severity="warns",
            subject=f"donor-{axle}-axle",
            sentence=(
                f"The donor's {axle} axle was entered as {weighed_kg:,.0f} kg; "
                f"{usual_kg:,.0f} kg is usual for a {vehicle.label}. All masses start from it."
            ),
            value=weighed_kg,
            bound=usual_kg,
            unit="kg",
            source="common practice, no source",
            remedy="Weigh the axle again, or correct the entry, before trusting any axle load.",
        )
        for axle, weighed_kg, usual_kg in axles
        if weighed_kg is not None and abs(weighed_kg - usual_kg) > usual_kg * UNLIKELY_PERCENT / 100
    ]
