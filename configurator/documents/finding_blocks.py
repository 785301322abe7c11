"""Findings with the numbers they compare."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.platypus import Flowable, Paragraph

from configurator.build_spec.spec import Finding
from configurator.documents.figures import number
from configurator.documents.glyphs import markup
from configurator.documents.paragraphs import small
from configurator.documents.styles import CELL
from configurator.documents.tables import headed_table

SEVERITY_WORDS = {"blocks": "Blocks", "warns": "Warns", "notes": "Notes"}
_ORDER = ("blocks", "warns", "notes")


def finding_blocks(findings: Sequence[Finding]) -> list[Flowable]:
    """List findings, the gravest first, or say that there are none."""
    if not findings:
        return [small("Nothing found that breaks or comes near a rule or a limit.")]
    ordered = sorted(findings, key=lambda finding: _ORDER.index(finding.severity))
    rows = [
        (SEVERITY_WORDS[finding.severity], _sentence(finding), _numbers(finding))
        for finding in ordered
    ]
    head = ("", "What was found, and what mends it", "Computed and limit")
    return [headed_table(head, rows, (0.1, 0.64, 0.26), figures=(2,), strong=(0,))]


def _sentence(finding: Finding) -> Paragraph:
    remedy = f" <i>{markup(finding.remedy)}</i>" if finding.remedy else ""
    return Paragraph(f"{markup(finding.sentence)}{remedy}", CELL)


def _numbers(finding: Finding) -> str:
    parts = [
        f"{label} {number(value, _decimals(value))} {finding.unit}".rstrip()
        for label, value in (("", finding.value), ("limit", finding.bound))
        if value is not None
    ]
    return "\n".join(part.strip() for part in parts)


def _decimals(value: float) -> int:
    return 0 if abs(value) >= 100 else 1
