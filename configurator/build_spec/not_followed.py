"""Driving cases that ask for more power than the drive can give."""

from __future__ import annotations

from collections.abc import Mapping

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.driving_inputs import road_vehicle
from configurator.build_spec.fact_names import FACT_LABELS
from configurator.build_spec.range_facts import trip_of
from configurator.build_spec.spec import Finding
from configurator.physics.road_load import share_not_followed

WORTH_TELLING = 0.005
"""Share of the time below which a trace counts as followed."""


def cases_not_followed(compiled: Compiled, choices: Mapping[str, str]) -> list[Finding]:
    """Note each driving case whose trace a complete build cannot follow all the time.

    The range told is then on the safe side: what is missing is counted at the cost of the last
    watt the drive can give.
    """
    book = compiled.book
    cycles = {cycle.id: cycle for cycle in compiled.catalog.cycles}
    findings = []
    for case in compiled.catalog.driving_cases:
        fact = book.drive_fact("range_mid_km", case.id)
        if fact is None:
            continue
        vehicle = road_vehicle(book.around, case, book.state(fact, choices))
        if vehicle is None:
            continue
        share = share_not_followed([vehicle], trip_of(case, cycles))[0]
        if share > WORTH_TELLING:
            findings.append(_finding(case.id, case.label, share))
    return findings


def _finding(case_id: str, label: str, share: float) -> Finding:
    return Finding(
        code="F009",
        severity="notes",
        subject=case_id,
        sentence=(
            f"{label}: for {share:.0%} of the time the drive cannot follow the speed asked for; "
            f"the {FACT_LABELS['range_mid_km'].label.lower()} is told on the safe side."
        ),
        value=round(100 * share, 1),
        unit="%",
        source="computed from the speed trace and the drive's power",
        remedy="Read this range as that of a calmer journey, or choose a stronger drive.",
    )
