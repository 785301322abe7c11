"""The steps to this version's tables: all of them or none, one process at a time."""

from __future__ import annotations

import multiprocessing
import os
from pathlib import Path

import pytest
from sqlalchemy import create_engine, inspect, text

from configurator.errors import RecordError
from configurator.record.addresses import record_address
from configurator.record.database import open_record
from configurator.record.drafts import list_drafts
from configurator.record.migrate import bring_up_to_date
from configurator.record.verify import verify_record
from tests.workflow.killed import KILLED, told_until_killed

STATEMENTS = (
    "INSERT INTO builds VALUES (3, 7, 'B-0007', NULL, '2026-03-04 09:30:15.123456+00:00')",
    "INSERT INTO drafts VALUES (3, 1, '{\"a\": \"ä\"}', '2026-03-04 09:30:15.123456+00:00')",
    "INSERT INTO changes VALUES (5, 3, 1, 'started', '[]', NULL, "
    "'2026-03-04 09:30:15.123456+00:00')",
)
WRITES = (1, 2, 3, 5, 8, 12, 17, 23, 30, 36)
needs_fork = pytest.mark.skipif(os.name == "nt", reason="Windows has no fork")


@pytest.fixture
def first(tmp_path: Path, url: str | None) -> Path:
    """A record as the first version left it, with a build."""
    engine = create_engine(record_address(tmp_path, url))
    is_file = engine.dialect.name == "sqlite"
    with engine.begin() as connection:
        bring_up_to_date(connection, "here", "first_record")
        for statement in STATEMENTS:
            plain = statement.replace("+00:00", "") if is_file else statement
            connection.exec_driver_sql(plain)
    engine.dispose()
    return tmp_path


@needs_fork
def test_a_migration_stopped_before_any_of_its_writes_leaves_the_record_as_it_was(
    first: Path, url: str | None
) -> None:
    for write in WRITES:
        _, code = told_until_killed(lambda _tell: open_record(first, url), write=write)
        assert KILLED == code, write
        engine = create_engine(record_address(first, url))
        with engine.connect() as connection:
            found = connection.scalar(text("SELECT version_num FROM alembic_version"))
            assert "first_record" == found, write
            assert not inspect(connection).has_table("last_entry")
        engine.dispose()
    record = open_record(first, url)
    assert () == verify_record(record).faults
    assert ["B-0007"] == [draft.reference for draft in list_drafts(record)]
    record.engine.dispose()


@needs_fork
def test_several_first_starts_at_once_make_one_record(tmp_path: Path, url: str | None) -> None:
    fork = multiprocessing.get_context("fork")
    start = fork.Barrier(3)

    def open_it() -> None:
        start.wait()
        open_record(tmp_path, url).engine.dispose()
        os._exit(0)

    processes = [fork.Process(target=open_it) for _ in range(3)]
    for process in processes:
        process.start()
    for process in processes:
        process.join()
    assert [0, 0, 0] == [process.exitcode for process in processes]
    record = open_record(tmp_path, url)
    assert () == verify_record(record).faults
    record.engine.dispose()


def test_a_record_of_a_newer_version_is_left_alone(tmp_path: Path, url: str | None) -> None:
    record = open_record(tmp_path, url)
    with record.engine.begin() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = 'from_next_year'"))
    with pytest.raises(RecordError) as refused:
        open_record(tmp_path, url)
    assert ["R003"] == [fault.code for fault in refused.value.faults]
    with record.engine.connect() as connection:
        found = connection.scalar(text("SELECT version_num FROM alembic_version"))
    assert "from_next_year" == found
    record.engine.dispose()
