"""Warnings, each with the reason an engineer wrote for going on."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.platypus import Flowable

from configurator.build_life.entries import WarningAnswered
from configurator.build_spec.spec import Finding
from configurator.documents.paragraphs import small
from configurator.documents.tables import headed_table


def answered_warnings(
    findings: Sequence[Finding], answered: Sequence[WarningAnswered]
) -> list[Flowable]:
    """Print each answered warning beside its reason, or that no check warned."""
    if not answered:
        return [small("No check warned.")]
    told: dict[tuple[str, str], str] = {}
    for found in findings:
        key = (found.code, found.subject)
        told[key] = f"{told.get(key, '')} {found.sentence}".strip()
    rows = [(told.get((a.code, a.subject), a.subject), a.reason) for a in answered]
    return [headed_table(("What the check said", "Why the work goes on"), rows, (0.55, 0.45))]
