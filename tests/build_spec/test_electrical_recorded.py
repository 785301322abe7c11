"""Records of the finished vehicle stand beside the checks they answer, and are judged by them."""

from __future__ import annotations

from datetime import date

import pytest

from configurator.build_spec.electrical_check import ElectricalCheck
from configurator.build_spec.electrical_findings import electrical_findings
from configurator.build_spec.electrical_recorded import measured_figure
from configurator.build_spec.electrical_section import electrical_checks
from configurator.build_spec.spec import Finding
from configurator.catalog.models.as_built import RecordTemplate
from configurator.catalog.models.build import AsBuilt, MeasuredRecord
from tests.build_spec.electrical_builds import choices_of, electrical_catalog
from tests.build_spec.tiny_builds import changed, compiled_of

VAN = "clover-van"


def template(name: str, **bound: str) -> RecordTemplate:
    return RecordTemplate.model_validate(
        {
            "id": name,
            "label": name,
            "stage": "last",
            "values": [{"id": "it", "label": "It", "unit": "x", **bound}],
            "because": "It hurts.",
            "source": "invented for tests",
        }
    )


TEMPLATES = (
    template("poles", at_least="isolation-kohm"),
    template("metal", at_most="bonding-ohm"),
    template("closing", at_most="pre-charge-within-seconds"),
)


def record(name: str, value: str, **more: object) -> MeasuredRecord:
    return MeasuredRecord.model_validate(
        {
            "id": name,
            "label": name,
            "value": value,
            "measured_on": date(2026, 9, 21),
            "by": "A fitter",
            **more,
        }
    )


def checked(*records: MeasuredRecord) -> dict[str, ElectricalCheck]:
    compiled = compiled_of(changed(electrical_catalog(), "records", as_built=TEMPLATES), VAN)
    found = electrical_checks(compiled, choices_of(compiled), AsBuilt(records=records))
    return {check.id: check for check in found}


def found_of(check: ElectricalCheck) -> list[Finding]:
    return list(electrical_findings([check], {"pre_charge_seconds"}))


def test_a_measured_isolation_replaces_what_is_to_be_measured() -> None:
    check = checked(record("poles", "2.4 MΩ", instrument="Tester 3"))["isolation-joined"]
    assert ("kept", 2400.0, "kΩ") == (check.verdict, check.value, check.unit)
    assert check.bound is not None
    assert pytest.approx(2400.0 - check.bound) == check.margin
    assert "2.4 MΩ, measured on 21 September 2026 by A fitter with Tester 3" == check.recorded


def test_without_its_record_a_check_stays_to_be_measured() -> None:
    checks = checked(record("poles", "2.4 MΩ"))
    assert ("to measure", "") == (checks["bonding"].verdict, checks["bonding"].recorded)


def test_a_measurement_beyond_its_bound_is_found_and_says_what_it_does_to_people() -> None:
    [finding] = found_of(checked(record("metal", "0.25 Ω"))["bonding"])
    assert ("F031", "warns", 0.25) == (finding.code, finding.severity, finding.value)
    assert "whoever touches the vehicle" in finding.sentence
    assert "measure again" in finding.remedy


def test_a_measured_time_beyond_is_found_though_a_limit_bounds_the_computed_one() -> None:
    check = checked(record("closing", "9 s"))["pre-charge-time"]
    assert ("beyond", 9.0) == (check.verdict, check.value)
    assert "; computed " in check.recorded
    assert ["F031"] == [finding.code for finding in found_of(check)]


def test_words_without_a_figure_are_shown_and_not_judged() -> None:
    check = checked(record("metal", "good everywhere"))["bonding"]
    assert ("to measure", None) == (check.verdict, check.value)
    assert check.recorded.startswith("good everywhere, measured on")


@pytest.mark.parametrize(("in_tolerance", "verdict"), [(True, "kept"), (False, "beyond")])
def test_words_that_somebody_held_against_the_limit_keep_that_judgement(
    *, in_tolerance: bool, verdict: str
) -> None:
    check = checked(record("metal", "see the sheet", in_tolerance=in_tolerance))["bonding"]
    assert verdict == check.verdict


def test_of_two_records_the_last_counts() -> None:
    check = checked(record("metal", "0.5 Ω"), record("metal", "0.02 Ω"))["bonding"]
    assert ("kept", 0.02) == (check.verdict, check.value)


@pytest.mark.parametrize(
    ("words", "unit", "expected"),
    [
        ("18 mΩ", "Ω", 0.018),
        ("2,400 kΩ", "kΩ", 2400.0),
        ("420 ms", "s", 0.42),
        ("2,4 MΩ", "kΩ", None),
        ("2.4 V", "kΩ", None),
        ("over 2 MΩ", "kΩ", None),
        ("2 MΩ", "A", None),
    ],
)
def test_only_one_figure_with_a_known_unit_is_read(
    words: str, unit: str, expected: float | None
) -> None:
    assert expected == measured_figure(words, unit)
