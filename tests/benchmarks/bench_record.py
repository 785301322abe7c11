"""Times of the record: the save of a pick, verifying and copying 5,000 builds with 6 entries each.

Run it from the repository as `python -m tests.benchmarks.bench_record`; with `--database URL` of an
empty database it measures that one instead of a file.
"""

from __future__ import annotations

import argparse
import hashlib
import os
import resource
import tempfile
import zlib
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime
from pathlib import Path
from statistics import median
from time import perf_counter
from typing import Any

import sqlalchemy as sa

from configurator.build_life.entries import (
    Body,
    QuotationAccepted,
    SignedOff,
    SpecIssued,
    StageReached,
)
from configurator.build_life.once import slot_of
from configurator.build_life.people import Person
from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from configurator.catalog.load import load_catalog
from configurator.catalog.models.build import BuildInput, Customer
from configurator.record.book import BEFORE_THE_FIRST, chained_sha256, written_entry
from configurator.record.changes import Change, Step
from configurator.record.database import Record, open_record
from configurator.record.drafts import save_draft
from configurator.record.seals import seal_for
from configurator.record.tables import Table
from configurator.workflow.backup_file import opened_backup
from configurator.workflow.backups import back_up
from configurator.workflow.restoring import restore
from configurator.workflow.verifying import verify_all

CATALOG = Path(__file__).parents[2] / "catalog"
NOW = datetime(2026, 3, 4, 9, 30, tzinfo=UTC)
TODAY = date(2026, 3, 4)
PERSON = Person(name="Invented Engineer", role="engineer")
CHANGES_OF_A_BUILD = 12
SAVES = 60
Row = dict[str, Any]


def main() -> None:
    """Print a row for each piece of work."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--builds", type=int, default=5000)
    parser.add_argument("--database", default=None)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        record = open_record(folder, given.database)
        spec = _spec()
        _timed(f"fill with {given.builds} builds", lambda: _fill(record, given.builds, spec))
        _saves(record)
        found = _timed("verify", lambda: verify_all(record, folder))
        assert () == found.faults
        print("  read " + ", ".join(f"{n} {what}" for what, n in found.counts.items()))
        target = folder / "backup.zip"
        _timed("backup", lambda: back_up(record, folder, target, now=NOW))
        print(f"  {target.stat().st_size / 1e6:.0f} MB")
        _timed("restore into a file", lambda: _restore(target, folder / "restored"))
        record.engine.dispose()
    peak_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"greatest memory of the process {peak_mb:.0f} MB; {os.cpu_count()} cores")


def _timed(label: str, work: Callable[[], Any]) -> Any:
    start = perf_counter()
    done = work()
    print(f"{label:28} {perf_counter() - start:8.2f} s")
    return done


def _restore(path: Path, folder: Path) -> None:
    record = open_record(folder)
    with opened_backup(path) as backup:
        restore(backup, record, folder, over=False)
    record.engine.dispose()


def _saves(record: Record) -> None:
    build = _build("B-0001")
    times = []
    for number in range(SAVES):
        revision = CHANGES_OF_A_BUILD + 1 + number
        change = Change(revision, "picked", (Step("choices", "roof", None, "a"),), None, NOW)
        start = perf_counter()
        save_draft(record, build, change, lambda _change: "")
        times.append((perf_counter() - start) * 1000)
    print(f"{'save of a pick':28} median {median(times):.1f} ms, worst {max(times):.1f} ms")


def _spec() -> str:
    catalog = load_catalog(CATALOG)
    build = BuildInput(
        reference="B-0001",
        customer=Customer(name="Invented Person"),
        vehicle=catalog.vehicles[0].id,
        priced_on=TODAY,
        house_choices_for_the_rest=True,
    )
    return specify(catalog, build, Engines()).canonical_json()


def _build(reference: str) -> BuildInput:
    customer = Customer(name="Invented Person")
    return BuildInput(reference=reference, customer=customer, vehicle="van", priced_on=TODAY)


def _fill(record: Record, builds: int, spec: str) -> None:
    kept_catalog = b"the files of a catalog" * 1000
    with record.engine.execution_options(writes=True).begin() as connection:
        _insert(connection, "builds", (_build_row(number) for number in range(1, builds + 1)))
        _insert(connection, "drafts", (_draft_row(number) for number in range(1, builds + 1)))
        _insert(connection, "changes", _change_rows(builds))
        contents = [_content_row("catalog", kept_catalog)]
        _insert(connection, "contents", contents)
        specs = (_content_row("spec", _spec_of(spec, n)) for n in range(1, builds + 1))
        _insert(connection, "contents", specs)
        catalog_sha256 = contents[0]["sha256"]
        _insert_entries(connection, builds, spec, catalog_sha256)
        if connection.dialect.name == "postgresql":
            for name in ("builds", "changes"):
                sequence = f"pg_get_serial_sequence('{name}', 'id')"
                last = f"(SELECT max(id) FROM {name})"  # noqa: S608  our own name
                connection.exec_driver_sql(f"SELECT setval({sequence}, {last})")


def _insert(connection: sa.Connection, name: str, rows: Iterator[Row] | list[Row]) -> None:
    table, some = Table.metadata.tables[name], []
    for row in rows:
        some.append(row if name == "entries" else row | {"seal": seal_for(table, row)})
        if len(some) == 500:
            connection.execute(sa.insert(table), some)
            some = []
    if some:
        connection.execute(sa.insert(table), some)


def _build_row(number: int) -> Row:
    reference = f"B-{number:04d}"
    return {
        "id": number,
        "number": number,
        "reference": reference,
        "origin": None,
        "started_at": NOW,
    }


def _draft_row(number: int) -> Row:
    content = _build(f"B-{number:04d}").model_dump(mode="json")
    revision = CHANGES_OF_A_BUILD
    return {"build_id": number, "revision": revision, "content": content, "saved_at": NOW}


def _change_rows(builds: int) -> Iterator[Row]:
    for number in range(1, builds + 1):
        for revision in range(1, CHANGES_OF_A_BUILD + 1):
            yield {
                "id": (number - 1) * CHANGES_OF_A_BUILD + revision,
                "build_id": number,
                "revision": revision,
                "kind": "picked",
                "steps": [{"field": "choices", "key": "roof", "old": None, "new": "pop-top"}],
                "undoes": None,
                "made_at": NOW,
            }


def _spec_of(spec: str, number: int) -> bytes:
    return spec.replace("B-0001", f"B-{number:04d}").encode()


def _content_row(what: str, content: bytes) -> Row:
    sha256 = hashlib.sha256(content).hexdigest()
    return {"sha256": sha256, "what": what, "content": zlib.compress(content)}


def _insert_entries(connection: sa.Connection, builds: int, spec: str, catalog: str) -> None:
    before, number, rows = BEFORE_THE_FIRST, 0, []
    for build_id in range(1, builds + 1):
        reference = f"B-{build_id:04d}"
        sha256 = hashlib.sha256(_spec_of(spec, build_id)).hexdigest()
        for body in _bodies(sha256, catalog):
            number += 1
            written = written_entry(number, reference, body, PERSON, NOW)
            before = chained_sha256(before, written)
            rows.append(
                {
                    "number": number,
                    "build_id": build_id,
                    "kind": body.kind,
                    "slot": slot_of(body),
                    "written": written,
                    "sha256": before,
                }
            )
    _insert(connection, "entries", rows)
    last = Table.metadata.tables["last_entry"]
    connection.execute(sa.update(last).values(number=number, sha256=before))


def _bodies(spec: str, catalog: str) -> tuple[Body, ...]:
    named = {"spec_sha256": spec, "catalog_sha256": catalog, "revision": 12}
    sections = {"price": spec, "weights": spec}
    issued = SpecIssued.model_validate(
        {"letter": "A", "section_sha256": sections, "total_gbp": "45000.00", **named}
    )
    return (
        issued,
        QuotationAccepted(
            number=1, letter="A", spec_sha256=spec, accepted_on=TODAY, how="On paper, in the file"
        ),
        *(
            SignedOff(letter="A", sign_off=name, spec_sha256=spec, section_sha256=sections)
            for name in ("design", "promise")
        ),
        *(
            StageReached(stage_id=stage, reached_on=TODAY, letter="A")
            for stage in ("order", "strip")
        ),
    )


if __name__ == "__main__":
    main()
