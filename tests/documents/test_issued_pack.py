"""A final pack says its revision, who signed and what changed, and no page of it says draft."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from pathlib import Path

from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from configurator.catalog.build_file import load_build
from configurator.catalog.load import load_catalog
from configurator.documents.handover_pack.pack_issue import EarlierIssue, PackIssue
from tests.documents.pack_words import words_of_pack
from tests.documents.sample_spec import as_built_spec, sample_spec

CATALOG = Path(__file__).parents[2] / "catalog"
MEASURED = Path(__file__).parents[1] / "catalogs" / "measured_pickup.yaml"
ISSUE = PackIssue(
    revision=2,
    letter="B",
    issued_on=date(2026, 11, 26),
    issued_by="Ada <b>Sample</b>, manager",
    changes=("Isolation was measured again.",),
    signed_by=("Electrical set: Ida Sample, engineer",),
    evidence={"brakes": "DISC-7; Brake test"},
    earlier=(EarlierIssue(1, date(2026, 11, 20), (), "Ada <b>Sample</b>, manager"),),
)


def test_no_page_of_an_issued_pack_speaks_of_a_draft_or_of_what_is_still_to_be_recorded() -> None:
    text = words_of_pack(sample_spec(), ISSUE)
    assert "draft" not in text.casefold()
    assert (
        "to be recorded"
        not in words_of_pack(as_built_spec(), ISSUE).partition("Components of the drive")[0]
    )
    assert "Duty cycle, measured" not in text
    assert "Revision 2, 26 November 2026" in text


def test_no_text_that_a_pack_may_hold_speaks_of_a_draft() -> None:
    texts = load_catalog(CATALOG).texts
    assert len(texts) > 50
    assert [] == [text.id for text in texts if "draft" in f"{text.title} {text.body}".casefold()]


def test_a_text_names_what_it_points_to_as_the_pack_does() -> None:
    # Source: common practice, no source: a reader finds a section by the words of its heading.
    assert [] == [text.id for text in load_catalog(CATALOG).texts if "as-built record" in text.body]


def test_each_choice_is_told_as_built_with_its_evidence() -> None:
    text = words_of_pack(sample_spec(), ISSUE)
    assert "Front discs (your choice) as ordered DISC-7; Brake test" in text
    assert "Ordered is what spec B says." in text
    assert (
        "Ada <b>Sample</b>, manager, states with this revision that the vehicle was built" in text
    )


def test_revisions_signatures_and_changes_stand_in_it() -> None:
    text = words_of_pack(sample_spec(), ISSUE)
    assert "Revision 1" in text
    assert "First issue." in text
    assert "Isolation was measured again." in text
    assert "Electrical set: Ida Sample, engineer" in text
    assert "Ada <b>Sample</b>, manager" in text
    assert "no approval by an authority" in text


def test_without_an_issue_the_pack_stays_a_draft() -> None:
    text = words_of_pack(sample_spec())
    assert "This is a draft" in text
    assert "DRAFT" in text


def test_a_pack_of_a_weighed_vehicle_sends_nobody_to_the_weighbridge_as_if_it_had_not_been() -> (
    None
):
    # Source: common practice, no source: a paper that still asks for what was done is not believed.
    catalog = load_catalog(CATALOG)
    built = specify(catalog, load_build(MEASURED, catalog), Engines())
    told = words_of_pack(built, ISSUE)
    assert not re.search(r"until[^.]{0,40}weighed|weigh[^.]{0,60}before handover", told)
    assert not re.search("WEIGH BEFORE|computed until", told)
    front, rear = built.weights.front, built.weights.rear
    assert (front.measured_kg, rear.measured_kg) != (front.kerb_low_kg, rear.kerb_low_kg)
    assert f"kerb {front.measured_kg:,.0f} kg, weighed" in told, "the chart shows what was weighed"
    assert f"kerb {rear.measured_kg:,.0f} kg, weighed" in told
    assert f"kerb {front.kerb_low_kg:,.0f} kg" not in told


def test_an_owner_is_told_what_was_found_and_not_how_the_workshop_mends_it() -> None:
    # Source: common practice, no source: nobody chooses another motor for a finished vehicle.
    remedy = "Weigh the finished"
    assert any(finding.remedy.startswith(remedy) for finding in sample_spec().findings)
    answered = replace(ISSUE, answered=("A check warns. Why: Seen and judged.",))
    issued = words_of_pack(sample_spec(), answered)
    assert remedy not in issued
    assert "although one warns stands under Revisions" in issued
    assert remedy in words_of_pack(sample_spec())


def test_a_pack_of_a_vehicle_that_nobody_weighed_asks_for_the_weighbridge() -> None:
    told = words_of_pack(sample_spec())
    assert "until the vehicle is weighed" in told


def test_what_was_measured_takes_the_place_of_to_be_measured_everywhere() -> None:
    # Source: common practice, no source: a rescuer and a garage read one figure for one thing.
    catalog = load_catalog(CATALOG)
    built = specify(catalog, load_build(MEASURED, catalog), Engines())
    told = words_of_pack(built, ISSUE)
    weighed = built.weights.measured_kerb_kg
    assert weighed is not None
    assert f"kerb mass {weighed:,.0f} kg (weighed, without driver)" in told
    assert "on this vehicle: 2.4 MΩ, measured on 21 September 2026" in told
