"""Whatever is altered in the database, by however little, is found and named."""

from __future__ import annotations

import hashlib
import random
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
import sqlalchemy as sa

from configurator.build_life.entries import Body, Erased, Quoted, SignedOff, SpecIssued
from configurator.build_life.people import Person
from configurator.catalog.models.build import BuildInput
from configurator.errors import Fault, RecordError
from configurator.record import accounts, log_in_waits, sign_ins
from configurator.record.addresses import RECORD_FILE
from configurator.record.book import ToKeep, write_entries
from configurator.record.build_list import entries_since
from configurator.record.changes import Change, Step
from configurator.record.database import Record, open_record
from configurator.record.documents import DocumentEntry
from configurator.record.drafts import save_draft
from configurator.record.new_builds import add_build
from configurator.record.tables import Table
from configurator.record.verify import verify_record, verify_within
from tests.record.older_records import make_older_record

PERSON = Person(name="Invented Engineer", role="engineer")
SPEC, CATALOG = b'{"a": "spec"}', b"some files"


def sha256(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def fill(record: Record, build: BuildInput, now: datetime) -> str:
    """Put something in every table."""
    reference = add_build(record, build, now=now).reference
    build = build.model_copy(update={"reference": reference, "choices": {"livery": "nettle"}})
    change = Change(2, "picked", (Step("choices", "livery", None, "nettle"),), None, now)
    save_draft(record, build, change, lambda _change: "")
    pdf = sha256(reference.encode())
    bodies: list[Body] = [
        Quoted(
            number=1,
            spec_sha256=sha256(SPEC),
            catalog_sha256=sha256(CATALOG),
            revision=2,
            valid_until=date(2026, 5, 1),
            total_gbp="1.00",
            document_sha256=pdf,
        ),
        SpecIssued(
            letter="A",
            spec_sha256=sha256(SPEC),
            catalog_sha256=sha256(CATALOG),
            revision=2,
            section_sha256={"price": "0" * 64},
            total_gbp="1.00",
        ),
        SignedOff(
            letter="A",
            sign_off="sums",
            spec_sha256=sha256(SPEC),
            section_sha256={"price": "0" * 64},
        ),
    ]
    keep = [ToKeep("spec", SPEC), ToKeep("catalog", CATALOG)]
    paper = DocumentEntry("quotation", f"{reference}-Q1.pdf", pdf, sha256(SPEC), now)
    write_entries(record, reference, bodies, by=PERSON, now=now, keep=keep, documents=[paper])
    return reference


@pytest.fixture
def filled(record: Record, new_build: Callable[..., BuildInput], now: datetime) -> Record:
    for _ in range(2):
        fill(record, new_build(), now)
    account = accounts.add_account(
        record, "Ann Ä. Sample", ("engineer",), "hash", identity=None, only_as_first=False, now=now
    )
    assert account is not None
    sign_ins.start_sign_in(record, account, "engineer", now=now, until=now + timedelta(days=1))
    log_in_waits.begin_try(record, "Nobody", now)
    return record


def test_a_database_that_no_longer_refuses_rewriting_is_told(filled: Record) -> None:
    with meddling(filled) as connection:
        if connection.dialect.name == "postgresql":
            connection.exec_driver_sql("ALTER TABLE changes DISABLE TRIGGER ALL")
        faults = verify_within(connection, "here", lambda _step: None).faults
    assert "R018" in [fault.code for fault in faults]
    assert any("changes" in fault.where for fault in faults)


@contextmanager
def meddling(record: Record) -> Iterator[sa.Connection]:
    """Give a connection on which the database forbids nothing; all is taken back afterwards."""
    engine = record.engine.execution_options(writes=True)
    is_sqlite = engine.dialect.name == "sqlite"
    with engine.connect() as connection:
        if is_sqlite:
            driver = connection.connection.driver_connection
            assert driver is not None
            driver.execute("PRAGMA foreign_keys = OFF")
        with connection.begin() as transaction:
            if is_sqlite:
                found = "SELECT name FROM sqlite_master WHERE type = 'trigger'"
                for (name,) in connection.exec_driver_sql(found).all():
                    connection.exec_driver_sql(f"DROP TRIGGER {name}")
            else:
                connection.exec_driver_sql("SET LOCAL session_replication_role = replica")
            yield connection
            transaction.rollback()


def found_in(connection: sa.Connection) -> list[Fault]:
    """Verify, and pass over that this very test took away what forbids rewriting."""
    faults = verify_within(connection, "here", lambda _step: None).faults
    return [fault for fault in faults if fault.code != "R018"]


def alterations(connection: sa.Connection, column: sa.Column[object]) -> list[str]:
    """Write SQL for other values of a column, as near to its value as there are."""
    name, kind = column.name, column.type
    if connection.dialect.name == "sqlite":
        flip = "CAST(CAST(substr({0}, 1, {1}) AS BLOB) || {2} || substr({0}, {1} + 2) AS {3})"
        raw = f"CAST(CAST({name} AS TEXT) AS BLOB)"
        shape = "BLOB" if isinstance(kind, sa.LargeBinary) else "TEXT"
        middle = f"length({raw}) / 2"
        values = [
            flip.format(raw, place, byte, shape)
            for place, byte in [("0", "x'07'"), (middle, "x'ff'"), (f"length({raw}) - 1", "x'20'")]
        ]
        if isinstance(kind, sa.LargeBinary):
            values = [f"CAST({name} || x'00' AS BLOB)", f"substr({name}, 1, length({name}) - 1)"]
            values += [f"substr({name}, 1, 5) || x'ab' || substr({name}, 7)"]
    elif isinstance(kind, sa.LargeBinary):
        values = [f"set_byte({name}, length({name}) - 1, 255 - get_byte({name}, 9))"]
    elif isinstance(kind, sa.JSON):
        values = [f"CAST(CAST({name} AS TEXT) || ' ' AS JSON)"]
    elif isinstance(kind, sa.Boolean):
        values = [f"NOT {name}"]
    elif isinstance(kind, sa.Integer):
        values = [f"{name} + 1", f"-{name}"]
    elif isinstance(kind, sa.String):
        values = [f"'~' || substr({name}, 2)", f"left({name}, -1)", f"left({name}, -1) || '~'"]
    else:
        values = [f"{name} + interval '1 microsecond'"]
    return [f"{value} WHERE {name} IS NOT NULL" for value in values] + [
        f"{'7' if isinstance(kind, sa.Integer) else repr('7')} WHERE {name} IS NULL"
    ]


def altered(connection: sa.Connection, statement: str) -> bool:
    try:
        return bool(connection.exec_driver_sql(statement).rowcount)
    except (sa.exc.IntegrityError, sa.exc.DataError):
        return False


def one_row(table: sa.Table, connection: sa.Connection) -> str:
    key = next(iter(table.primary_key.columns)).name
    value = connection.exec_driver_sql(f"SELECT {key} FROM {table.name} ORDER BY {key}").scalar()  # noqa: S608  our own names
    return f"{key} = {value!r}"


def test_a_record_that_nobody_altered_has_no_flaw(filled: Record) -> None:
    verified = verify_record(filled)
    assert () == verified.faults
    assert {name: n for name, n in verified.counts.items() if n} == {
        "builds": 2,
        "drafts": 2,
        "changes": 4,
        "documents": 2,
        "accounts": 1,
        "log_in_waits": 1,
        "sign_ins": 1,
        "contents": 2,
        "entries": 6,
    }
    assert 6 == verified.last_number


def test_one_altered_byte_in_any_column_of_any_table_is_found_and_named(filled: Record) -> None:
    tried = 0
    for table in Table.metadata.tables.values():
        for column in table.columns:
            with meddling(filled) as connection:
                row = one_row(table, connection)
                sql = [
                    f"UPDATE {table.name} SET {column.name} = {value} AND {row}"  # noqa: S608  our own names
                    for value in alterations(connection, column)
                ]
            for statement in sql:
                with meddling(filled) as connection:
                    if not altered(connection, statement):
                        continue
                    faults = found_in(connection)
                    assert any(f"table {table.name}" in fault.where for fault in faults), statement
                    assert all(fault.remedy.endswith(".") for fault in faults)
                    tried += 1
    assert tried > 60
    assert () == verify_record(filled).faults


@pytest.mark.parametrize("table", sorted(Table.metadata.tables))
def test_a_row_that_is_gone_is_found(filled: Record, table: str) -> None:
    gone_without_trace = {"accounts": "its sign-in is left", "log_in_waits": "", "sign_ins": ""}
    with meddling(filled) as connection:
        row = one_row(Table.metadata.tables[table], connection)
        connection.exec_driver_sql(f"DELETE FROM {table} WHERE {row}")  # noqa: S608  our own names
        faults = found_in(connection)
    assert bool(faults) == bool(gone_without_trace.get(table, "found"))


def faults_after(record: Record, *statements: str) -> list[tuple[str, str]]:
    with meddling(record) as connection:
        for statement in statements:
            connection.exec_driver_sql(statement)
        return [(fault.code, fault.where) for fault in found_in(connection)]


def test_entries_cut_off_at_the_end_are_found(filled: Record) -> None:
    assert [("R016", "table last_entry, row 1")] == faults_after(
        filled, "DELETE FROM entries WHERE number > 4"
    )


def test_an_entry_rewritten_with_its_own_hash_does_not_fit_the_next(filled: Record) -> None:
    with filled.engine.connect() as connection:
        found = "SELECT written, sha256 FROM entries WHERE number IN (2, 1) ORDER BY number"
        (_, before), (written, _) = connection.exec_driver_sql(found).all()
    other = str(written).replace("1.00", "2.00")
    assert other != written
    forged = hashlib.sha256(f"{before}\n{other}".encode()).hexdigest()
    assert [("R015", "B-0001, table entries, row 3")] == faults_after(
        filled,
        f"UPDATE entries SET written = '{other}', sha256 = '{forged}' WHERE number = 2",  # noqa: S608  our own values
    )


def test_what_an_entry_says_was_erased_is_not_missed(
    filled: Record, new_build: Callable[..., BuildInput], now: datetime
) -> None:
    body = Erased(contents={sha256(SPEC): sha256(b"no name")}, because="The customer asked for it")
    keep = [ToKeep("spec", b"no name")]
    write_entries(filled, "B-0001", [body], by=PERSON, now=now, keep=keep)
    gone = f"DELETE FROM contents WHERE sha256 = '{sha256(SPEC)}'"  # noqa: S608  our own value
    assert [] == faults_after(filled, gone)
    both = f"DELETE FROM contents WHERE sha256 = '{sha256(b'no name')}'"  # noqa: S608  our own value
    assert {"R012"} == {code for code, _ in faults_after(filled, gone, both)}


def test_nothing_is_added_to_a_book_that_was_cut_off(filled: Record, now: datetime) -> None:
    with filled.engine.execution_options(writes=True).begin() as connection:
        connection.exec_driver_sql("UPDATE last_entry SET number = 9")
    with pytest.raises(RecordError) as refused:
        write_entries(
            filled, "B-0001", [Erased(contents={}, because="none left")], by=PERSON, now=now
        )
    assert ["R016"] == [fault.code for fault in refused.value.faults]
    assert 6 == len(entries_since(filled, 0))


def test_rows_of_an_older_record_are_sealed_as_they_are(tmp_path: Path) -> None:
    with sqlite3.connect(make_older_record(tmp_path, "first_record")) as old:
        old.executescript(
            "INSERT INTO builds VALUES (3, 7, 'B-0007', NULL, '2026-03-04 09:30:15.123456');"
            "INSERT INTO drafts VALUES (3, 1, '{\"a\":  \"ä\"}', '2026-03-04 09:30:15.123456');"
            "INSERT INTO changes VALUES (5, 3, 1, 'started', '[]', NULL, "
            "'2026-03-04 09:30:15.123456');"
            "INSERT INTO documents VALUES (2, 3, 'sheet', 'a.pdf', 'ab', 'cd', "
            "'2026-03-04 09:30:15.123456');"
        )
    old.close()
    record = open_record(tmp_path)
    assert () == verify_record(record).faults
    assert ["R014"] == [
        code for code, _ in faults_after(record, "UPDATE drafts SET content = '{}'")
    ]
    with pytest.raises(sa.exc.DBAPIError, match="only ever added"), record.engine.begin() as again:
        again.exec_driver_sql("UPDATE changes SET kind = 'x'")
    record.engine.dispose()


@pytest.mark.parametrize("url", [None])
def test_a_byte_altered_anywhere_in_the_file_is_found_or_alters_nothing(
    filled: Record, tmp_path: Path
) -> None:
    filled.engine.dispose()
    path = Path(filled.where)
    with sqlite3.connect(path) as database:
        database.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        whole = rows_in(database)
    database.close()
    intact, chance, found = path.read_bytes(), random.Random(20260304), 0  # noqa: S311  only spreads the places
    used = [place for place, byte in enumerate(intact) if byte]
    for number in range(60):
        folder = tmp_path / str(number)
        folder.mkdir()
        place = chance.choice(used)
        flipped = bytes([intact[place] ^ (1 << chance.randrange(8))])
        (folder / RECORD_FILE).write_bytes(intact[:place] + flipped + intact[place + 1 :])
        if faults_in_file(folder):
            found += 1
            continue
        with sqlite3.connect(folder / RECORD_FILE) as database:
            assert whole == rows_in(database), place
        database.close()
    assert found > 5


def rows_in(database: sqlite3.Connection) -> list[str]:
    return [line for line in database.iterdump() if line.startswith("INSERT")]


def faults_in_file(folder: Path) -> tuple[Fault, ...]:
    try:
        record = open_record(folder)
    except RecordError as error:
        return error.faults
    try:
        return verify_record(record).faults
    except RecordError as error:
        return error.faults
    finally:
        record.engine.dispose()
