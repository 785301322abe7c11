"""A value is within its limits exactly when it lies between them; what is unknown is not judged."""

from __future__ import annotations

from datetime import date
from functools import cache

from hypothesis import given, settings
from hypothesis import strategies as st

from configurator.build_life.entries import AsBuiltRecorded
from configurator.build_life.required_records import RequiredRecord, required_records
from configurator.build_life.tolerances import RecordVerdict, record_verdicts
from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from configurator.build_spec.spec import Spec
from configurator.catalog.models.as_built import ComputedBound, RecordTemplate, RecordValue
from tests.build_spec.tiny_builds import build_of, every_build, tiny_catalog

NUMBERS = st.floats(min_value=-1e6, max_value=1e6)


@cache
def spec() -> Spec:
    catalog = tiny_catalog()
    vehicle = catalog.vehicles[0].id
    build = build_of(vehicle).model_copy(update={"choices": every_build(vehicle)[0].choices})
    return specify(catalog, build, Engines())


def needed(**bounds: object) -> RequiredRecord:
    value = RecordValue.model_validate({"id": "worth", "label": "Worth", "unit": "kg", **bounds})
    template = RecordTemplate(
        id="test",
        label="Test",
        stage="build",
        values=(value,),
        because="It is invented.",
        source="invented for tests",
    )
    return required_records(spec(), (template,))[0]


def judged(record: RequiredRecord, worth: float, until: date = date(2030, 1, 1)) -> RecordVerdict:
    made = AsBuiltRecorded(
        record="test",
        values={"worth": worth},
        instrument="Meter",
        calibrated_until=until,
        measured_on=date(2026, 5, 1),
        by="Invented Person",
    )
    return record_verdicts((record,), (made,), spec())[0]


@settings(max_examples=60)
@given(worth=NUMBERS, low=NUMBERS, wide=st.floats(min_value=0, max_value=1e6))
def test_a_value_holds_exactly_when_it_lies_between_its_limits(
    worth: float, low: float, wide: float
) -> None:
    found = judged(needed(at_least=low, at_most=low + wide), worth)
    assert (low <= worth <= low + wide) == found.in_tolerance
    assert found.is_settled == found.in_tolerance


@settings(max_examples=30)
@given(worth=st.floats(min_value=0, max_value=5000), percent=st.floats(min_value=1, max_value=200))
def test_a_computed_limit_is_that_of_this_very_build(worth: float, percent: float) -> None:
    bound = ComputedBound(of="front-axle-limit-kg", percent=percent, plus=-10)
    limit = round(spec().weights.front.limit_low_kg * percent / 100 - 10, 4)
    found = judged(needed(at_most=bound), worth)
    assert (worth <= limit) == found.in_tolerance
    assert limit == found.bound


def test_a_limit_that_nobody_computed_is_not_judged_and_blocks() -> None:
    assert spec().component("main_fuse") is None
    found = judged(needed(unit="A", at_most="main-fuse-a"), 100.0)
    assert found.in_tolerance is None
    assert not found.is_settled
    assert "Cannot be judged" in found.words


def test_calibration_counts_on_its_last_day_and_not_after_it() -> None:
    assert judged(needed(at_most=10), 1.0, until=date(2026, 5, 1)).is_settled
    assert not judged(needed(at_most=10), 1.0, until=date(2026, 4, 30)).is_settled
