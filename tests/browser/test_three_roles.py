"""Three people, each in their role, take one build from the quotation to its first stage."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from configurator.catalog.models.build import Customer, Donor
from configurator.workflow.accounts import add_account
from configurator.workflow.builds import start_enquiry
from configurator.workflow.consultation import set_house_choices
from configurator.workflow.premises import open_premises
from tests.browser.server import TINY, free_port, serving_screens

pytestmark = pytest.mark.browser

PASSWORD = "four invented words"  # noqa: S105  invented for this test alone
PEOPLE = {"Con Sample": "consultant", "Eng Sample": "engineer", "Man Sample": "manager"}


@pytest.fixture
def data(tmp_path: Path) -> Path:
    """A record with one build whose choices are all made, and an account for each role."""
    folder, now = tmp_path / "data", datetime.now(UTC)
    premises = open_premises(TINY, folder)
    for name, role in PEOPLE.items():
        add_account(premises.record, name, [role], PASSWORD, now=now)
    reference = start_enquiry(
        premises,
        customer=Customer(name="Invented Person"),
        vehicle_id="clover-van",
        donor=Donor(),
        notes="",
        now=now,
    )
    set_house_choices(premises, reference, revision=1, wanted=True, now=now)
    premises.record.engine.dispose()
    return folder


def logged_in(chromium: Browser, address: str, name: str) -> Page:
    page = chromium.new_context().new_page()
    page.set_default_timeout(30_000)
    page.goto(address)
    page.get_by_label("Name").fill(name)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Log in").click()
    page.wait_for_selector(".st-key-who-acts button")
    return page


def test_three_people_take_a_build_from_the_quotation_to_its_first_stage(
    chromium: Browser, data: Path
) -> None:
    with serving_screens(data, free_port(), solo=None) as address:
        con, eng, man = (logged_in(chromium, address, name) for name in PEOPLE)

        expect(con.get_by_text("Consultant: Give a quotation")).to_be_visible()
        con.goto(f"{address}/quotation?build=B-0001")
        con.get_by_role("button", name="Give a quotation").click()
        expect(con.get_by_text("can be accepted until")).to_be_visible()
        con.reload()
        expect(con.get_by_text("can be accepted until")).to_be_visible()

        eng.goto(f"{address}/quotation?build=B-0001")
        eng.get_by_label("Where the signed paper is").fill("On paper, in the file")
        for reason in eng.get_by_label("Why the work goes on").all():
            reason.fill("Seen and judged")
        eng.get_by_role("button", name="was accepted: issue spec A").click()
        expect(eng.get_by_text("Q1 was accepted on ")).to_be_visible()

        eng.goto(f"{address}/sign-off?build=B-0001")
        expect(eng.get_by_role("button", name="The promise")).to_have_count(0)
        eng.get_by_role("button", name="Sign “The sums”, spec A").click()
        expect(eng.get_by_text("Signed on spec A by Eng Sample, engineer")).to_be_visible()

        con.goto(f"{address}/sign-off?build=B-0001")
        expect(con.get_by_role("button", name="The sums")).to_have_count(0)
        con.get_by_role("button", name="Sign “The promise”, spec A").click()
        expect(con.get_by_text("Signed on spec A by Con Sample, consultant")).to_be_visible()

        man.goto(address)
        expect(man.get_by_text("Manager: Note when Begin is reached")).to_be_visible()
        man.goto(f"{address}/sign-off?build=B-0001")
        man.get_by_role("button", name="Begin is reached").click()
        expect(man.get_by_text("Begin is noted as reached")).to_be_visible()
        man.goto(f"{address}/handover?build=B-0001")
        expect(man.get_by_text("Missing for the handover")).to_be_visible()
        for page in (con, eng, man):
            page.context.close()
