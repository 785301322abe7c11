"""A seal on every row: the SHA-256 of its values, byte for byte as the database keeps them.

It finds what was altered past the tool. It is no secret: who knows how it is made can make it anew.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import UTC, datetime
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Session

SEAL = "seal"
INSTANT = "%Y-%m-%d %H:%M:%S.%f"
ROWS_AT_ONCE = 200


def written_json(value: Any) -> str:
    """Write JSON as every row of the record holds it.

    Examples
    --------
    >>> written_json({"b": 1, "a": "ä"})
    '{"a": "ä", "b": 1}'
    """
    return json.dumps(value, ensure_ascii=False, sort_keys=True)


def sealed_columns(table: sa.Table) -> tuple[sa.Column[Any], ...]:
    """List the columns that the seal of a table covers: all but itself."""
    return tuple(column for column in table.columns if column.name != SEAL)


def seal_of(table: str, values: Mapping[str, bytes | None]) -> str:
    """Hash the values of a row.

    Parameters
    ----------
    table : str
        Its name.
    values : mapping
        Column → bytes; None for no value.

    Returns
    -------
    str
        SHA-256, which says where each value begins, so that none can pass for another.

    Examples
    --------
    >>> seal_of("builds", {"id": b"1"}) == seal_of("builds", {"id": None})
    False
    """
    digest = hashlib.sha256(table.encode())
    for name in sorted(values):
        value = values[name]
        digest.update(f"\n{name} {'none' if value is None else len(value)}\n".encode())
        digest.update(value or b"")
    return digest.hexdigest()


def seal_for(table: sa.Table, values: Mapping[str, Any]) -> str:
    """Make the seal of a row that is about to be saved with these values."""
    raw = {column.name: _bytes(column, values[column.name]) for column in sealed_columns(table)}
    return seal_of(table.name, raw)


def raw_rows(
    connection: sa.Connection, table: str, columns: Sequence[sa.Column[Any]], order: str
) -> Iterator[dict[str, bytes | None]]:
    """Read rows byte for byte, a few at a time, whatever was done to them.

    Parameters
    ----------
    connection : Connection
        In a transaction.
    table : str
        Its name.
    columns : sequence of Column
        With the types they were made with.
    order : str
        The column whose values give the order.
    """
    dialect = connection.dialect.name
    there = sa.table(table, *(sa.column(column.name, column.type) for column in columns))
    wanted = [_raw(dialect, there.c[column.name]).label(column.name) for column in columns]
    query = sa.select(*wanted).order_by(there.c[order])
    options = {"stream_results": True, "yield_per": ROWS_AT_ONCE}
    for row in connection.execute(query, execution_options=options):
        yield {column.name: _as_bytes(value) for column, value in zip(columns, row, strict=True)}


def seal_changed_rows(session: Session, *_: object) -> None:
    """Seal the rows that a session is about to write; a new row is given its id first."""
    given: dict[str, int] = {}
    for row in (*session.new, *session.dirty):
        table = sa.inspect(row).mapper.local_table
        if not isinstance(table, sa.Table) or SEAL not in table.columns:
            continue
        if "id" in table.columns and row.id is None:
            row.id = given[table.name] = _next_id(session.connection(), table.name, given)
        row.seal = seal_for(table, {c.name: getattr(row, c.name) for c in sealed_columns(table)})


def seal_what_is_there(
    connection: sa.Connection, table: str, columns: Sequence[sa.Column[Any]], key: str
) -> None:
    """Seal the rows of a table that has just been given the column for it."""
    there = sa.table(table, sa.column(key), sa.column(SEAL))
    seals = [(raw[key], seal_of(table, raw)) for raw in raw_rows(connection, table, columns, key)]
    key_type = next(column.type for column in columns if column.name == key)
    read: Callable[[str], Any] = int if isinstance(key_type, sa.Integer) else str
    for value, seal in seals:
        found = there.c[key] == read((value or b"").decode())
        connection.execute(sa.update(there).where(found).values(seal=seal))


def _next_id(connection: sa.Connection, table: str, given: Mapping[str, int]) -> int:
    if connection.dialect.name == "postgresql":
        sequence = sa.func.pg_get_serial_sequence(table, "id")
        return int(connection.scalar(sa.select(sa.func.nextval(sequence))) or 0)
    # SQLite has one writer at a time, so nobody else takes the same.
    there = sa.table(table, sa.column("id", sa.Integer()))
    last = connection.scalar(sa.select(sa.func.max(there.c.id))) or 0
    return max(int(last), given.get(table, 0)) + 1


def _raw(dialect: str, column: sa.ColumnClause[Any]) -> sa.ColumnElement[Any]:
    if dialect == "sqlite":
        # Text that is no longer UTF-8, or bytes turned into text, could not be read otherwise.
        is_binary = isinstance(column.type, sa.LargeBinary)
        return sa.cast(column if is_binary else sa.cast(column, sa.Text), sa.LargeBinary)
    if isinstance(column.type, sa.LargeBinary):
        return column
    if _is_instant(column):
        shown: sa.ColumnElement[Any] = sa.func.to_char(
            sa.func.timezone("UTC", column), "YYYY-MM-DD HH24:MI:SS.US"
        )
    elif isinstance(column.type, sa.Boolean):
        shown = sa.cast(sa.cast(column, sa.Integer), sa.Text)
    else:
        shown = sa.cast(column, sa.Text)
    return sa.type_coerce(sa.func.convert_to(shown, "UTF8"), sa.LargeBinary)


def _bytes(column: sa.Column[Any], value: Any) -> bytes | None:
    if isinstance(column.type, sa.JSON):
        return written_json(value).encode()
    if value is None or isinstance(value, bytes):
        return value
    if isinstance(value, datetime):
        return value.astimezone(UTC).strftime(INSTANT).encode()
    if isinstance(value, bool):
        return b"1" if value else b"0"
    return str(value).encode()


def _as_bytes(value: object) -> bytes | None:
    if value is None or isinstance(value, bytes):
        return value
    return value.encode("utf-8", "surrogatepass") if isinstance(value, str) else bytes(value)  # type: ignore[call-overload]  # a memoryview, from some drivers


def _is_instant(column: sa.ColumnClause[Any]) -> bool:
    kind = column.type
    return isinstance(getattr(kind, "impl", kind), sa.DateTime)
