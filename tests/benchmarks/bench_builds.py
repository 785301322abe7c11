"""How long the page of builds takes with 5,000 builds on the record.

Run with `python -m tests.benchmarks.bench_builds`.
"""

from __future__ import annotations

import tempfile
import time
from datetime import UTC, datetime
from pathlib import Path

from configurator.build_life.entries import Body, Quoted, SpecIssued, StageReached
from configurator.build_life.people import Person
from configurator.catalog.models.build import Customer, Donor
from configurator.record.book import write_entries
from configurator.workflow.builds import start_enquiry
from configurator.workflow.consultation import pick_option
from configurator.workflow.premises import open_premises
from configurator.workflow.waiting import what_waits

BUILDS = 5000
NOW = datetime(2026, 11, 26, 9, tzinfo=UTC)
BY = Person(name="Invented Person", role="consultant")


def timed(label: str, times: int, act: object) -> None:
    took = []
    for _ in range(times):
        start = time.perf_counter()
        act()  # type: ignore[operator]
        took.append(1000 * (time.perf_counter() - start))
    took.sort()
    print(f"{label:58}{took[len(took) // 2]:9.1f} ms median{took[-1]:9.1f} ms worst")


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        premises = open_premises(Path("catalog"), Path(folder))
        catalog_sha256 = premises.catalog.sha256
        vehicles = [vehicle.id for vehicle in premises.catalog.vehicles]
        start = time.perf_counter()
        for number in range(BUILDS):
            reference = start_enquiry(
                premises,
                customer=Customer(name=f"Invented Person {number}"),
                vehicle_id=vehicles[number % len(vehicles)],
                donor=Donor(),
                notes="",
                now=NOW,
            )
            if number:
                write_entries(premises.record, reference, bodies(catalog_sha256), by=BY, now=NOW)
        print(f"{BUILDS} builds with 6 entries each, {time.perf_counter() - start:.0f} s to make")
        today = NOW.date()
        timed("builds page, first look of a process", 1, lambda: what_waits(premises, today))
        timed("builds page, nothing changed", 9, lambda: what_waits(premises, today))
        timed("builds page, a search", 9, lambda: what_waits(premises, today, search="person 42"))
        revision = iter(range(1, 100))
        groups = premises.catalog.groups_for(vehicles[0])
        options = [option.id for option in groups[5].options][:2]

        def pick_and_look() -> None:
            number = next(revision)
            pick_option(
                premises,
                "B-0001",
                revision=number,
                group_id=groups[5].id,
                option_id=options[number % 2],
                now=NOW,
            )
            what_waits(premises, today)

        timed("a pick, then the builds page", 9, pick_and_look)
        premises.record.engine.dispose()


def bodies(catalog_sha256: str) -> list[Body]:
    quoted = [
        Quoted(
            number=number,
            spec_sha256="0" * 64,
            catalog_sha256="1" * 64,
            revision=1,
            valid_until=NOW.date(),
            total_gbp="1000.00",
            document_sha256="2" * 64,
        )
        for number in range(1, 5)
    ]
    issued = SpecIssued(
        letter="A",
        spec_sha256="0" * 64,
        catalog_sha256=catalog_sha256,
        revision=1,
        section_sha256={},
        total_gbp="1000.00",
    )
    return [*quoted, issued, StageReached(stage_id="order", reached_on=NOW.date(), letter="A")]


if __name__ == "__main__":
    main()
