"""What waits for whom follows a build from the talk to its stages."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy import text

from configurator.build_life.people import Person
from configurator.build_spec.content_cache import ContentCache
from configurator.catalog.models.catalog import Catalog
from configurator.workflow import issued_catalogs
from configurator.workflow.builds import list_builds, read_draft
from configurator.workflow.change_orders import proposed_change
from configurator.workflow.consultation import set_house_choices, undo_last_change
from configurator.workflow.issuing import issued_spec
from configurator.workflow.papers import spec_of_draft
from configurator.workflow.premises import Premises, open_premises
from configurator.workflow.quotations import accept_quotation, give_quotation
from configurator.workflow.sign_offs import sign
from configurator.workflow.stages import reach_stage
from configurator.workflow.survey import set_donors
from configurator.workflow.waiting import what_waits
from tests.workflow.led_through_life import hand_it_over, order_it

CONSULTANT = Person(name="Invented Consultant", role="consultant")
ENGINEER = Person(name="Invented Engineer", role="engineer")


def told(premises: Premises, now: datetime) -> list[tuple[str, str]]:
    (only,) = what_waits(premises, now.date())
    return [(each.role, each.what) for each in only.waiting]


def test_what_waits_follows_the_life_of_a_build(
    premises: Premises, reference: str, now: datetime
) -> None:
    assert [("consultant", "Go on with the talk")] == told(premises, now)
    set_house_choices(premises, reference, revision=1, wanted=True, now=now)
    assert [("consultant", "Give a quotation")] == told(premises, now)
    give_quotation(premises, reference, revision=2, by=CONSULTANT, now=now)
    assert "Q1 waits for the customer" in told(premises, now)[0][1]
    assert "Renew Q1" in told(premises, now + timedelta(days=60))[0][1]
    findings = spec_of_draft(premises, reference).findings
    issued = accept_quotation(
        premises,
        reference,
        1,
        how="On paper",
        accepted_on=now.date(),
        answers={(f.code, f.subject): "Seen" for f in findings if f.severity == "warns"},
        by=ENGINEER,
        now=now,
    )
    assert ("engineer", "Sign “The sums”") in told(premises, now)
    assert "manager" not in {role for role, _ in told(premises, now)}
    sha256 = issued.spec_sha256
    sign(premises, reference, "sums", spec_sha256=sha256, by=ENGINEER, now=now)
    sign(premises, reference, "promise", spec_sha256=sha256, by=CONSULTANT, now=now)
    assert [("manager", "Note when Begin is reached")] == told(premises, now)
    reach_stage(premises, reference, "begin", reached_on=now.date(), by=ENGINEER, now=now)
    assert [("manager", "Note when Build is reached")] == told(premises, now)
    (only,) = what_waits(premises, now.date())
    assert "Spec A, Begin" == only.standing
    draft = read_draft(premises, reference)
    set_house_choices(premises, reference, revision=draft.revision, wanted=False, now=now)
    assert "write a change order" in told(premises, now)[0][1]
    undo_last_change(premises, reference, revision=draft.revision + 1, now=now)
    assert [("manager", "Note when Build is reached")] == told(premises, now), "it was taken back"


def test_a_second_donor_told_after_the_order_waits_for_a_change_order(
    premises: Premises, reference: str, now: datetime
) -> None:
    order_it(premises, reference, now)
    seen = read_draft(premises, reference).revision
    second = {"description": "Front crushed"}
    set_donors(premises, reference, revision=seen, donor={}, second_donor=second, now=now)
    assert any("write a change order" in what for _, what in told(premises, now))
    found = proposed_change(premises, reference).content.differences
    assert [("Second donor, for parts", "Front crushed")] == [
        (words.label, words.after) for words in found.survey
    ]


def test_a_role_sees_only_what_waits_for_it(
    premises: Premises, enquiry: Callable[..., str], now: datetime
) -> None:
    enquiry(name="First Person")
    enquiry(name="Second Person")
    assert 2 == len(what_waits(premises, now.date(), role="consultant"))
    assert () == what_waits(premises, now.date(), role="engineer")
    assert 1 == len(what_waits(premises, now.date(), search="second", role="consultant"))


def test_what_another_process_wrote_is_seen_at_the_next_look(
    premises: Premises, reference: str, now: datetime
) -> None:
    assert 1 == len(list_builds(premises))
    other = open_premises(premises.catalog_folder, premises.data_folder)
    set_house_choices(other, reference, revision=1, wanted=True, now=now)
    give_quotation(other, reference, revision=2, by=CONSULTANT, now=now)
    assert "Q1 waits for the customer" in told(premises, now)[0][1]
    other.record.engine.dispose()


def test_what_is_written_in_a_book_brings_a_build_to_the_top(
    premises: Premises, enquiry: Callable[..., str], now: datetime
) -> None:
    quoted, talked = enquiry(name="First Person"), enquiry(name="Second Person")
    set_house_choices(premises, quoted, revision=1, wanted=True, now=now)
    later = now + timedelta(hours=1)
    set_house_choices(premises, talked, revision=1, wanted=True, now=later)
    order = [one.build.reference for one in what_waits(premises, now.date())]
    assert [talked, quoted] == order
    at_last = later + timedelta(hours=1)
    give_quotation(premises, quoted, revision=2, by=CONSULTANT, now=at_last)
    first, second = what_waits(premises, now.date())
    assert (quoted, at_last) == (first.build.reference, first.changed_at)
    assert (talked, later) == (second.build.reference, second.changed_at)


def test_a_catalog_out_of_use_is_read_once_for_builds_at_work_and_never_for_others(
    premises: Premises,
    enquiry: Callable[..., str],
    catalog_folder: Path,
    now: datetime,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    order_it(premises, enquiry(name="First Person"), now)
    hand_it_over(premises, enquiry(name="Second Person"), now)
    workshop = catalog_folder / "workshop.yaml"
    workshop.write_text(f"{workshop.read_text('utf-8')}\n", "utf-8")
    later = open_premises(catalog_folder, premises.data_folder)
    read, catalogs = [], issued_catalogs.load_catalog

    def counted(folder: Path) -> Catalog:
        read.append(folder)
        return catalogs(folder)

    monkeypatch.setattr(issued_catalogs, "load_catalog", counted)
    first = what_waits(later, now.date())
    assert 1 == len(read)
    crowded = replace(later, issued_catalogs=ContentCache(size=8))
    assert first == what_waits(crowded, now.date())
    assert 1 == len(read)
    later.record.engine.dispose()


def test_of_a_build_that_is_over_no_catalog_is_read(
    premises: Premises, reference: str, catalog_folder: Path, now: datetime
) -> None:
    hand_it_over(premises, reference, now)
    workshop = catalog_folder / "workshop.yaml"
    workshop.write_text(f"{workshop.read_text('utf-8')}\n", "utf-8")
    later = open_premises(catalog_folder, premises.data_folder)
    (only,) = what_waits(later, now.date())
    assert () == only.waiting
    sha256 = premises.catalog.sha256
    assert later.catalog.sha256 != sha256
    assert later.issued_catalogs.known(sha256) is None
    later.record.engine.dispose()


def test_what_one_build_has_lost_does_not_hide_the_others(
    premises: Premises, enquiry: Callable[..., str], now: datetime
) -> None:
    lost = enquiry(name="First Person")
    enquiry(name="Second Person")
    order_it(premises, lost, now)
    seen = read_draft(premises, lost).revision
    set_house_choices(premises, lost, revision=seen, wanted=False, now=now)
    sha256 = issued_spec(premises, lost).sha256()
    with premises.record.engine.begin() as connection:
        connection.execute(text("DELETE FROM contents WHERE sha256 = :it"), {"it": sha256})
    found = {one.build.reference: one for one in what_waits(premises, now.date())}
    assert 2 == len(found)
    assert ["manager"] == [each.role for each in found[lost].waiting]
    assert "configurator verify" in found[lost].waiting[0].what
