"""What the screens about a build's life say."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime
from decimal import Decimal

from configurator.app.view_models.handover import unsettled_words
from configurator.app.view_models.life import (
    change_sentence,
    difference_rows,
    issued_words,
    late_change_words,
    price_rows,
    warnings_to_answer,
)
from configurator.build_life.differences import DatesChanged, SpecDifferences, WordsChanged
from configurator.build_life.entries import SignOffVoided, SpecIssued
from configurator.build_life.life import Entry
from configurator.build_life.people import Person
from configurator.build_life.text_changes import TextChanged
from configurator.build_spec.spec import Finding
from configurator.catalog.models.workshop import Stage
from configurator.documents.change_order import ChangeOrderContent
from tests.documents.sample_spec import open_spec, sample_spec

NOUGHT = (Decimal(0), Decimal(0))


def warning(sentence: str) -> Finding:
    return Finding(
        code="F001",
        severity="warns",
        subject="rear",
        sentence=sentence,
        source="invented for tests",
        remedy="Carry less.",
    )


def test_two_warnings_that_one_reason_answers_are_both_read() -> None:
    (told,) = warnings_to_answer([warning("Near the axle limit."), warning("Near the tyre limit.")])
    assert "Near the axle limit. Near the tyre limit." == told.sentence
    assert "Carry less." == told.remedy


def test_the_parts_of_a_price_with_open_choices_lead_to_its_total() -> None:
    spec = open_spec()
    cells = [row.cells for row in price_rows(spec)]
    assert ("What is still open adds", "£310 – £2,181") in cells
    assert "Total with VAT" == cells[-1][0]
    assert "What is still open adds" not in {row.cells[0] for row in price_rows(sample_spec())}


def test_a_talk_after_the_order_says_what_another_choice_costs_on_top() -> None:
    stage = Stage(id="dry", label="Dry build", due_percent=Decimal(0))
    assert "" == late_change_words(stage)
    late = stage.model_copy(update={"late_change_percent": Decimal("15.0")})
    assert "“Dry build” another choice costs 15 % of the dearer" in late_change_words(late)


def test_provisional_sums_that_nobody_settled_are_named() -> None:
    # Source: common practice, no source: a provisional sum is settled at what the work came to.
    spec = sample_spec()
    assert "" == unsettled_words(spec)
    first, *others = spec.survey
    hidden = first.model_copy(update={"provisional_gbp": Decimal("420.50")})
    told = unsettled_words(spec.model_copy(update={"survey": (hidden, *others)}))
    assert f"Not settled yet, provisional sums of {first.label} (£420.50)." in told


# Source: common practice, no source: amounts below each other have the same number of digits after
# the point, so that their pounds stand below pounds.
def test_every_amount_of_a_settled_price_is_told_to_the_penny() -> None:
    amounts = [row.cells[1] for row in price_rows(sample_spec())]
    assert amounts
    assert all(re.fullmatch(r"−?£[0-9,]+\.[0-9]{2}", amount) for amount in amounts)


def differences(**parts: object) -> SpecDifferences:
    return SpecDifferences.model_validate(
        {
            "before_sha256": "0" * 64,
            "after_sha256": "1" * 64,
            "total_before_gbp": NOUGHT,
            "total_after_gbp": NOUGHT,
            **parts,
        }
    )


def test_dates_safety_texts_and_checks_are_told_as_they_were_and_as_they_will_be() -> None:
    text = TextChanged(
        id="hot",
        title="Hot wires",
        is_safety=True,
        how="changed",
        sentences=(("It carries 400 V.", "It carries 300 V."), (None, "Wait.")),
    )
    days = tuple(date(2027, 3, day) for day in (3, 5, 8, 9))
    found = differences(
        handover=DatesChanged(before=days[:2], after=days[2:]),
        texts=(text,),
        findings=(WordsChanged(label="warns", before=None, after="Near the limit."),),
    )
    expected = [
        ("Earliest handover", "3–5 Mar 2027", "8–9 Mar 2027"),
        ("Safety text, changed: Hot wires", "It carries 400 V.", "It carries 300 V. Wait."),
        ("Checks: Look at this", "—", "Near the limit."),
    ]
    assert expected == [row.cells for row in difference_rows(found)]


def test_what_the_survey_found_is_told_apart_from_a_choice() -> None:
    choice = WordsChanged(label="Doors", before="Steel", after="Wood")
    found = WordsChanged(label="Doors", before="keep", after="repair")
    expected = [("Doors", "Steel", "Wood"), ("Survey: Doors", "keep", "repair")]
    rows = difference_rows(differences(choices=(choice,), survey=(found,)))
    assert expected == [row.cells for row in rows]


def test_what_differs_by_less_than_is_shown_is_no_line() -> None:
    span = {"label": "Kerb mass", "unit": "kg", "before": (900.2, 900.2)}
    unseen = differences(masses=[{**span, "after": (900.4, 900.4)}])
    assert () == difference_rows(unseen)
    seen = differences(masses=[{**span, "after": (901.4, 901.4)}])
    assert [("Kerb mass", "900 kg", "901 kg")] == [row.cells for row in difference_rows(seen)]


def test_what_makes_it_cheaper_takes_off() -> None:
    content = ChangeOrderContent(
        number=1,
        from_letter="A",
        stage_label="Build",
        late_change_percent=Decimal(0),
        differences=differences(
            lines=[
                {
                    "id": "a",
                    "label": "A",
                    "before_gbp": "80",
                    "after_gbp": None,
                    "is_another_choice": True,
                }
            ]
        ),
        late_change_gbp=Decimal(0),
        payments=(),
    )
    assert "the change takes off £80, with VAT" in change_sentence(content)


def test_a_last_signature_says_what_it_issued_and_voided() -> None:
    by, at = Person(name="Invented", role="manager"), datetime(2026, 3, 4, 9, 30, tzinfo=UTC)
    issued = SpecIssued(
        letter="B",
        spec_sha256="a" * 64,
        catalog_sha256="b" * 64,
        revision=2,
        section_sha256={},
        total_gbp=Decimal(1),
    )
    void = SignOffVoided(letter="A", by_letter="B", sign_off="promise", sections=("price",))
    entries = [Entry(n, body, by, at, "c" * 64) for n, body in enumerate((issued, void), 1)]
    assert (
        " Both have signed: spec B is issued. 1 sign-off is void and wanted again."
        == issued_words(entries)
    )
    assert "" == issued_words(entries[1:])
