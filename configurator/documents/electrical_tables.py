"""The electrical set as tables: every check with its numbers, for the workshop's own papers."""

from __future__ import annotations

from itertools import groupby

from reportlab.platypus import Flowable

from configurator.build_spec.electrical_check import ElectricalCheck, Verdict
from configurator.build_spec.electrical_section import COMPETENT_PERSON, HIGH_VOLTAGE_WORK
from configurator.build_spec.spec import Spec
from configurator.documents.figures import number
from configurator.documents.headings import subheading
from configurator.documents.paragraphs import small, words
from configurator.documents.safety_panel import safety_panel
from configurator.documents.tables import headed_table

VERDICT_WORDS: dict[Verdict, str] = {
    "kept": "kept",
    "beyond": "BEYOND THE BOUND",
    "not stated": "NOT STATED",
    "to measure": "to be measured",
    "told": "",
}


def electrical_blocks(spec: Spec) -> list[Flowable]:
    """Print the caution, then a table for each part of the set with value, bound and source."""
    blocks: list[Flowable] = [safety_panel(HIGH_VOLTAGE_WORK), words(COMPETENT_PERSON)]
    if not spec.electrical:
        return [*blocks, small("While choices are open the electrical set is not checked.")]
    for topic, group in groupby(spec.electrical, key=lambda check: check.topic):
        blocks += [subheading(topic), _table(list(group))]
    return blocks


def check_figure(check: ElectricalCheck, value: float | None) -> str:
    """Write a value or bound of a check with its unit; a dash where there is none."""
    if value is None:
        return "—"
    return f"{number(value, check.decimals)} {check.unit}".rstrip()


def _table(checks: list[ElectricalCheck]) -> Flowable:
    rows = [
        (
            check.label,
            check_figure(check, check.value),
            f"{check.bound_is} {check_figure(check, check.bound)}" if check.bound_is else "",
            "" if check.margin is None else check_figure(check, check.margin),
            _verdict_words(check),
            _how(check, checks[place - 1] if place else None),
        )
        for place, check in enumerate(checks)
    ]
    head = ("Check", "Value", "Bound", "Room", "Verdict", "How, and from where")
    return headed_table(head, rows, (0.22, 0.09, 0.14, 0.085, 0.095, 0.37), figures=(1, 2, 3))


def _verdict_words(check: ElectricalCheck) -> str:
    words = VERDICT_WORDS[check.verdict]
    if not check.recorded:
        return words
    return "measured, not judged" if check.verdict == "to measure" else f"{words}, as measured"


def _how(check: ElectricalCheck, above: ElectricalCheck | None) -> str:
    missing = f" Missing: {check.missing}." if check.missing else ""
    if check.recorded:
        missing = f"{missing} On record: {check.recorded}."
    if above is not None and (above.formula, above.source) == (check.formula, check.source):
        return f"As above.{missing}"
    return f"{check.formula[:1].upper()}{check.formula[1:]}. Source: {check.source}.{missing}"
