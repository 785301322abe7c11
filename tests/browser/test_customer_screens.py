"""A screen that is turned to a customer receives prices, and never what they are made of."""

from __future__ import annotations

import re
import shutil
from datetime import UTC, datetime
from pathlib import Path

import pytest
from playwright.sync_api import Page, Response, WebSocket

from configurator.build_life.people import Person
from configurator.workflow.builds import read_draft
from configurator.workflow.consultation import pick_option
from configurator.workflow.papers import spec_of_draft
from configurator.workflow.premises import open_premises
from configurator.workflow.quotations import accept_quotation, give_quotation
from tests.browser.server import TINY, free_port, serving_screens
from tests.browser.talk import begin_talk, go_to_part

pytestmark = pytest.mark.browser

SOLE = Person(name="Sole Sample", role="manager", is_solo=True)
PAGES = (
    "builds",
    "consultation",
    "wishes",
    "your-day",
    "measured-on-the-road",
    "survey",
    "quotation",
    "sign-off",
    "changes",
    "as-built",
    "handover",
    "papers",
    "charging-and-driving",
    "weights",
    "electrical-set",
    "working",
)
OF_COST = re.compile(
    r"(?i)\b(profit|mark-?up|margin|purchase|cost price|buying price|our cost|hourly|per hour"
    r"|parts_gbp|rate_gbp\w*|hours of work)\b"
)


def _marked_catalog(folder: Path) -> tuple[Path, re.Pattern[str]]:
    """Copy the catalog with amounts that nothing else has, and write what finds them."""
    catalog = Path(shutil.copytree(TINY, folder / "catalog"))
    marked: list[str] = []

    def mark(amount: re.Match[str]) -> str:
        marked.append(f"{int(amount[2]) + 13}.{len(marked) + 17:02d}")
        return f"{amount[1]}'{marked[-1]}'"

    for path in catalog.rglob("*.yaml"):
        told = path.read_text("utf-8")
        written = re.sub(r"(parts_gbp: |rate_gbp_per_hour: )'(\d+)\.\d\d'", mark, told)
        path.write_text(written, encoding="utf-8")
    assert len(marked) > 15
    pounds, pence = marked[0].split(".")
    ways = "|".join(_ways(amount) for amount in marked)
    amounts = re.compile(rf"(?<![\d.,])(?:{ways})(?!\d)")
    for told in (f"£{int(pounds):,}.{pence}", f'"pence":{pounds}{pence},', f"[{pounds}.{pence}]"):
        assert amounts.search(told), told
    for other in (f"{pounds}.{pence}0", f"8d1a-{pounds}{pence}-4c0b", f"12.{pounds}{pence}"):
        assert amounts.search(other) is None, other
    return catalog, amounts


def _ways(amount: str) -> str:
    """Write an amount in pounds, with thousands or without, and in pence."""
    pounds, pence = amount.split(".")
    with_thousands = f"{int(pounds):,}".replace(",", ",?")
    between = r"(?<![0-9a-f]-)\b{}\b(?!-[0-9a-f])"  # and no group of a random identifier
    return rf"{with_thousands}\.{pence}|{between.format(pounds + pence)}"


def _with_context(found: re.Match[str]) -> str:
    return found.string[max(found.start() - 80, 0) : found.end() + 80]


def _listen(page: Page) -> list[str]:
    """Take down everything that the browser receives but the program of the screens itself."""
    received: list[str] = []

    def frame(payload: str | bytes) -> None:
        is_text = isinstance(payload, str)
        received.append(payload if is_text else payload.decode("utf-8", "replace"))

    def socket(opened: WebSocket) -> None:
        opened.on("framereceived", frame)

    def response(answer: Response) -> None:
        if "/static/" not in answer.url and answer.ok:
            received.append(answer.body().decode("utf-8", "replace"))

    page.on("websocket", socket)
    page.on("response", response)
    return received


def _look(page: Page, address: str) -> str:
    page.goto(address)
    page.wait_for_selector(".caution")
    page.wait_for_selector("[data-testid=stApp][data-test-script-state=notRunning]")
    return page.locator("body").inner_text()


def _quote(catalog: Path, data: Path) -> None:
    premises, now = open_premises(catalog, data), datetime.now(UTC)
    revision = read_draft(premises, "B-0001").revision
    give_quotation(premises, "B-0001", revision=revision, by=SOLE, now=now)
    premises.record.engine.dispose()


def _order_and_change(catalog: Path, data: Path) -> None:
    """Let the customer accept what was quoted, and then want something else."""
    premises, now = open_premises(catalog, data), datetime.now(UTC)
    findings = spec_of_draft(premises, "B-0001").findings
    accept_quotation(
        premises,
        "B-0001",
        1,
        how="On paper",
        accepted_on=now.date(),
        answers={(f.code, f.subject): "Seen" for f in findings if f.severity == "warns"},
        by=SOLE,
        now=now,
    )
    draft = read_draft(premises, "B-0001")
    pick_option(
        premises,
        "B-0001",
        group_id="livery",
        option_id="sloe",
        revision=draft.revision,
        now=now,
    )
    premises.record.engine.dispose()


def test_no_cost_and_no_rate_ever_reaches_the_browser(page: Page, tmp_path: Path) -> None:
    catalog, amounts = _marked_catalog(tmp_path)
    received, seen = _listen(page), []
    with serving_screens(tmp_path / "data", free_port(), catalog) as address:
        begin_talk(page, address)
        go_to_part(page, "looks")
        page.wait_for_selector('[data-group="livery"]')
        page.get_by_role("button", name="Let the workshop choose the rest").click()
        page.wait_for_selector("text=Everything is chosen.")
        _quote(catalog, tmp_path / "data")
        seen.append(_look(page, f"{address}/quotation?build=B-0001"))
        assert "can be accepted until" in seen[-1]
        _order_and_change(catalog, tmp_path / "data")
        seen += [_look(page, f"{address}/{place}?build=B-0001") for place in PAGES]
        seen.append(_look(page, f"{address}/working?build=B-0001&fact=price_gbp"))
    assert "Sloe" in seen[1 + PAGES.index("changes")]
    everything = "\n".join(received)
    # It listens: prices and names did come in.
    assert "Ann Example" in everything
    assert "data-price-low" in everything
    assert [] == [_with_context(found) for found in amounts.finditer(everything)]
    assert [] == [found[0] for found in OF_COST.finditer("\n".join(seen))]
