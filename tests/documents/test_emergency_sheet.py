"""The emergency sheet: order of ISO 17840-1, own pages, never longer than four."""

from __future__ import annotations

import re

import pytest

from configurator.build_spec.spec import Spec
from configurator.documents.handover_pack.emergency_sheet import LONGEST_SHEET_PAGES
from configurator.documents.handover_pack.emergency_views import placed_items
from configurator.documents.handover_pack.pack import handover_pack_pdf
from configurator.errors import DocumentError
from tests.documents.read_pdf import ReadPage, flat, flat_text
from tests.documents.sample_spec import sample_spec, spec_data, text

# Source: ISO 17840-1, order of the sections of a rescue sheet.
ORDER = (
    "Identification",
    "Immobilisation, stabilisation and lifting",
    "Disable direct hazards",
    "Access to the occupants",
    "Stored energy, liquids, gases and solids",
    "In case of fire",
    "In case of submersion",
    "Towing, transportation and storage",
    "Important additional information",
    "Explanation of pictograms",
)


@pytest.fixture(scope="module")
def sheet(pack_pages: tuple[ReadPage, ...]) -> tuple[ReadPage, ...]:
    return tuple(page for page in pack_pages if "EMERGENCY SHEET" in page.text)


def test_the_ten_parts_come_in_the_order_of_the_standard(sheet: tuple[ReadPage, ...]) -> None:
    printed = flat_text(sheet)
    places = [printed.index(f"{number}. {title}") for number, title in enumerate(ORDER, start=1)]
    assert sorted(places) == places


def test_the_sheet_has_at_most_four_pages_and_counts_them(sheet: tuple[ReadPage, ...]) -> None:
    counts = [re.search(r"sheet page (\d) of (\d)", flat(page.text)) for page in sheet]
    assert 1 <= len(sheet) <= LONGEST_SHEET_PAGES == 4
    assert [(n, len(sheet)) for n in range(1, len(sheet) + 1)] == [
        (int(count[1]), int(count[2])) for count in counts if count
    ]


def test_the_sheet_can_be_taken_out(sheet: tuple[ReadPage, ...]) -> None:
    numbers = [page.number for page in sheet]
    assert list(range(numbers[0], numbers[0] + len(numbers))) == numbers
    other = ("9 High voltage: do not touch", "11 Faults and help")
    assert [] == [page.number for page in sheet for title in other if title in flat(page.text)]
    assert "Behind the driver's visor" in flat(sheet[0].text)


def test_texts_too_long_for_four_pages_are_refused_with_what_to_shorten() -> None:
    data = spec_data()
    data["texts"] = [text("emergency-fire", body="Keep clear of the vehicle.\n\n" * 500)]
    with pytest.raises(DocumentError) as refusal:
        handover_pack_pdf(Spec.model_validate(data))
    assert ["D002"] == [fault.code for fault in refusal.value.faults]


def test_only_what_is_put_in_is_drawn() -> None:
    spec = sample_spec()
    drawn = {item.emblem for item in placed_items(spec)}
    assert {line.emblem for line in spec.ledger if line.emblem} == drawn
    taken_out = [line.model_copy(update={"mass_kg": -abs(line.mass_kg)}) for line in spec.ledger]
    assert [] == placed_items(spec.model_copy(update={"ledger": tuple(taken_out)}))


def test_each_placed_part_is_named_with_its_place(sheet: tuple[ReadPage, ...]) -> None:
    printed = flat_text(sheet)
    assert "Service disconnect: under the floor." in printed
    assert "Low-voltage battery: driver's seat." in printed


def test_the_plain_facts_of_recovery_are_there(sheet: tuple[ReadPage, ...]) -> None:
    # Source: common practice, no source: clear distance, waiting time, driven wheels lifted.
    printed = flat_text(sheet)
    assert "15 m or more clear of buildings" in printed
    assert "commonly ten minutes or more" in printed
    assert "with the rear wheels, which are driven, off the ground" in printed
