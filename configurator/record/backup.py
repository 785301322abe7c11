"""Read every row in one moment, and put rows in again, into either kind of database."""

from __future__ import annotations

import base64
import binascii
import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from datetime import UTC, datetime
from itertools import islice
from typing import Any

import sqlalchemy as sa

from configurator.errors import Fault, RecordError
from configurator.record.database import Record
from configurator.record.faults import said_plainly
from configurator.record.seals import INSTANT, ROWS_AT_ONCE, raw_rows
from configurator.record.tables import Table

NOT_COPIED = "sign_ins"
"""Whoever was logged in logs in again: a browser logged out since must not come back in."""
KEPT_WITHOUT_WORK = frozenset({"last_entry", "log_in_waits", NOT_COPIED})
"""Tables that may have rows although nobody has put anything in the record."""


class UnreadableRowError(ValueError):
    """A line is not a row of its table."""


def copied_tables() -> tuple[str, ...]:
    """Name the tables of a copy; what a row points to comes before it."""
    return tuple(table.name for table in Table.metadata.sorted_tables if table.name != NOT_COPIED)


def row_lines(connection: sa.Connection, name: str) -> Iterator[bytes]:
    """Write the rows of a table as JSON, one a line, byte for byte as they are kept.

    Raises
    ------
    RecordError
        If a row is so damaged that it cannot be written.
    """
    table = Table.metadata.tables[name]
    key = next(iter(table.primary_key.columns)).name
    for raw in raw_rows(connection, name, tuple(table.columns), key):
        try:
            told = {column: _told(table.columns[column], value) for column, value in raw.items()}
        except UnicodeDecodeError as error:
            row = (raw[key] or b"").decode("utf-8", "backslashreplace")
            raise RecordError([_damaged(name, row)]) from error
        yield json.dumps(told, ensure_ascii=False, sort_keys=True).encode() + b"\n"


def read_row(name: str, line: bytes) -> dict[str, Any]:
    """Read a line back as the values of a row.

    Raises
    ------
    UnreadableRowError
        If it is none.
    """
    table = Table.metadata.tables[name]
    try:
        told = json.loads(line)
        if not isinstance(told, dict) or told.keys() != set(table.columns.keys()):
            raise UnreadableRowError
        return {column: _value(table.columns[column], value) for column, value in told.items()}
    except (ValueError, TypeError, KeyError, binascii.Error) as error:
        raise UnreadableRowError(name) from error


def refuse_used(record: Record) -> None:
    """Refuse a record in which somebody has put anything.

    Raises
    ------
    RecordError
        If it holds something.
    """
    with said_plainly(record.where), record.engine.begin() as connection:
        if not _is_unused(connection):
            raise RecordError([_holds_something(record.where)])


@contextmanager
def replacing(record: Record, *, over: bool) -> Iterator[sa.Connection]:
    """Give a connection to a record without rows; what it holds is exchanged whole, or not at all.

    Parameters
    ----------
    record : Record
        The open record.
    over : bool
        Whether what it holds may be lost.

    Raises
    ------
    RecordError
        If it holds something that may not be lost, or cannot be written.
    """
    engine = record.engine.execution_options(writes=True)
    with said_plainly(record.where), engine.begin() as connection:
        if not over and not _is_unused(connection):
            raise RecordError([_holds_something(record.where)])
        with _without_guards(connection):
            _clear(connection)
            yield connection


def put_rows(connection: sa.Connection, name: str, lines: Iterable[bytes]) -> int:
    """Insert rows; gives how many."""
    table, rows, count = Table.metadata.tables[name], iter(lines), 0
    while some := [read_row(name, line) for line in islice(rows, ROWS_AT_ONCE)]:
        connection.execute(sa.insert(table), some)
        count += len(some)
    if connection.dialect.name == "postgresql" and "id" in table.columns and name != "last_entry":
        connection.execute(
            sa.text(
                f"SELECT setval(pg_get_serial_sequence('{name}', 'id'), "  # noqa: S608  our own name
                f"(SELECT coalesce(max(id), 0) + 1 FROM {name}), false)"
            )
        )
    return count


def _is_unused(connection: sa.Connection) -> bool:
    for name in copied_tables():
        table = Table.metadata.tables[name]
        if name not in KEPT_WITHOUT_WORK and connection.execute(sa.select(table).limit(1)).first():
            return False
    return True


def _clear(connection: sa.Connection) -> None:
    for table in reversed(Table.metadata.sorted_tables):
        connection.execute(sa.delete(table))


@contextmanager
def _without_guards(connection: sa.Connection) -> Iterator[None]:
    """Let rows be removed, inside this one transaction, that are otherwise only ever added."""
    if connection.dialect.name == "postgresql":
        guarded = ("changes", "documents", "entries")
        for name in guarded:
            connection.execute(sa.text(f"ALTER TABLE {name} DISABLE TRIGGER USER"))
        yield
        for name in guarded:
            connection.execute(sa.text(f"ALTER TABLE {name} ENABLE TRIGGER USER"))
        return
    found = sa.text("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'")
    triggers = connection.execute(found).all()
    for name, _ in triggers:
        connection.execute(sa.text(f"DROP TRIGGER {name}"))
    yield
    for _, made in triggers:
        connection.exec_driver_sql(made)


def _told(column: sa.Column[Any], value: bytes | None) -> str | None:
    if value is None:
        return None
    if isinstance(column.type, sa.LargeBinary):
        return base64.b64encode(value).decode()
    return value.decode()


def _value(column: sa.Column[Any], told: str | None) -> Any:
    if told is None:
        return None
    if not isinstance(told, str):
        raise UnreadableRowError
    readers: Mapping[type[Any], Callable[[str], Any]] = {
        sa.LargeBinary: lambda text: base64.b64decode(text, validate=True),
        sa.JSON: json.loads,
        sa.Boolean: {"1": True, "0": False}.__getitem__,
        sa.Integer: int,
        sa.DateTime: lambda text: datetime.strptime(text, INSTANT).replace(tzinfo=UTC),
    }
    kind = getattr(column.type, "impl", column.type)
    for type_, read in readers.items():
        if isinstance(kind, type_):
            return read(told)
    return told


def _damaged(table: str, row: str) -> Fault:
    return Fault(
        "R014",
        f"table {table}, row {row[:64]}",
        "it is damaged so that it cannot be copied",
        "Run `configurator verify`; copy the data folder as it is for evidence.",
    )


def _holds_something(where: str) -> Fault:
    return Fault(
        "R021",
        where,
        "the record holds something already, which would be lost; nothing was changed",
        "Restore into another folder or database, or add --over-what-is-there.",
    )
