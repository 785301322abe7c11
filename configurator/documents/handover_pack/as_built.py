"""The vehicle as built: what was ordered, what was built, and the evidence."""

from __future__ import annotations

from collections.abc import Mapping

from reportlab.platypus import Flowable, Table

from configurator.build_spec.spec import FittedComponent, Spec
from configurator.catalog.models.as_built import MARKS_LABEL
from configurator.documents.handover_pack.ordered_and_measured import ordered_and_measured_blocks
from configurator.documents.handover_pack.pack_issue import PackIssue
from configurator.documents.headings import subheading
from configurator.documents.law_blocks import law_table, rules_for
from configurator.documents.paragraphs import small, words
from configurator.documents.spec_sheet.choices import ORIGIN_WORDS
from configurator.documents.tables import headed_table
from configurator.documents.weight_tables import ledger_table

TO_RECORD = "to be recorded"
AS_ORDERED = "as ordered"
BY_STATEMENT = "the workshop's statement"

SLOT_WORDS = {
    "pack": "Drive battery",
    "motor": "Motor and inverter",
    "reduction": "Reduction gear",
    "charger": "On-board charger",
    "dc_inlet": "Rapid-charging inlet",
    "heater": "Cabin heater",
    "converter": "12 V converter",
    "traction_cable": "High-voltage cables",
    "main_fuse": "Main fuse",
    "main_contactor": "Main contactors",
    "pre_charge": "Pre-charge",
    "tyre": "Tyres",
    "wheel": "Wheels",
}


def as_built_blocks(spec: Spec, issue: PackIssue | None = None) -> list[Flowable]:
    """List choices, components with serial numbers, what was measured, survey, masses, law."""
    return [
        words(_about(issue)),
        _ordered_table(spec, issue),
        subheading("Components of the drive and running gear"),
        _component_table(spec),
        *ordered_and_measured_blocks(spec),
        *_survey_blocks(spec),
        *_ledger_blocks(spec),
        *_law_blocks(spec),
    ]


def _about(issue: PackIssue | None) -> str:
    if issue is None:
        return "Ordered is what the spec says. Built and evidence are filled in from the vehicle."
    return (
        f"Ordered is what spec {issue.letter} says. {issue.issued_by}, states with this revision "
        "that the vehicle was built so. Evidence was read or measured on it: serial numbers below, "
        "records under Test certificates."
    )


def _ordered_table(spec: Spec, issue: PackIssue | None) -> Table:
    rows = [
        (
            choice.group_label,
            f"{choice.option_label} ({ORIGIN_WORDS[choice.origin]})",
            TO_RECORD if issue is None else AS_ORDERED,
            "" if issue is None else issue.evidence.get(choice.group_id, BY_STATEMENT),
        )
        for choice in spec.choices
    ]
    head = ("Question", "Ordered", "Built", "Evidence")
    return headed_table(head, rows, (0.18, 0.3, 0.14, 0.38))


def _component_table(spec: Spec) -> Table | Flowable:
    if not spec.fitted:
        return small("No component is fitted by these choices.")
    rows = [
        (SLOT_WORDS[fitted.slot], fitted.component.label, fitted.component.maker, _serial(fitted))
        for fitted in spec.fitted
    ]
    return headed_table(
        ("Part", "Ordered", "Maker", "Serial number"), rows, (0.2, 0.35, 0.22, 0.23)
    )


def _serial(fitted: FittedComponent) -> str:
    return f"{fitted.serial_number} (read)" if fitted.serial_number else TO_RECORD


def _survey_blocks(spec: Spec) -> list[Flowable]:
    """Tell every part of the donor, also what nobody looked at, with what was read on it."""
    if not spec.survey and not spec.not_surveyed:
        return []
    built = spec.build.as_built
    read = {record.label: record.value for record in built.records} if built else {}
    rows: list[tuple[str, str, str, str]] = [
        (result.label, result.verdict, _origin(result.label, result.origin, read), result.note)
        for result in spec.survey
    ]
    rows += [(label, "not surveyed", _origin(label, "", read), "") for label in spec.not_surveyed]
    head = ("Part of the donor", "Verdict", "Origin, marks read on it", "Note")
    return [
        subheading("What the survey of the donor said"),
        headed_table(head, rows, (0.22, 0.12, 0.38, 0.28)),
    ]


def _origin(label: str, origin: str, read: Mapping[str, str]) -> str:
    """Say where a part comes from, and what was read on it."""
    marks = read.get(MARKS_LABEL.format(part=label), "")
    return "; ".join(words for words in (origin, marks) if words) or "not stated"


def _ledger_blocks(spec: Spec) -> list[Flowable]:
    if not spec.ledger:
        return []
    return [subheading("What was taken out and put in"), ledger_table(spec.ledger)]


def _law_blocks(spec: Spec) -> list[Flowable]:
    rules = rules_for(spec, "owner")
    if not rules:
        return []
    return [subheading(f"What the law asks, {spec.workshop.country}"), *law_table(rules)]
