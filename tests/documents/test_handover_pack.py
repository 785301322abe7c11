"""The pack has every section in order, every text, the spec inside, and is refused while open."""

from __future__ import annotations

from io import BytesIO

import pypdf
import pytest

from configurator.build_spec.spec import Spec
from configurator.documents.handover_pack.pack import (
    DRAFT_WITH_MEASURED,
    SECTIONS,
    handover_pack_pdf,
)
from configurator.documents.text_blocks import texts_of
from configurator.errors import DocumentError
from tests.documents.read_pdf import ReadPage, flat, flat_text, read_pages
from tests.documents.sample_spec import (
    SECTIONS as TEXT_SECTIONS,
)
from tests.documents.sample_spec import (
    as_built_spec,
    open_spec,
    sample_spec,
    spec_data,
    text,
)

ORDER = (
    "How to use this pack", "Safety first", "The vehicle as built", "Weights, loads and tyres",
    "Controls, driving and range", "Charging", "Care of what is fitted",
    "Battery, laying up and storage", "High voltage: do not touch", "Emergency sheet",
    "Faults and help", "Service schedule", "Test certificates", "Warranty and end of life",
    "Handover checklist and signatures", "Revisions and machine-readable spec",
)  # fmt: skip


def test_the_sections_come_in_the_order_of_the_trade(pack_pages: tuple[ReadPage, ...]) -> None:
    assert ORDER == tuple(section.title for section in SECTIONS)
    after_contents = flat_text(pack_pages[1:]).split("A computed check is not an approval.", 1)[1]
    places = [after_contents.index(f"{n} {title}") for n, title in enumerate(ORDER, start=1)]
    assert sorted(places) == places


def test_a_pack_is_refused_while_choices_are_open_and_names_them() -> None:
    with pytest.raises(DocumentError) as refusal:
        handover_pack_pdf(open_spec())
    (fault,) = refusal.value.faults
    assert "D001" == fault.code
    assert "Floor, Towing" in fault.what


def test_the_embedded_spec_is_the_canonical_json(pack: bytes) -> None:
    attachments = pypdf.PdfReader(BytesIO(pack)).attachments
    assert {"spec.json"} == set(attachments)
    embedded = attachments["spec.json"][0].decode()
    assert sample_spec().canonical_json() == embedded
    assert sample_spec() == Spec.model_validate_json(embedded)


def test_the_pack_prints_the_hash_of_the_spec_it_embeds(
    pack_pages: tuple[ReadPage, ...],
) -> None:
    assert sample_spec().sha256() in flat_text(pack_pages).replace(" ", "")


def test_every_text_of_every_section_is_printed() -> None:
    data = spec_data()
    data["texts"] = [
        text(section, id=f"{section}-{n}", title=f"Title {n} of {section}", order=n,
             body=f"Body {n} of {section}.")
        for section in TEXT_SECTIONS
        for n in (2, 1)
    ]  # fmt: skip
    printed = flat_text(read_pages(handover_pack_pdf(Spec.model_validate(data))))
    for section in TEXT_SECTIONS:
        places = [printed.index(f"Title {n} of {section} Body {n} of {section}.") for n in (1, 2)]
        assert sorted(places) == places


def test_texts_of_a_section_come_by_order_then_id() -> None:
    data = spec_data()
    data["texts"] = [text("care", id=i, order=o) for i, o in (("b", 2), ("c", 1), ("a", 2))]
    spec = Spec.model_validate(data)
    assert ["c", "a", "b"] == [found.id for found in texts_of(spec, "care")]


def test_every_section_still_says_something_without_texts() -> None:
    pages = read_pages(handover_pack_pdf(sample_spec(texts=[])))
    printed = flat_text(pages)
    for number, title in enumerate(ORDER, start=1):
        assert f"{number} {title}" in printed
    assert "DANGER" in printed


def test_a_safety_message_prints_signal_hazard_consequence_and_avoidance(
    pack_pages: tuple[ReadPage, ...],
) -> None:
    printed = flat_text(pack_pages)
    for word in ("DANGER", "WARNING", "CAUTION", "NOTICE"):
        assert word in printed
    assert (
        "Hazard: The battery and the orange cables carry more than 400 V. What can happen: "
        "Touching a live part gives a shock that kills. How to avoid it: • Open no orange-marked "
        "part. • Call a trained person." in printed
    )


def test_the_high_voltage_warning_never_depends_on_a_text() -> None:
    printed = flat_text(read_pages(handover_pack_pdf(sample_spec(texts=[]))))
    assert "carry up to 453 V direct voltage (computed)" in printed


def test_measured_values_stand_beside_computed_ones(
    as_built_pages: tuple[ReadPage, ...],
) -> None:
    printed = flat_text(as_built_pages)
    assert "Front axle 690 kg 735 kg 742 kg" in printed
    assert "42.0 kWh ± 4.0 % computed 40.6 kWh" in printed
    assert "PK-0042-7 (read)" in printed
    assert "2.4 MΩ" in printed


def test_a_pack_with_measured_values_is_still_a_draft_and_says_so(
    as_built_pages: tuple[ReadPage, ...],
) -> None:
    assert [] == [p.number for p in as_built_pages if DRAFT_WITH_MEASURED not in flat(p.text)]


def test_the_test_sheet_tells_the_duty_cycle_of_each_source(
    pack_pages: tuple[ReadPage, ...],
) -> None:
    printed = flat_text(pack_pages)
    assert "Domestic socket, 10 A 16.7 %" in printed
    assert "Wall unit, 32 A 53.3 %" in printed


def test_the_test_sheet_asks_for_the_isolation_of_this_very_voltage(
    pack_pages: tuple[ReadPage, ...],
) -> None:
    # Source: UN Regulation No. 100, 5.1.3: at least 500 Ω/V; 453 V gives 226.5 kΩ.
    assert "at least 0.227 MΩ" in flat_text(pack_pages)


def test_every_role_and_the_owner_have_a_line_to_sign(pack_pages: tuple[ReadPage, ...]) -> None:
    printed = flat_text(pack_pages).split("Handover checklist and signatures")[-1]
    for role in ("Adviser", "Engineer", "Workshop manager", "Second person", "Owner"):
        assert role in printed


def test_nothing_is_called_measured_before_it_was() -> None:
    assert as_built_spec().weights.measured_kerb_kg is not None
    printed = flat_text(read_pages(handover_pack_pdf(sample_spec())))
    assert "Nothing has been measured yet." in printed
    assert "not yet measured" in printed


def test_who_stands_for_a_text_is_never_the_first_line_of_a_page(
    pack_pages: tuple[ReadPage, ...],
) -> None:
    firsts = [page.text.splitlines()[2:4] for page in pack_pages]
    assert [] == [lines for lines in firsts if lines[0].startswith("Approved by")]
