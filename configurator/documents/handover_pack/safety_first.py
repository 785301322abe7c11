"""Safety first: what everybody must know before driving or charging."""

from __future__ import annotations

from reportlab.platypus import Flowable

from configurator.build_spec.spec import Spec
from configurator.documents.finding_blocks import finding_blocks
from configurator.documents.handover_pack.high_voltage import voltage_panels
from configurator.documents.handover_pack.pack_issue import PackIssue
from configurator.documents.headings import subheading
from configurator.documents.paragraphs import words
from configurator.documents.text_blocks import text_blocks

_OF_THE_DEAL = frozenset({"GBP", "weeks"})
"""Units of findings about price and date, which say nothing about the vehicle."""


def safety_first_blocks(spec: Spec, issue: PackIssue | None = None) -> list[Flowable]:
    """Warn of the voltage aboard, the workshop's safety texts, and what the checks found."""
    return [
        words(
            "The vehicle drives silently, pulls away at once and carries a large battery. Read "
            "this section before the first drive."
        ),
        *voltage_panels(spec),
        *text_blocks(spec, "safety"),
        subheading("What the checks of this build found"),
        words("These are computed checks. They inform; none is an approval." + _why(issue)),
        *finding_blocks(
            [found for found in spec.findings if found.unit not in _OF_THE_DEAL],
            is_built=issue is not None,
        ),
    ]


def _why(issue: PackIssue | None) -> str:
    if issue is None or not issue.answered:
        return ""
    return " Why the vehicle is handed over although one warns stands under Revisions."
