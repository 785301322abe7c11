from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from streamlit.testing.v1 import AppTest

from configurator.app.premises import now, premises
from configurator.app.view_models.papers import (
    CURRENT,
    OUT_OF_DATE,
    OVERTAKEN,
    REPLACED,
    paper_lines,
)
from configurator.build_life.entries import (
    ChangeOrdered,
    ChangeWithdrawn,
    PackIssued,
    QuotationAccepted,
    Quoted,
    SpecIssued,
)
from configurator.build_life.life import Entry, Life
from configurator.build_life.people import Person
from configurator.workflow.papers import make_spec_sheet
from configurator.workflow.stored_document import StoredDocument
from tests.app.conftest import Opener
from tests.app.screens import start_enquiry, words


def to_papers(screen: AppTest) -> AppTest:
    return screen.button(key="to-papers").click().run()


def disabled(screen: AppTest) -> dict[str, bool]:
    return {
        element.proto.label: element.proto.disabled for element in screen.get("download_button")
    }


def test_the_pack_waits_and_names_the_open_choices(open_screens: Opener):
    screen = to_papers(start_enquiry(open_screens()))
    assert disabled(screen) == {
        "Download the spec sheet": False,
        "Download the handover pack": True,
        "Download the calculation sheet": False,
    }
    said = words(screen)
    assert "5 choices are still open" in said
    for name in ("Cells", "Springs", "Warmth", "Box", "Livery"):
        assert name in said


def test_a_complete_build_can_have_both_papers(open_screens: Opener):
    screen = start_enquiry(open_screens())
    screen.button(key="house-choices").click().run()
    assert set(disabled(to_papers(screen)).values()) == {False}


def test_before_any_paper_was_made_the_list_says_so(open_screens: Opener):
    assert "No paper was made yet" in words(to_papers(start_enquiry(open_screens())))


def test_a_paper_of_former_choices_is_marked_as_out_of_date(open_screens: Opener):
    talk = start_enquiry(open_screens())
    make_spec_sheet(premises(), "B-0001", now())
    papers = to_papers(talk)
    assert CURRENT in words(papers)
    assert OUT_OF_DATE not in words(papers)
    talk = papers.button(key="to-talk").click().run().button(key="house-choices").click().run()
    said = words(to_papers(talk))
    assert OUT_OF_DATE in said
    assert CURRENT not in said


def test_what_was_agreed_on_its_day_is_never_out_of_date():
    made = StoredDocument(
        "spec-sheet", "a.pdf", Path("a.pdf"), "0" * 64, "1" * 64, datetime(2026, 3, 4, tzinfo=UTC)
    )
    quoted = replace(made, kind="quotation")
    lines = paper_lines([made, quoted], "2" * 64, Life(()))
    assert [OUT_OF_DATE, ""] == [line.standing for line in lines]
    assert [True, False] == [line.is_out_of_date for line in lines]
    assert CURRENT == paper_lines([made], "1" * 64, Life(()))[0].standing
    assert OUT_OF_DATE == paper_lines([made], None, Life(()))[0].standing


def test_what_came_of_a_paper_is_told_and_a_later_one_of_the_same_spec_takes_its_place():
    made = StoredDocument(
        "quotation", "a.pdf", Path("a.pdf"), "1" * 64, "5" * 64, datetime(2026, 3, 4, tzinfo=UTC)
    )
    papers = [
        replace(made, kind="spec-sheet", sha256="9" * 64, made_at=datetime(2026, 3, 9, tzinfo=UTC)),
        made,
        replace(made, sha256="2" * 64),
        replace(made, kind="change-order", sha256="3" * 64),
        replace(made, kind="change-order", sha256="4" * 64),
        replace(made, kind="issued-pack", sha256="6" * 64),
        replace(made, kind="issued-pack", sha256="7" * 64),
        replace(made, kind="spec-sheet", sha256="8" * 64),
    ]
    life = Life(
        tuple(
            Entry(number, body, Person(name="Ida Sample", role="manager"), made.made_at, "0" * 64)
            for number, body in enumerate(
                (
                    Quoted.model_construct(number=1, document_sha256="1" * 64),
                    Quoted.model_construct(number=2, document_sha256="2" * 64),
                    QuotationAccepted.model_construct(number=2),
                    ChangeOrdered.model_construct(number=1, document_sha256="3" * 64),
                    ChangeWithdrawn.model_construct(number=1, because="Too dear <b>"),
                    ChangeOrdered.model_construct(number=2, document_sha256="4" * 64),
                    PackIssued.model_construct(revision=1, document_sha256="6" * 64),
                    PackIssued.model_construct(revision=2, document_sha256="7" * 64),
                )
            )
        )
    )
    assert [
        CURRENT,
        "Q2 took its place.",
        "Accepted by the customer.",
        "Withdrawn: Too dear <b>.",
        "Waits for a signature.",
        "Revision 2 took its place.",
        "",
        REPLACED,
    ] == [line.standing for line in paper_lines(papers, "5" * 64, life)]


def test_the_sheet_of_a_letter_is_never_to_be_made_anew():
    made = StoredDocument(
        "spec-sheet", "a.pdf", Path("a.pdf"), "0" * 64, "1" * 64, datetime(2026, 3, 4, tzinfo=UTC)
    )
    later = replace(made, spec_sha256="2" * 64)
    by = Person(name="Ida Sample", role="manager")
    life = Life(
        tuple(
            Entry(
                number,
                SpecIssued.model_construct(letter=letter, spec_sha256=str(number) * 64),
                by,
                made.made_at,
                "0" * 64,
            )
            for number, letter in ((1, "A"), (2, "B"))
        )
    )
    lines = paper_lines([made, later], "3" * 64, life)
    assert ["Spec B took its place.", "Of spec B, which counts."] == [
        line.standing for line in lines
    ]


def test_a_paper_is_called_as_people_call_it():
    made = StoredDocument(
        "quotation", "a.pdf", Path("a.pdf"), "1" * 64, "5" * 64, datetime(2026, 3, 4, tzinfo=UTC)
    )
    papers = [
        made,
        replace(made, kind="change-order", sha256="2" * 64),
        replace(made, kind="issued-pack", sha256="3" * 64),
        replace(made, kind="spec-sheet", sha256="4" * 64),
        replace(made, kind="spec-sheet", sha256="4" * 64, spec_sha256="6" * 64),
    ]
    life = Life(
        tuple(
            Entry(number, body, Person(name="Ida Sample", role="manager"), made.made_at, "0" * 64)
            for number, body in enumerate(
                (
                    Quoted.model_construct(number=1, document_sha256="1" * 64),
                    SpecIssued.model_construct(letter="B", spec_sha256="5" * 64),
                    ChangeOrdered.model_construct(number=2, document_sha256="2" * 64),
                    PackIssued.model_construct(revision=3, document_sha256="3" * 64),
                )
            )
        )
    )
    assert [
        "Quotation Q1",
        "Change order C2",
        "Handover pack, issued, revision 3",
        "Spec sheet, spec B",
        "Spec sheet",
    ] == [line.name for line in paper_lines(papers, None, life)]
    (draft,) = paper_lines([replace(made, kind="handover-pack", sha256="7" * 64)], None, life)
    assert ("Draft handover pack, spec B", OVERTAKEN) == (draft.name, draft.standing)
    assert not draft.is_out_of_date, "nobody makes it anew"
