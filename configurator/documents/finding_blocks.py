"""Findings with the numbers they compare."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from reportlab.platypus import Flowable, Paragraph

from configurator.build_spec.spec import Finding
from configurator.documents.figures import number, pounds
from configurator.documents.glyphs import prose
from configurator.documents.paragraphs import small
from configurator.documents.styles import CELL
from configurator.documents.tables import headed_table

SEVERITY_WORDS = {"blocks": "Blocks", "warns": "Warns", "notes": "Notes"}
_ORDER = ("blocks", "warns", "notes")
_MOST_DECIMALS = 3


def finding_blocks(findings: Sequence[Finding], *, is_built: bool = False) -> list[Flowable]:
    """List findings, the gravest first, or say that there are none.

    Of a vehicle that is built they are told without what would mend them.
    """
    if not findings:
        return [small("Nothing found that breaks or comes near a rule or a limit.")]
    ordered = sorted(findings, key=lambda finding: _ORDER.index(finding.severity))
    rows = [
        (
            SEVERITY_WORDS[finding.severity],
            _sentence(finding, is_built=is_built),
            _numbers(finding),
        )
        for finding in ordered
    ]
    found = "What was found" if is_built else "What was found, and what mends it"
    head = ("", found, "Computed and limit")
    return [headed_table(head, rows, (0.08, 0.74, 0.18), figures=(2,), strong=(0,))]


def _sentence(finding: Finding, *, is_built: bool) -> Paragraph:
    is_told = finding.remedy and not is_built
    remedy = f" <i>{prose(finding.remedy)}</i>" if is_told else ""
    return Paragraph(f"{prose(finding.sentence)}{remedy}", CELL)


def _numbers(finding: Finding) -> str:
    value, bound = finding.value, finding.bound
    decimals = _decimals(value, bound)
    told = "" if value is None else _figure(value, decimals, finding.unit)
    limit = "" if bound is None else f"limit {_figure(bound, decimals, finding.unit)}"
    return "\n".join(filter(None, (told, limit)))


def _figure(value: float, decimals: int, unit: str) -> str:
    if unit == "GBP":
        return pounds(Decimal(str(value)))
    return f"{number(value, decimals)} {unit}".rstrip()


def _decimals(value: float | None, bound: float | None) -> int:
    """Print more digits of a small value, and while one beyond its bound would read like it."""
    greatest = max(abs(found) for found in (value or 0.0, bound or 0.0))
    decimals = 0 if greatest >= 100 else 1 if greatest >= 1 else 2
    if value is None or bound is None or value == bound:
        return decimals
    while decimals < _MOST_DECIMALS and number(value, decimals) == number(bound, decimals):
        decimals += 1
    return decimals
