"""What an engineer writes beside every warning of a draft."""

from __future__ import annotations

from configurator.workflow.issuing import Answers
from configurator.workflow.papers import spec_of_draft
from configurator.workflow.premises import Premises


def answers_for(premises: Premises, reference: str) -> Answers:
    findings = spec_of_draft(premises, reference).findings
    return {(f.code, f.subject): "Seen and judged" for f in findings if f.severity == "warns"}
