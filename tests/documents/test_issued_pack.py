"""A final pack says its revision, who signed and what changed, and no page of it says draft."""

from __future__ import annotations

from datetime import date

from configurator.documents.handover_pack.pack import handover_pack_pdf
from configurator.documents.handover_pack.pack_issue import EarlierIssue, PackIssue
from tests.documents.read_pdf import flat_text, read_pages
from tests.documents.sample_spec import sample_spec

ISSUE = PackIssue(
    revision=2,
    letter="B",
    issued_on=date(2026, 11, 26),
    issued_by="Ada <b>Sample</b>, manager",
    changes=("Isolation was measured again.",),
    signed_by=("Electrical set: Ida Sample, engineer",),
    earlier=(EarlierIssue(1, date(2026, 11, 20), (), "Ada <b>Sample</b>, manager"),),
)


def test_no_page_of_an_issued_pack_says_draft() -> None:
    text = flat_text(read_pages(handover_pack_pdf(sample_spec(), ISSUE)))
    assert "DRAFT" not in text
    assert "This is a draft" not in text
    assert "Revision 2, 26 November 2026" in text


def test_revisions_signatures_and_changes_stand_in_it() -> None:
    text = flat_text(read_pages(handover_pack_pdf(sample_spec(), ISSUE)))
    assert "Revision 1" in text
    assert "first issue" in text
    assert "Isolation was measured again." in text
    assert "Electrical set: Ida Sample, engineer" in text
    assert "Ada <b>Sample</b>, manager" in text
    assert "no approval by an authority" in text


def test_without_an_issue_the_pack_stays_a_draft() -> None:
    text = flat_text(read_pages(handover_pack_pdf(sample_spec())))
    assert "This is a draft" in text
    assert "DRAFT" in text
