"""What stays in sight during the talk: price, range, weights, dates, what is open."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from configurator.app.view_models.words import (
    count,
    day,
    day_from_to,
    from_to,
    money_from_to,
    time_from_to,
)
from configurator.build_spec.derivations.explain import Key
from configurator.build_spec.sentences import listed
from configurator.build_spec.spec import Axle, Finding, RangeLine, Spec
from configurator.build_spec.standing import PriceFromTo
from configurator.build_spec.weights_result import Heaviest, WeightVerdict
from configurator.catalog.models.rule import FactName

KERB: Key = ("kerb_mass_kg", None)
WITHIN = "within its limit"
VERDICT_STATES: dict[WeightVerdict, str] = {
    "kept": WITHIN,
    "may be beyond": "may be over its limit",
    "beyond": "over its limit",
}
SEVERITY_WORDS = {"blocks": "Must be solved", "warns": "Look at this", "notes": "Good to know"}


@dataclass(frozen=True)
class Figure:
    """A figure with its name and what it rests on."""

    label: str
    value: str
    note: str = ""
    worked_out: Key | None = None
    """The fact whose working shows how it came about."""


@dataclass(frozen=True)
class AxleBar:
    """An axle's laden load against its limit; shares of the bar's length [%]."""

    label: str
    load: str
    limit: str
    state: str
    is_within: bool
    low_percent: float
    high_percent: float
    limit_low_percent: float
    limit_high_percent: float
    worked_out: Key
    known: str = ""
    """Of a complete build: when the axle carries most, and what that is computed from."""


@dataclass(frozen=True)
class OpenChoice:
    """A choice still to make, and until when."""

    label: str
    until: str


@dataclass(frozen=True)
class FindingLine:
    """A finding in words."""

    severity: str
    heading: str
    sentence: str
    remedy: str


@dataclass(frozen=True)
class Summary:
    """The figures beside the talk."""

    ranges: tuple[Figure, ...]
    kerb: Figure
    axles: tuple[AxleBar, ...]
    axles_in_brief: Figure
    finish: Figure
    charging: Figure | None
    open_choices: tuple[OpenChoice, ...]
    findings: tuple[FindingLine, ...]
    is_settled: bool


def summary_of(spec: Spec) -> Summary:
    """Prepare the summary of a spec.

    Parameters
    ----------
    spec : Spec
        Complete or with open groups.

    Returns
    -------
    Summary
        All text; every from–to is widened to the digits shown.
    """
    axles = (_axle_bar(spec, spec.weights.front), _axle_bar(spec, spec.weights.rear))
    return Summary(
        ranges=_ranges(spec),
        kerb=_kerb(spec),
        axles=axles,
        axles_in_brief=_axles_in_brief(axles),
        finish=_finish(spec),
        charging=_charging(spec),
        open_choices=tuple(
            OpenChoice(group.group_label, f"by {day(group.close_by)} ({group.closes_at})")
            for group in spec.open_groups
        ),
        findings=finding_lines(spec.findings),
        is_settled=spec.is_complete,
    )


def finding_lines(findings: Sequence[Finding]) -> tuple[FindingLine, ...]:
    """Say the findings, the gravest first."""
    gravity = list(SEVERITY_WORDS)
    return tuple(
        FindingLine(
            finding.severity, SEVERITY_WORDS[finding.severity], finding.sentence, finding.remedy
        )
        for finding in sorted(findings, key=lambda finding: gravity.index(finding.severity))
    )


def price_figure(price: PriceFromTo, still_open: int) -> Figure:
    """Say the price as a from–to with what is still open."""
    vat = f"{price.vat_percent.normalize():f} % VAT included"
    rest = f", {count(still_open, 'choice', 'choices')} still open" if still_open else ""
    return Figure(
        "Price", money_from_to(price.low_gbp, price.high_gbp), f"{vat}{rest}", ("price_gbp", None)
    )


def _ranges(spec: Spec) -> tuple[Figure, ...]:
    lines = {line.case_id: line for line in spec.ranges}
    return tuple(
        Figure(
            line.label,
            from_to(line.low_km, line.high_km, "km"),
            _conditions(line),
            ("range_low_km", case_id),
        )
        for case_id in spec.workshop.headline_cases
        if (line := lines.get(case_id)) is not None
    )


def _conditions(line: RangeLine) -> str:
    """Say the conditions, and of a complete build what makes the band so wide."""
    if not line.widened_by:
        return line.conditions
    causes = ", ".join(cause.input.label.lower() for cause in line.widened_by)
    return (
        f"{line.conditions}; the band is this wide mostly for the doubt about {causes}; what "
        f"narrows it: {line.widened_by[0].narrowed_by}"
    )


def _kerb(spec: Spec) -> Figure:
    weights = spec.weights
    if weights.measured_kerb_kg is not None:
        return Figure("Kerb mass", f"{weights.measured_kerb_kg:,.0f} kg", "as weighed", KERB)
    return Figure(
        "Kerb mass",
        from_to(weights.kerb_low_kg, weights.kerb_high_kg, "kg"),
        f"computed, ± {2 * weights.kerb_sigma_kg:.0f} kg until weighed",
        KERB,
    )


def _axle_bar(spec: Spec, axle: Axle) -> AxleBar:
    is_front, heaviest = axle.axle == "front", axle.heaviest
    name: FactName = "front_axle_margin_kg" if is_front else "rear_axle_margin_kg"
    # Load and limit may move together, so their margin says more than the two from–tos.
    margin = spec.fact(name)
    least = margin.low if margin else axle.limit_low_kg - axle.laden_high_kg
    most = margin.high if margin else axle.limit_high_kg - axle.laden_low_kg
    checked = next((check.verdict for check in spec.weights.checks if check.fact == name), None)
    state = VERDICT_STATES[checked] if checked else _axle_state(least, most)
    scale = max(axle.laden_high_kg, axle.limit_high_kg) * 1.05
    limited_by = "" if axle.limited_by == "open" else f" ({axle.limited_by})"
    return AxleBar(
        label="Front axle" if is_front else "Rear axle",
        load=_axle_load(axle),
        limit=f"{from_to(axle.limit_low_kg, axle.limit_high_kg, 'kg')}{limited_by}",
        state=state,
        known=_how_known(heaviest) if heaviest else "",
        is_within=state == WITHIN,
        low_percent=100 * axle.laden_low_kg / scale,
        high_percent=100 * axle.laden_high_kg / scale,
        limit_low_percent=100 * axle.limit_low_kg / scale,
        limit_high_percent=100 * axle.limit_high_kg / scale,
        worked_out=("laden_front_axle_kg" if is_front else "laden_rear_axle_kg", None),
    )


def _axle_load(axle: Axle) -> str:
    if axle.heaviest is None:
        return from_to(axle.laden_low_kg, axle.laden_high_kg, "kg")
    spread = 2 * axle.heaviest.sigma_kg
    return f"{axle.laden_high_kg:,.0f} ± {spread:,.0f} kg"


def _how_known(heaviest: Heaviest) -> str:
    known = "computed from the weighed kerb mass" if heaviest.rests_on_weighed else "computed"
    return f"{heaviest.when}, {known}"


def _axles_in_brief(axles: Sequence[AxleBar]) -> Figure:
    beyond = [axle for axle in axles if not axle.is_within]
    if not beyond:
        return Figure("Laden axles", "within limits")
    return Figure("Laden axles", f"{listed([axle.label.lower() for axle in beyond])}: look below")


def _axle_state(least_margin_kg: float, most_margin_kg: float) -> str:
    if most_margin_kg < 0:
        return VERDICT_STATES["beyond"]
    return "depends on open choices" if least_margin_kg < 0 else WITHIN


def _finish(spec: Spec) -> Figure:
    plan = spec.plan
    return Figure(
        "Earliest finish",
        day_from_to(plan.earliest_handover, plan.latest_handover),
        f"if work starts on {day(plan.start)}",
        ("handover_weeks", None),
    )


def _charging(spec: Spec) -> Figure | None:
    overnight = spec.workshop.overnight_source
    line = next((line for line in spec.charging if line.source_id == overnight), None)
    if line is None:
        return None
    share = f"{line.from_percent:.0f} to {line.to_percent:.0f} %"
    hours = time_from_to(line.low_hours, line.high_hours)
    return Figure(
        "Overnight charging", hours, f"{line.label}, {share}", ("charging_hours", overnight)
    )
