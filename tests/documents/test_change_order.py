"""A change order tells what differs, why the work goes on, and what one signs for."""

from __future__ import annotations

from decimal import Decimal

from configurator.build_life.differences import spec_differences
from configurator.build_life.entries import WarningAnswered
from configurator.build_spec.spec import Spec
from configurator.documents.change_order import ChangeOrderContent, change_order_pdf
from tests.documents.read_pdf import flat_text, read_pages
from tests.documents.sample_spec import sample_spec

BEFORE = sample_spec()


def content_of(after: Spec, *answered: WarningAnswered) -> ChangeOrderContent:
    return ChangeOrderContent(
        number=3,
        from_letter="B",
        stage_label="Dry build",
        late_change_percent=Decimal(15),
        differences=spec_differences(BEFORE, after),
        late_change_gbp=Decimal(0),
        payments=(),
        answered=answered,
        written="26 November 2026 by En <b>Sample</b>, engineer",
    )


def text_of(after: Spec, *answered: WarningAnswered) -> str:
    content = content_of(after, *answered)
    return flat_text(read_pages(change_order_pdf(after, content)))


def with_other_hazard() -> Spec:
    (first, *_) = [text for text in BEFORE.texts if text.safety is not None]
    assert first.safety is not None
    message = first.safety.model_copy(update={"hazard": "The battery carries 300 V & more."})
    other = first.model_copy(update={"safety": message})
    texts = tuple(other if text.id == first.id else text for text in BEFORE.texts)
    return BEFORE.model_copy(update={"texts": texts})


def cheaper_by(amount: str) -> Spec:
    price = BEFORE.price
    line = price.lines[0]
    less = line.model_copy(update={"amount_gbp": line.amount_gbp - Decimal(amount)})
    changed = price.model_copy(
        update={
            "lines": (less, *price.lines[1:]),
            "total_low_gbp": price.total_low_gbp - Decimal(amount),
            "total_high_gbp": price.total_high_gbp - Decimal(amount),
        }
    )
    return BEFORE.model_copy(update={"price": changed})


def test_a_safety_text_stands_as_it_was_and_as_it_will_be() -> None:
    text = text_of(with_other_hazard())
    # Side by side: the end of the old sentence is read after the new one.
    assert "WARNING: The battery and the orange cables carry more than" in text
    assert "WARNING: The battery carries 300 V & more. 400 V." in text
    assert "changed, a safety text" in text


def test_a_safety_text_that_is_gone_is_told_whole() -> None:
    (first, *_) = [text for text in BEFORE.texts if text.safety is not None]
    left = tuple(text for text in BEFORE.texts if text is not first)
    text = text_of(BEFORE.model_copy(update={"texts": left}))
    assert "gone, a safety text" in text
    assert "It will no longer say" in text
    assert "Touching a live part gives a shock that kills." in text


def test_a_warning_stands_with_the_reason_for_going_on() -> None:
    (warned, *_) = [found for found in BEFORE.findings if found.severity == "warns"]
    why = "Weighed twice & <b>judged</b>"
    answer = WarningAnswered(code=warned.code, subject=warned.subject, reason=why)
    text = text_of(cheaper_by("10.00"), answer)
    assert why in text
    assert "Why the work goes on" in text


def test_findings_are_headed_by_how_serious_they_are() -> None:
    (warned, *_) = [found for found in BEFORE.findings if found.severity == "warns"]
    left = tuple(found for found in BEFORE.findings if found is not warned)
    text = text_of(BEFORE.model_copy(update={"findings": left}))
    assert "How serious" in text
    assert "Warns" in text
    assert "Weight" not in text.split("What the checks find")[1].split("Cautions")[0]


def test_what_makes_it_cheaper_takes_off() -> None:
    text = text_of(cheaper_by("10.00"))
    assert "This change takes off £10.00, with VAT." in text


def test_what_stays_as_it_is_takes_one_line_and_the_signatures_stand_on_the_same_page() -> None:
    after = cheaper_by("10.00")
    content = content_of(after)
    (page,) = read_pages(change_order_pdf(after, content))
    same = "Unchanged: choices; survey of the donor; masses, axle loads and range; handover; texts"
    assert same in flat_text((page,))
    assert 2 == page.text.count("Name Signature Date")


def test_it_says_when_and_by_whom_it_was_written() -> None:
    assert "Written on 26 November 2026 by En <b>Sample</b>, engineer." in text_of(BEFORE)


def test_each_side_has_a_line_for_name_signature_and_date() -> None:
    text = text_of(cheaper_by("10.00"))
    assert 2 == text.count("Name Signature Date")
    assert "The customer agrees to change order C3" in text


def test_what_the_survey_found_has_a_heading_of_its_own() -> None:
    survey = tuple(part.model_copy(update={"verdict": "keep"}) for part in BEFORE.survey)
    text = text_of(BEFORE.model_copy(update={"survey": survey}))
    found = text.split("Survey of the donor", 1)[1]
    assert "Rear corner, left" in found.split("Price and payments")[0]
    assert "Unchanged: choices; " in found
