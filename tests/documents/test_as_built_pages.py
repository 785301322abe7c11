"""The pack tells ordered, computed and measured side by side, and certificates with verdicts."""

from __future__ import annotations

from typing import Any

from configurator.build_spec.spec import Spec
from configurator.build_spec.weights_result import Carrying
from configurator.catalog.models.build import AsBuilt
from configurator.documents.handover_pack.pack import handover_pack_pdf
from tests.documents.pack_words import words_of_pack
from tests.documents.read_pdf import overlapping_words, read_pages
from tests.documents.sample_spec import as_built_spec

ORDERED = [
    {"name": "kerb_mass_kg", "label": "Kerb mass", "unit": "kg", "low": 1540, "high": 1540},
    {"name": "kerb_front_axle_kg", "label": "Front", "unit": "kg", "low": 730, "high": 730},
    {"name": "usable_energy_kwh", "label": "Usable energy", "unit": "kWh", "low": 39, "high": 39},
    {"name": "payload_kg", "label": "Payload", "unit": "kg", "low": 640, "high": 640},
]


def measured_spec(**changes: Any) -> Spec:
    spec = as_built_spec()
    assert spec.build.as_built is not None
    told = spec.build.as_built.model_dump(mode="json")
    told["records"][0] |= {
        "calibrated_until": "2027-04-01",
        "in_tolerance": False,
        "why": "The <b>calibration</b> had ended.",
        "source": "invented for tests",
        "tells": ["front-axle-kg"],
    }
    built = AsBuilt.model_validate({**told, "ordered": ORDERED, **changes})
    return spec.model_copy(update={"build": spec.build.model_copy(update={"as_built": built})})


def test_ordered_computed_and_measured_stand_side_by_side_with_the_verdict() -> None:
    told = words_of_pack(measured_spec())
    assert "Ordered, computed and measured" in told
    front = as_built_spec().weights.front.kerb_low_kg
    assert f"Front axle, empty 730 kg {front:,.0f} kg 742 kg NOT within tolerance" in told
    assert "1,553 kg 13 kg more" in told
    assert "Usable energy 39.0 kWh 37.8 kWh 1.2 kWh less" in told
    assert "Payload 640 kg 660 kg as ordered or better" in told


def test_without_a_record_in_the_book_nothing_is_compared() -> None:
    assert "Ordered, computed and measured" not in words_of_pack(as_built_spec())


def test_a_certificate_names_instrument_calibration_day_person_and_why_it_does_not_hold() -> None:
    told = words_of_pack(measured_spec())
    for part in (
        "insulation",
        "calibrated",
        "1 April",
        "20 April",
        "Marrin",
        "<b>",
        "NOT within",
        "had ended.",
        "Source:",
    ):
        assert part in told, part


def test_a_record_without_a_limit_tells_its_source_alone() -> None:
    built = measured_spec().build.as_built
    assert built is not None
    for limit, told in (("0.2", "0.2. Source: a note"), ("", "2.4 MΩ Source: a note")):
        record = built.records[0].model_copy(update={"limit": limit, "source": "a note"})
        assert told in words_of_pack(measured_spec(records=[record]))


def test_what_is_still_to_be_made_comes_from_the_book() -> None:
    to_make = [{"label": "Road test <i>home</i>", "limit": "at least 50 km"}]
    told = words_of_pack(measured_spec(to_make=to_make))
    assert "Road test <i>home</i> at least 50 km" in told
    assert "Interlock loop opens the main contactors" not in told
    assert "Every record that this vehicle needs has been made." in words_of_pack(measured_spec())


def test_long_words_of_people_stay_within_their_columns() -> None:
    record = {
        "id": "long",
        "label": "L" * 80,
        "value": "9" * 300,
        "limit": "limit " * 200,
        "instrument": "I" * 200,
        "measured_on": "2027-04-20",
        "by": "P" * 200,
        "in_tolerance": True,
        "source": "source " * 100,
    }
    pages = read_pages(handover_pack_pdf(measured_spec(records=[record])))
    for page in pages:
        assert not overlapping_words(page), page.number
        assert all(word.right <= page.width for word in page.words), page.number


def test_the_capacity_on_record_is_that_which_was_measured() -> None:
    # Source: common practice, no source: a battery is described by what was measured, with day,
    # method and temperature; an owner compares later values with it.
    record = {
        "id": "intake",
        "label": "Intake",
        "value": "Whole pack: 40.2 kWh; Weakest: Group <b>7</b>; Method: by the book; 21 °C",
        "instrument": "Cycler 4",
        "measured_on": "2027-04-20",
        "by": "Ida Sample",
        "in_tolerance": True,
        "tells": ["pack-capacity-kwh"],
    }
    told = words_of_pack(measured_spec(records=[record], pack_capacity_kwh=40.2))
    chapter = told[told.index("Capacity on record") :][:400]
    assert "at handover 20 April 2027" in chapter
    for part in ("40.2 kWh", "Group <b>7</b>", "by the book", "21 °C", "Cycler 4, Ida Sample"):
        assert part in chapter, part
    assert chapter.index("at handover") < chapter.index("year 1") < chapter.index("year 4")


def test_what_follows_from_the_measured_capacity_does_not_stand_as_specified() -> None:
    told = words_of_pack(measured_spec(pack_capacity_kwh=40.2))
    assert "Usable energy 39.0 kWh computed 37.8 kWh, computed from it" in told


def test_one_payload_is_told_by_the_limit_that_comes_first() -> None:
    spec = measured_spec()
    carrying = Carrying(
        payload_kg=431.0,
        payload_sigma_kg=4.0,
        limited_by="the limit of the rear axle (its tyres)",
        place_label="Load bed",
        fully_laden="2,061 kg",
    )
    weights = spec.weights.model_copy(update={"carrying": carrying})
    told = words_of_pack(spec.model_copy(update={"weights": weights}))
    assert spec.fact("payload_kg") is not None
    assert "gross mass, beside the driver" not in told
    assert "660 kg" not in told, "what the gross mass alone would allow"
    assert "Payload beside the driver 431 ± 8 kg" in told
    assert "what sets it is the limit of the rear axle (its tyres)" in told
    assert "Payload 640 kg 431 kg 209 kg less; set by the limit of the rear axle" in told
