"""From the quotation to spec A, its sign-offs, a stage and a change, on the screens."""

from __future__ import annotations

import re
import shutil
from datetime import UTC, datetime
from pathlib import Path

import pytest
import streamlit as st
from streamlit.testing.v1 import AppTest

from configurator.app.screens.life_parts import EARLIER
from configurator.build_life.people import Person
from configurator.workflow.builds import list_builds, read_draft
from configurator.workflow.change_orders import propose_change
from configurator.workflow.consultation import pick_option
from configurator.workflow.issuing import freeze
from configurator.workflow.premises import open_premises
from tests.app.conftest import Opener
from tests.app.screens import ALONE, TINY, by_the_papers, start_enquiry, words
from tests.workflow.answering import answers_for

NOW = datetime.now(UTC)


def everything_chosen(open_screens: Opener) -> AppTest:
    screen = start_enquiry(open_screens())
    return screen.button(key="house-choices").click().run()


def to(screen: AppTest, page: str) -> AppTest:
    papers = screen.button(key="to-papers").click().run()
    return papers.button(key=f"to-{page}").click().run()


@pytest.fixture
def accepted(open_screens: Opener) -> AppTest:
    """The quotation page after the customer's signature was noted."""
    screen = by_the_papers(everything_chosen(open_screens), "quotation")
    assert "No quotation has been given yet." in words(screen)
    screen.button(key="give-quotation").click().run()
    assert "can be accepted until" in words(screen)
    assert not re.search(r"[.!?]<span", words(screen)), "a remedy begins after a space"
    for field in screen.text_input:
        field.input("On paper, in the file")
    next(b for b in screen.button if "was accepted: issue" in b.label).click()
    return screen.run()


def test_before_a_quotation_is_given_the_parts_nobody_looked_at_are_named(
    open_screens: Opener,
) -> None:
    screen = by_the_papers(everything_chosen(open_screens), "quotation")
    assert "nobody has looked at any of its 2 parts" in words(screen)
    screen.button(key="give-quotation").click().run()
    assert "open" in words(screen), "it hinders nothing"
    screen.button(key="to-survey").click().run()
    assert "0 of 2 parts looked at" in words(screen)


def test_an_accepted_quotation_is_issued_as_spec_a(accepted: AppTest) -> None:
    assert "Spec A is issued" in words(accepted)
    assert "Q1 was accepted on " in words(accepted)
    assert "give-quotation" not in {button.key for button in accepted.button}


def test_the_sign_offs_are_signed_and_the_stages_wait_for_them(accepted: AppTest) -> None:
    screen = to(accepted, "sign-off")
    assert "Not signed yet." in words(screen)
    assert screen.button(key="reach-stage").disabled
    offered = [button.proto.label for button in screen.get("download_button")]
    assert "Download spec A to read" in offered
    assert "Download the draft handover pack to read" in offered, "a signer answers for its texts"
    assert "Before Begin can be reached" in words(screen)
    assert "<li>Spec A is not signed off: " in words(screen)
    assert 1 == words(screen).count("“The sums” is not signed yet (engineer)"), "said once"
    for sign_off in ("sums", "promise"):
        screen.button(key=f"sign-{sign_off}-A").click().run()
    assert "alone in this workshop" in words(screen)
    assert not screen.button(key="reach-stage").disabled
    for stage in ("Begin", "Build"):
        assert f"{stage} is noted as reached" not in words(screen)
        screen.button(key="reach-stage").click().run()
    assert "Build is noted as reached" in words(screen)


def test_a_change_is_shown_with_its_price_and_waits_for_both(accepted: AppTest) -> None:
    screen = to(accepted, "changes")
    assert "there is nothing to change" in words(screen)


def test_a_change_that_waits_shows_all_that_differs_before_it_is_signed(
    accepted: AppTest, tmp_path: Path
) -> None:
    there = open_premises(TINY, tmp_path / "data")
    (build,) = list_builds(there)
    reference = build.reference
    revision = read_draft(there, reference).revision
    pick_option(
        there, reference, revision=revision, group_id="cells", option_id="many-cells", now=NOW
    )
    alone = Person(name=ALONE, role="manager", is_solo=True)
    revision, answers = read_draft(there, reference).revision, answers_for(there, reference)
    propose_change(there, reference, revision=revision, answers=answers, by=alone, now=NOW)
    there.record.engine.dispose()
    said = words(to(accepted, "changes"))
    for shown in (
        "C1 waits for signatures",
        "Many cells",
        "Price with VAT",
        "Kerb mass",
        "Rear axle, laden",
        "Earliest handover",
        "the change adds £",
    ):
        assert shown in said, shown


def test_a_change_shows_the_reasons_of_the_issued_spec_to_be_confirmed(
    open_screens: Opener, tmp_path: Path
) -> None:
    catalog = Path(shutil.copytree(TINY, tmp_path / "changed"))
    with (catalog / "limits.yaml").open("a", encoding="utf-8") as limits:
        limits.write(
            "  - {id: light, label: Empty, limit: kerb_mass_kg, at_most: 100, severity: warns,\n"
            "     because: It is invented., source: invented for tests}\n"
        )
    screen = start_enquiry(open_screens(catalog))
    there = open_premises(catalog, tmp_path / "data")
    engineer = Person(name=ALONE, role="engineer", is_solo=True)
    answers = answers_for(there, "B-0001")
    assert answers, "else nothing is asked again"
    freeze(there, "B-0001", revision=1, answers=answers, by=engineer, now=NOW)
    pick_option(there, "B-0001", revision=1, group_id="cells", option_id="few-cells", now=NOW)
    assert answers.items() <= answers_for(there, "B-0001").items()
    there.record.engine.dispose()
    screen = by_the_papers(screen.run(), "changes")
    fields = [field for field in screen.text_input if field.label.startswith("Why the work goes")]
    assert list(answers.values()) == [field.value for field in fields]
    assert EARLIER in words(screen)
    next(b for b in screen.button if b.label == "Write change order C1").click()
    assert "The change order is written" in words(screen.run())


@pytest.mark.parametrize(
    ("role", "given"), [("engineer", {("W1", "rear"): "Weighed twice"}), ("manager", {})]
)
def test_an_earlier_reason_is_shown_to_everybody_and_given_by_an_engineer_alone(
    role: str, given: dict[tuple[str, str], str]
) -> None:
    def page(role: str) -> None:
        import streamlit as st

        from configurator.app.screens.life_parts import ask_reasons
        from configurator.app.view_models.life import WarningToAnswer
        from configurator.build_life.entries import WarningAnswered
        from configurator.build_life.people import Person

        warnings = [
            WarningToAnswer(("W1", at), f"Near at the {at}.", "") for at in ("rear", "front")
        ]
        earlier = WarningAnswered(code="W1", subject="rear", reason="Weighed twice")
        by = Person.model_validate({"name": "En Sample", "role": role})
        st.session_state["given"] = ask_reasons(warnings, by, (earlier,))

    screen = AppTest.from_function(page, args=(role,)).run()
    assert not screen.exception
    assert ["Weighed twice", ""] == [field.value for field in screen.text_input]
    assert [role != "engineer"] * 2 == [field.disabled for field in screen.text_input]
    assert given == screen.session_state["given"]


def test_without_an_order_there_is_nothing_to_change(open_screens: Opener) -> None:
    screen = by_the_papers(everything_chosen(open_screens), "changes")
    assert "no spec is issued yet" in words(screen).lower()


def test_a_spec_can_be_issued_without_a_quotation(open_screens: Opener) -> None:
    screen = by_the_papers(everything_chosen(open_screens), "sign-off")
    assert "No spec is issued yet." in words(screen)
    for field in screen.text_input:
        field.input("Seen and judged")
    next(b for b in screen.button if "Issue the first spec" in b.label).click()
    assert "Spec A" in words(screen.run())


@pytest.mark.parametrize("page", ["sign-off", "quotation", "changes"])
def test_a_choice_that_the_catalog_lost_is_told_with_the_way_out(
    open_screens: Opener, tmp_path: Path, page: str
) -> None:
    catalog = Path(shutil.copytree(TINY, tmp_path / "changed"))
    screen = start_enquiry(open_screens(catalog))
    there = open_premises(catalog, tmp_path / "data")
    pick_option(there, "B-0001", revision=1, group_id="livery", option_id="nettle", now=NOW)
    if page != "quotation":
        freeze(
            there,
            "B-0001",
            revision=2,
            answers=answers_for(there, "B-0001"),
            by=Person(name=ALONE, role="engineer", is_solo=True),
            now=NOW,
        )
        draft = read_draft(there, "B-0001").revision
        pick_option(
            there, "B-0001", revision=draft, group_id="cells", option_id="few-cells", now=NOW
        )
    there.record.engine.dispose()
    for file in catalog.rglob("*.yaml"):
        file.write_text(file.read_text("utf-8").replace("nettle", "thistle"), "utf-8")
    st.cache_resource.clear()
    screen = by_the_papers(screen.run(), page)
    said = words(screen)
    assert "Something went wrong" not in said
    if page == "changes":
        assert "Against spec A" in said, "the catalog of the issued spec has it still"
    else:
        assert "was chosen, and the catalog does not offer it for Clover float any more" in said
        assert "Choose another option" in said
        assert "choose-again" in {button.key for button in screen.button}


def test_past_a_quotation_that_waits_a_reason_is_asked_and_shown(open_screens: Opener) -> None:
    screen = by_the_papers(everything_chosen(open_screens), "quotation")
    screen.button(key="give-quotation").click().run()
    screen = to(screen, "sign-off")
    assert "has not accepted it" in words(screen)
    asked = [field for field in screen.text_input if "has not ordered it" in field.label]
    for field in screen.text_input:
        field.input("Seen and judged" if field not in asked else "")
    next(b for b in screen.button if "Issue the first spec" in b.label).click()
    assert "No spec is issued yet." in words(screen.run())
    for field in screen.text_input:
        field.input("A show vehicle of our own")
    next(b for b in screen.button if "Issue the first spec" in b.label).click()
    assert "Not ordered by the customer: A show vehicle of our own." in words(screen.run())


def test_the_handover_lists_what_is_missing_and_leads_there(accepted: AppTest) -> None:
    screen = to(accepted, "handover")
    said = words(screen)
    assert "Missing for the handover" in said
    assert "Sign-off: The sums" in said
    assert "Weighbridge ticket" in said
    assert "issue-pack" not in {button.key for button in screen.button}
    screen.button(key="to-sign-off").click().run()
    assert "Not signed yet." in words(screen)
