"""Open the record and run each change as one transaction that is on disk when it returns."""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

from sqlalchemy import URL, Connection, Engine, create_engine, event
from sqlalchemy.orm import Session
from sqlalchemy.pool import ConnectionPoolEntry

from configurator.errors import RecordError
from configurator.record.addresses import record_address, said_address
from configurator.record.faults import said_plainly
from configurator.record.migrate import bring_up_to_date
from configurator.record.seals import seal_changed_rows, written_json

BUSY_SECONDS = 15.0
WHOLE_MOMENT: Literal["REPEATABLE READ"] = "REPEATABLE READ"


@dataclass(frozen=True)
class Record:
    """An open record of builds; may be shared between threads."""

    engine: Engine
    where: str
    """How faults name it: its file, or its address without the password."""


def open_record(data_folder: Path, url: str | None = None) -> Record:
    """Open the record, make it where there is none, and bring its tables up to date.

    Parameters
    ----------
    data_folder : Path
        Holds `record.sqlite`; made when it is missing.
    url : str, optional
        Another database's address, instead of the file in the data folder.

    Returns
    -------
    Record
        Ready to read and write.

    Raises
    ------
    RecordError
        If the folder cannot be written, or what is there is not a record of this version.

    Examples
    --------
    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     record = open_record(Path(folder))
    ...     Path(record.where).name
    ...     record.engine.dispose()
    'record.sqlite'
    """
    address = record_address(data_folder, url)
    record = Record(_engine(address), said_address(address))
    try:
        with said_plainly(record.where):
            _keep_readers_and_writers_apart(record.engine)
            with record.engine.execution_options(writes=True).begin() as connection:
                bring_up_to_date(connection, record.where)
    except RecordError:
        record.engine.dispose()
        raise
    return record


@contextmanager
def reading(record: Record) -> Iterator[Session]:
    """Give a session that sees one moment of the record."""
    with said_plainly(record.where), Session(record.engine) as session, session.begin():
        yield session


@contextmanager
def writing(record: Record) -> Iterator[Session]:
    """Give a session whose changes are all on disk afterwards, or none of them."""
    engine = record.engine.execution_options(writes=True)
    with said_plainly(record.where), Session(engine) as session, session.begin():
        event.listen(session, "before_flush", seal_changed_rows)
        yield session


@contextmanager
def snapshot(record: Record) -> Iterator[Connection]:
    """Give a connection that sees one moment of the record, however long it reads."""
    # SQLite keeps the moment of the first read by itself.
    several = {} if record.engine.dialect.name == "sqlite" else {"isolation_level": WHOLE_MOMENT}
    with (
        said_plainly(record.where),
        record.engine.connect().execution_options(**several) as connection,
        connection.begin(),
    ):
        yield connection


def _engine(address: URL) -> Engine:
    engine = create_engine(
        address,
        json_serializer=written_json,
        connect_args={"timeout": BUSY_SECONDS} if address.get_backend_name() == "sqlite" else {},
    )
    if engine.dialect.name == "sqlite":
        event.listen(engine, "connect", _set_up_sqlite)
        event.listen(engine, "begin", _begin_sqlite)
    return engine


def _set_up_sqlite(connection: Any, _entry: ConnectionPoolEntry) -> None:
    # The driver would begin transactions late, after the first read; we begin them ourselves.
    connection.isolation_level = None
    connection.execute("PRAGMA foreign_keys = ON")
    connection.execute("PRAGMA synchronous = FULL")


def _begin_sqlite(connection: Connection) -> None:
    # A writer takes its turn at the start: read, check and write then happen as one.
    writes = connection.get_execution_options().get("writes", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


def _keep_readers_and_writers_apart(engine: Engine) -> None:
    if engine.dialect.name != "sqlite":
        return
    # SQLite does not wait for its turn when it changes the journal mode; two first starts may meet.
    deadline = time.monotonic() + BUSY_SECONDS
    while not _write_ahead(engine, is_last_try=time.monotonic() > deadline):
        time.sleep(0.05)


def _write_ahead(engine: Engine, *, is_last_try: bool) -> bool:
    raw = engine.raw_connection()
    try:
        raw.cursor().execute("PRAGMA journal_mode = WAL")
    except sqlite3.OperationalError as error:
        if is_last_try or not error.sqlite_errorname.startswith("SQLITE_BUSY"):
            raise
        return False
    finally:
        raw.close()
    return True
