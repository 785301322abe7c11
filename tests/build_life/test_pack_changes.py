"""A revision of the pack says what it was and what it is, and names no person."""

from __future__ import annotations

from typing import Any

from configurator.build_life.pack_changes import IN_DETAIL, pack_changes
from configurator.build_spec.spec import Spec
from configurator.build_spec.weights_result import Carrying
from tests.documents.sample_spec import as_built_spec


def carrying(payload_kg: float) -> Carrying:
    return Carrying(
        payload_kg=payload_kg,
        payload_sigma_kg=4.0,
        limited_by="the gross mass limit",
        place_label="Load bed",
        fully_laden="2,061 kg",
    )


def with_build(spec: Spec, **changes: Any) -> Spec:
    return spec.model_copy(update={"build": spec.build.model_copy(update=changes)})


def with_built(spec: Spec, **changes: Any) -> Spec:
    built = spec.build.as_built
    assert built is not None
    return with_build(spec, as_built=built.model_copy(update=changes))


def test_a_record_made_again_is_told_with_both_values_both_days_and_the_reason() -> None:
    before = as_built_spec()
    assert before.build.as_built is not None
    (record,) = before.build.as_built.records
    again = record.model_copy(update={"value": "2.1 MΩ"})
    told = pack_changes(
        before, with_built(before, records=(again,)), {("isolation", None): "Misread."}
    )
    assert (
        "Isolation resistance, battery to chassis: 2.1 MΩ, on 20 April 2027, was 2.4 MΩ, on "
        "20 April 2027; corrected after the handover: Misread.",
    ) == told


def test_a_serial_number_is_told_with_its_part() -> None:
    before = as_built_spec()
    told = pack_changes(before, with_built(before, serial_numbers={"pack": "PK-9"}), {})
    part = next(fitted.component.label for fitted in before.fitted if fitted.slot == "pack")
    assert f"Serial number of {part}: PK-9, was PK-0042-7." in told


def test_payload_and_ranges_are_told_in_numbers_that_differ() -> None:
    before = as_built_spec()
    line = before.ranges[0].model_copy(update={"low_km": 150.2, "high_km": 170.4})
    nearly = line.model_copy(update={"low_km": 150.4})
    was = before.weights.model_copy(update={"carrying": carrying(660)})
    now = before.weights.model_copy(update={"carrying": carrying(431)})
    told = pack_changes(
        before.model_copy(update={"weights": was, "ranges": (line,)}),
        before.model_copy(update={"weights": now, "ranges": (nearly,)}),
        {},
    )
    assert "Payload beside the driver: 431 kg, was 660 kg." in told
    assert f"Range, {line.label}: 150.4 to 170.4 km, was 150.2 to 170.4 km." in told


def test_another_owner_is_told_without_a_name() -> None:
    before = as_built_spec()
    other = before.build.customer.model_copy(update={"name": "Somebody Else"})
    told = pack_changes(before, with_build(before, customer=other), {})
    assert ("The owner's name or contact is another.",) == told


def test_what_no_sentence_tells_is_still_said_to_differ() -> None:
    before = as_built_spec()
    assert (IN_DETAIL,) == pack_changes(before, before.model_copy(update={"tool_version": "9"}), {})
