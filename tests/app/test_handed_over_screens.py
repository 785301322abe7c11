"""After the handover the screens say that a record corrects, ask why, and offer the revision."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from configurator.workflow.builds import list_builds
from configurator.workflow.premises import open_premises
from tests.app.conftest import Opener
from tests.app.screens import TINY, by_the_papers, start_enquiry, words
from tests.workflow.led_through_life import hand_it_over


@pytest.fixture
def as_built(open_screens: Opener, tmp_path: Path) -> AppTest:
    """The as-built page of a vehicle that was handed over."""
    talk = start_enquiry(open_screens())
    there = open_premises(TINY, tmp_path / "data")
    (build,) = list_builds(there)
    hand_it_over(there, build.reference, datetime.now(UTC))
    there.record.engine.dispose()
    return by_the_papers(talk.run(), "as-built")


def correct(screen: AppTest, note: str, kg: str = "450") -> AppTest:
    fields = {field.label: field for field in screen.text_input}
    for label, field in fields.items():
        if label.startswith(("Front axle", "Rear axle")):
            field.input(kg)
    fields["Instrument, with its number"].input("Sample scales")
    why = [field for field in screen.text_input if field.label == "Why it is corrected"]
    why[0].input(note)
    next(b for b in screen.button if b.label == "Write it down").click().run()
    return screen


def test_a_correction_is_named_one_asks_why_and_leads_to_the_next_revision(
    as_built: AppTest,
) -> None:
    said = words(as_built)
    assert "The vehicle was handed over on" in said
    assert "revision 1 of the pack was issued last" in said
    assert 2 == [field.label for field in as_built.text_input].count("Why it is corrected")
    refused = words(correct(as_built, ""))
    assert "this corrects what the owner was told, and nothing says why" in refused
    assert "is written down" in words(correct(as_built, "Misread ticket"))
    papers = as_built.button(key="to-papers").click().run()
    handover = papers.button(key="to-handover").click().run()
    assert "A record was corrected after the handover." in words(handover)
    assert "hand-over" not in {button.key for button in handover.button}
    issue = handover.button(key="issue-pack")
    assert "Issue revision 2 of the pack" == issue.label
    issue.click().run()
    assert "Misread ticket" in words(handover)
    assert "issue-pack" not in {button.key for button in handover.button}
    handover.text_input[-1].input("By hand <b>")
    next(b for b in handover.button if b.label == "The owner has revision 2").click().run()
    said = words(handover)
    assert "It is noted that the owner has revision 2." in said
    assert "Revision 2 given to the owner on" in said
    assert "By hand &lt;b&gt;" in said
    assert "The owner has revision 2" not in [button.label for button in handover.button]


def test_the_talk_and_the_papers_say_how_the_vehicle_stands(as_built: AppTest) -> None:
    papers = as_built.button(key="to-papers").click().run()
    assert "What the owner has was corrected since" not in words(papers)
    said = words(papers.button(key="to-talk").click().run())
    assert "The vehicle was handed over on" in said
    assert "later work is a build of its own" in said
    assert "figures here are computed" in said
    as_built = by_the_papers(as_built, "as-built")
    correct(as_built, "Misread ticket")
    papers = as_built.button(key="to-papers").click().run()
    assert "What the owner has was corrected since" in words(papers)


def test_once_a_pack_is_issued_it_comes_first_and_each_paper_says_what_it_is(
    as_built: AppTest,
) -> None:
    papers = as_built.button(key="to-papers").click().run()
    offered = [button.proto.label for button in papers.get("download_button")]
    issued = offered.index("Download the issued pack, revision 1")
    assert issued < offered.index("Download the draft pack, as far as measured")
    assert "Download the handover pack" not in offered, "which of the two would it be?"
    said = words(papers)
    assert "<strong>Quotation Q1</strong>" in said
    assert "<strong>Handover pack, issued, revision 1</strong>" in said


def test_what_does_not_hold_on_a_vehicle_with_its_owner_is_told_as_a_warning(
    as_built: AppTest,
) -> None:
    correct(as_built, "Weighed at a test station", kg="2900")
    papers = as_built.button(key="to-papers").click().run()
    handover = papers.button(key="to-handover").click().run()
    offered = [button.proto.label for button in handover.get("download_button")]
    assert "Download the draft with what is measured so far" in offered
    said = words(handover)
    assert "The vehicle is with its owner, and what is listed here does not hold on it." in said
    assert "Tell the owner today" in said
    assert "Weighbridge ticket" in said
    assert "What does not hold" in said
    handover.text_input[-1].input("By telephone")
    next(b for b in handover.button if b.label == "The owner was told").click().run()
    said = words(handover)
    assert "It is noted that the owner was told." in said
    assert "what was found: By telephone" in said
    assert "The owner was told" not in [button.label for button in handover.button]
