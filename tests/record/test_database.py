import sqlite3
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import event, text

from configurator.catalog.models.build import BuildInput
from configurator.errors import RecordError
from configurator.record import database
from configurator.record.addresses import RECORD_FILE
from configurator.record.changes import list_changes
from configurator.record.database import Record, open_record, reading, writing
from configurator.record.documents import DocumentEntry, add_document
from configurator.record.drafts import list_drafts
from configurator.record.fault_codes import FAULT_CODES
from configurator.record.new_builds import add_build
from configurator.record.tables import Table
from tests.databases.postgresql import Server


@pytest.fixture
def url() -> None:
    """Only the file can be full, locked or set read-only by a test."""


def codes_at_opening(folder: Path, url: str | None = None) -> list[str]:
    with pytest.raises(RecordError) as caught:
        open_record(folder, url)
    assert all(fault.code in FAULT_CODES for fault in caught.value.faults)
    assert all(fault.remedy.endswith(".") for fault in caught.value.faults)
    return [fault.code for fault in caught.value.faults]


def test_every_change_is_forced_to_the_disk_and_readers_do_not_block_writers(
    record: Record,
) -> None:
    with reading(record) as session:
        settings = {
            name: session.scalar(text(f"PRAGMA {name}"))
            for name in ("journal_mode", "synchronous", "foreign_keys", "busy_timeout")
        }
    assert {
        "journal_mode": "wal",
        "synchronous": 2,
        "foreign_keys": 1,
        "busy_timeout": 15000,
    } == settings


def test_the_migrations_lead_to_exactly_the_tables_of_the_models(record: Record) -> None:
    with record.engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert [] == compare_metadata(context, Table.metadata)


def test_opening_again_keeps_what_is_there(
    tmp_path: Path, new_build: Callable[..., BuildInput], now: datetime
) -> None:
    first = open_record(tmp_path)
    stored = add_build(first, new_build(), now=now)
    first.engine.dispose()
    second = open_record(tmp_path)
    assert (stored,) == list_drafts(second)


def test_a_file_in_place_of_the_data_folder_is_told(tmp_path: Path) -> None:
    (tmp_path / "data").write_text("not a folder")
    assert ["R001"] == codes_at_opening(tmp_path / "data")
    assert ["R001"] == codes_at_opening(tmp_path / "data" / "deeper")


def test_a_folder_in_place_of_the_record_is_told(tmp_path: Path) -> None:
    (tmp_path / RECORD_FILE).mkdir()
    assert ["R001"] == codes_at_opening(tmp_path)


@pytest.mark.parametrize("content", [b"garbage " * 500, b"SQLite format 3\0" + b"\xff" * 4096])
def test_a_file_that_is_no_database_is_told_and_left_alone(tmp_path: Path, content: bytes) -> None:
    (tmp_path / RECORD_FILE).write_bytes(content)
    assert ["R002"] == codes_at_opening(tmp_path)
    assert content == (tmp_path / RECORD_FILE).read_bytes()


def test_a_database_of_another_program_is_told_and_gets_no_tables(tmp_path: Path) -> None:
    with sqlite3.connect(tmp_path / RECORD_FILE) as other:
        other.execute("CREATE TABLE recipes (name TEXT)")
    assert ["R002"] == codes_at_opening(tmp_path)
    tables = other.execute("SELECT name FROM sqlite_master").fetchall()
    other.close()
    assert [("recipes",)] == tables


def test_a_record_of_a_newer_version_is_told_and_left_alone(record: Record) -> None:
    with writing(record) as session:
        session.execute(text("UPDATE alembic_version SET version_num = 'from_next_year'"))
    folder = Path(record.where).parent
    with pytest.raises(RecordError, match=r"newer version of the tool \(revision from_next_year\)"):
        open_record(folder)
    assert ["R003"] == codes_at_opening(folder)
    with reading(record) as session:
        found = session.scalar(text("SELECT version_num FROM alembic_version"))
    assert "from_next_year" == found


def test_a_record_that_may_only_be_read_is_told(record: Record, tmp_path: Path) -> None:
    address = f"sqlite:///file:{record.where}?mode=ro&uri=true"
    assert ["R006"] == codes_at_opening(tmp_path, address)


def test_a_record_kept_busy_by_another_program_is_told(
    record: Record, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(database, "BUSY_SECONDS", 0.2)
    other = sqlite3.connect(record.where, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    assert ["R004"] == codes_at_opening(Path(record.where).parent)
    other.close()


def test_a_full_disk_is_told_and_what_was_saved_before_stays(
    record: Record, new_build: Callable[..., BuildInput], now: datetime
) -> None:
    saved = add_build(record, new_build(), now=now)

    def leave_no_room(connection: sqlite3.Connection, _entry: object) -> None:
        connection.execute("PRAGMA max_page_count = 1")

    record.engine.dispose()
    event.listen(record.engine, "connect", leave_no_room)

    def add_many() -> None:
        for _ in range(50):
            add_build(record, new_build(notes="x" * 2000), now=now)

    with pytest.raises(RecordError) as caught:
        add_many()
    assert ["R005"] == [fault.code for fault in caught.value.faults]
    assert saved in list_drafts(record)


@pytest.mark.parametrize("table", ["changes", "documents"])
@pytest.mark.parametrize("action", ["DELETE FROM {}", "UPDATE {} SET made_at = made_at"])
def test_what_happened_cannot_be_rewritten(
    record: Record,
    new_build: Callable[..., BuildInput],
    now: datetime,
    table: str,
    action: str,
) -> None:
    reference = add_build(record, new_build(), now=now).reference
    add_document(record, reference, DocumentEntry("spec-sheet", "a.pdf", "0" * 64, "1" * 64, now))
    with (
        pytest.raises(RecordError, match=f"rows of {table} are only ever added"),
        writing(record) as session,
    ):
        session.execute(text(action.format(table)))


def test_instants_come_back_as_they_went_in_and_know_their_zone(
    record: Record, new_build: Callable[..., BuildInput], now: datetime
) -> None:
    add_build(record, new_build(), now=now)
    assert now == list_drafts(record)[0].saved_at
    assert UTC == list_changes(record, "B-0001")[0].made_at.tzinfo


def test_an_instant_without_a_zone_is_refused(
    record: Record, new_build: Callable[..., BuildInput], now: datetime
) -> None:
    with pytest.raises(RecordError, match="has no time zone"):
        add_build(record, new_build(), now=now.replace(tzinfo=None))
    assert () == list_drafts(record)


@pytest.mark.parametrize(
    "address", ["no address", "mysql://ann:secret@h/x", "postgresql://h:port/"]
)
def test_an_address_that_cannot_be_used_is_told_without_repeating_it(
    tmp_path: Path, address: str
) -> None:
    with pytest.raises(RecordError) as caught:
        open_record(tmp_path, address)
    assert ["R019"] == [fault.code for fault in caught.value.faults]
    assert "secret" not in str(caught.value)


def test_a_server_that_is_not_there_or_has_no_such_database_is_told_without_the_password(
    tmp_path: Path, postgresql: Server
) -> None:
    there = postgresql.url_of_new_database().replace("postgres@", "postgres:very-secret@")
    nowhere = there.replace(f":{postgresql.port}/", ":1/")
    for address in (nowhere, there.rpartition("/")[0] + "/missing"):
        with pytest.raises(RecordError) as caught:
            open_record(tmp_path, address)
        assert ["R020"] == [fault.code for fault in caught.value.faults]
        assert "very-secret" not in str(caught.value)
    opened = open_record(tmp_path, there.replace("+psycopg", ""))
    assert "very-secret" not in opened.where
    opened.engine.dispose()
