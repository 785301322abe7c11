"""Whether a draft says something else than the issued spec of its build."""

from __future__ import annotations

from configurator.build_life.life import Life
from configurator.errors import ChoiceError
from configurator.workflow.builds import read_draft
from configurator.workflow.issuing import read_spec
from configurator.workflow.papers import spec_of_draft
from configurator.workflow.premises import Premises

ORDERED = (
    *("choices", "house_choices_for_the_rest", "survey", "discount", "vehicle"),
    *("donor", "second_donor"),
)
"""Fields of a build that the customer ordered."""


def draft_differs(premises: Premises, life: Life, reference: str, revision: int) -> bool:
    """Tell whether a draft orders something else than the last letter; not before there is one.

    Parameters
    ----------
    premises : Premises
        Where the record is.
    life : Life
        Of the build.
    reference : str
        Of the build.
    revision : int
        Of its draft; what was found for it once is remembered.

    Raises
    ------
    RecordError
        If the draft cannot be read, or the issued spec is lost.
    """
    issued = life.issued
    if issued is None or revision <= issued.revision:
        return False
    key = (reference, revision, issued.spec_sha256)
    return premises.drafts_that_differ.get_or_make(
        key, lambda: _differs(premises, life, reference, issued.spec_sha256)
    )


def draft_warns(premises: Premises, reference: str) -> bool:
    """Tell whether a check warns of a draft, so that an engineer has to say why it goes on.

    Of a draft that chooses what the catalog has lost nothing can be said; it is chosen anew first.

    Raises
    ------
    RecordError
        If the draft cannot be read.
    """
    try:
        findings = spec_of_draft(premises, reference).findings
    except ChoiceError:
        return False
    return any(finding.severity == "warns" for finding in findings)


def _differs(premises: Premises, life: Life, reference: str, sha256: str) -> bool:
    before = read_spec(premises, life, sha256).build
    draft = read_draft(premises, reference).build
    return any(getattr(before, field) != getattr(draft, field) for field in ORDERED)
