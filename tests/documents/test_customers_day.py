"""The spec sheet tells a customer's day where one is stated."""

from __future__ import annotations

from typing import Any

from configurator.build_spec.spec import Spec
from configurator.documents.spec_sheet import spec_sheet_pdf
from tests.documents.read_pdf import flat_text, read_pages
from tests.documents.sample_spec import sample_spec


def outcome(battery: str, **changes: Any) -> dict[str, Any]:
    return {
        "battery": battery, "usable_kwh": 37.8, "used_low_kwh": 20.1, "used_mid_kwh": 22.0,
        "used_high_kwh": 24.2, "left_low_percent": 34.4, "left_mid_percent": 41.8,
        "left_high_percent": 48.2, "least_low_percent": 34.4, "spare_low_km": 33.4,
        "spare_mid_km": 50.1, "fits": True, "likelihood_percent": 99.9, **changes,
    }  # fmt: skip


def spec_with_day(**changes: Any) -> Spec:
    day = {
        "of_default_completion": False, "distance_km": 90, "reserve_percent": 10,
        "conditions": "90 km on country roads, <b>driver</b> only", "charged_halfway_kwh": 0,
        "new": outcome("new"),
        "aged": outcome("aged", left_low_percent=-4.0, spare_low_km=-12.4, fits=False),
        "legs": [
            {"road": "country", "label": "On country roads", "distance_km": 90,
             "energy_kwh": 22.0, "share_percent": 100},
        ],
        "helps": [], "not_followed_percent": 0, "trailer_allowed_kg": 0, "payload_spare_kg": 200,
        "assumptions": ["The day begins with a full battery."], **changes,
    }  # fmt: skip
    return sample_spec(day=day)


def text_of(spec: Spec) -> str:
    return flat_text(read_pages(spec_sheet_pdf(spec)))


def test_a_stated_day_is_told_with_its_band_and_what_is_missing() -> None:
    told = text_of(spec_with_day())
    for words in (
        "Your day",
        "<b>driver</b> only",
        "20.1–24.2 kWh",
        "34–48 % left",
        "33 km to spare",
        "13 km missing",
        "empty before the end",
    ):
        assert words in told
    assert "as the workshop would make them" not in told


def test_a_day_of_the_default_completion_says_so() -> None:
    assert "as the workshop would make them" in text_of(spec_with_day(of_default_completion=True))


def test_without_a_day_the_sheet_has_no_such_part() -> None:
    assert "Your day" not in text_of(sample_spec())
