"""Test certificates: measured records, rows still to fill, and what the control pilot must show."""

from __future__ import annotations

from reportlab.platypus import Flowable

from configurator.build_spec.spec import Spec
from configurator.catalog.models.build import MeasuredRecord
from configurator.documents.figures import day, number
from configurator.documents.handover_pack.expected_tests import expected_tests
from configurator.documents.handover_pack.ordered_and_measured import verdict_words
from configurator.documents.handover_pack.pack_issue import PackIssue
from configurator.documents.headings import subheading
from configurator.documents.paragraphs import small, words
from configurator.documents.tables import headed_table, room_to_write
from configurator.documents.text_blocks import text_blocks


def certificate_blocks(spec: Spec, issue: PackIssue | None = None) -> list[Flowable]:
    """Show what was measured, what is still to be measured, then the workshop's texts."""
    return [
        words(
            "A test counts when a competent person did it with a checked instrument and signed. "
            "Limits printed here are for orientation; local codes and makers' papers come first."
        ),
        *_measured(spec),
        *_to_fill(spec),
        *_pilot(spec, is_issued=issue is not None),
        *text_blocks(spec, "certificates"),
    ]


def _measured(spec: Spec) -> list[Flowable]:
    records = spec.build.as_built.records if spec.build.as_built else ()
    if not records:
        return [small("Nothing has been measured yet.")]
    head = ("Measured", "Value, measured", "Limit", "Instrument", "On, by", "Verdict")
    rows = [_record(record) for record in records]
    return [headed_table(head, rows, (0.17, 0.22, 0.22, 0.15, 0.13, 0.11))]


def _record(record: MeasuredRecord) -> tuple[str, ...]:
    who = f"{day(record.measured_on)}, {record.by}"
    until = record.calibrated_until
    counts = f", calibrated until {day(until)}" if until else ""
    why = f". {record.why}" if record.why else ""
    source = f"Source: {record.source}" if record.source else ""
    return (
        record.label,
        record.value,
        ". ".join(told for told in (record.limit, source) if told),
        f"{record.instrument}{counts}",
        who,
        f"{verdict_words(in_tolerance=record.in_tolerance)}{why}",
    )


def _to_fill(spec: Spec) -> list[Flowable]:
    tests = _tests_to_make(spec)
    if not tests:
        return [small("Every record that this vehicle needs has been made.")]
    rows = [(what, limit, room_to_write(), "", "") for what, limit in tests]
    head = ("To be measured", "Limit", "Value", "Instrument", "Date, signature")
    return [
        subheading("Still to be measured and signed"),
        headed_table(head, rows, (0.3, 0.28, 0.12, 0.13, 0.17)),
    ]


def _tests_to_make(spec: Spec) -> list[tuple[str, str]]:
    """List what the build's book still lacks; without one, what a careful builder records."""
    built = spec.build.as_built
    if built is not None and built.ordered:
        return [(test.label, test.limit) for test in built.to_make]
    return [(test.what, test.limit) for test in expected_tests(spec)]


def _pilot(spec: Spec, *, is_issued: bool) -> list[Flowable]:
    """Tell the duty cycles; in a draft with room for what is measured, later that stands above."""
    told = [
        (line.label, f"{number(line.pilot_duty_percent, 1)} %")
        for line in spec.charging
        if line.pilot_duty_percent is not None
    ]
    if not told:
        return []
    head = ("Source", "Duty cycle, computed")
    return [
        subheading("Control pilot at each source of alternating current"),
        headed_table(head, told, (0.7, 0.3), figures=(1,))
        if is_issued
        else headed_table(
            (*head, "Duty cycle, measured", "Date, signature"),
            [(*line, room_to_write(), "") for line in told],
            (0.36, 0.2, 0.2, 0.24),
            figures=(1,),
        ),
        small("The duty cycle that a correct control pilot shows, after IEC 61851-1."),
    ]
