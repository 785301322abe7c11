"""The electrical set in the papers: verdicts in words, cautions, and what an owner is told."""

from __future__ import annotations

from reportlab.platypus import Paragraph, Table

from configurator.build_spec.spec import Spec
from configurator.documents.electrical_tables import electrical_blocks
from configurator.documents.handover_pack.expected_tests import expected_tests
from tests.documents.read_pdf import ReadPage, flat_text
from tests.documents.sample_spec import open_spec, sample_spec, spec_data


def said(block: object) -> str:
    if isinstance(block, Paragraph):
        return str(block.getPlainText())
    if isinstance(block, Table):
        return said(block._cellvalues)
    return " ".join(map(said, block)) if isinstance(block, list | tuple) else ""


def test_every_check_stands_in_the_tables_with_verdict_and_source() -> None:
    spec = sample_spec()
    text = said(electrical_blocks(spec))
    for check in spec.electrical:
        assert check.label in text
        assert check.source in text
    for words in ("BEYOND THE BOUND", "NOT STATED", "to be measured", "kept", "Missing: a motor."):
        assert words in text
    for words in ("at least 190 A", "at most 180 A", "−20 A", "at least 226.5 kΩ"):
        assert words in text


def test_the_caution_tells_hazard_consequence_and_how_to_avoid() -> None:
    text = said(electrical_blocks(sample_spec()))
    for words in ("dangerous voltage", "kills and burns", "test for absence of voltage"):
        assert words in text
    assert "A competent person designs and signs the installation" in text


def test_while_choices_are_open_the_tables_say_so() -> None:
    spec = Spec.model_validate({**open_spec().model_dump(mode="json"), "electrical": []})
    assert "While choices are open" in said(electrical_blocks(spec))


def test_the_pack_tells_what_a_garage_asks_for(pack_pages: tuple[ReadPage, ...]) -> None:
    text = flat_text(pack_pages)
    for words in (
        "B: above 60 V direct voltage",
        "200 A, 500 V direct voltage, as specified; no other rating",
        "50 mm², up to 1,000 V, orange, as specified",
        "for competent persons",
        "37 s, computed for a sound inverter; wait longer and test",
        "at least 226.5 kΩ, to be measured",
        "A competent person designs and signs the installation",
    ):
        assert words in text


def test_the_tests_to_be_signed_name_the_computed_times_beside_the_makers() -> None:
    limits = {test.what: test.limit for test in expected_tests(sample_spec())}
    pre_charge = limits["Pre-charge before the main contactors close"]
    assert "by the maker's paper; computed 0.40 s" == pre_charge
    after = limits["Voltage after switching off"]
    assert "60 V or less in the maker's time; computed 37 s" == after


def test_without_the_facts_the_makers_paper_alone_is_named() -> None:
    data = spec_data()
    data["facts"] = [f for f in data["facts"] if not f["name"].endswith("_seconds")]
    limits = {test.what: test.limit for test in expected_tests(Spec.model_validate(data))}
    assert "by the maker's paper" == limits["Pre-charge before the main contactors close"]
    assert "60 V or less in the maker's time" == limits["Voltage after switching off"]
