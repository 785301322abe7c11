"""What went wrong in the database, said in plain words with a remedy."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy.exc import DBAPIError, SQLAlchemyError

from configurator.errors import Fault, RecordError

_DAMAGED = (
    "SQLITE_CORRUPT",
    "R002",
    "the record is damaged and cannot be read",
    "Keep the file for evidence, and put your last backup in its place with `restore`.",
)
_BY_SQLITE_NAME: tuple[tuple[str, str, str, str], ...] = (
    (
        "SQLITE_NOTADB",
        "R002",
        "the file is not a record of builds; the tool will not write over it",
        "Move the file elsewhere, or name another folder with --data.",
    ),
    _DAMAGED,
    (
        "SQLITE_BUSY",
        "R004",
        "another program kept the record busy; nothing was changed",
        "Try again; close programs that have the file open.",
    ),
    (
        "SQLITE_LOCKED",
        "R004",
        "another program kept the record busy; nothing was changed",
        "Try again; close programs that have the file open.",
    ),
    (
        "SQLITE_FULL",
        "R005",
        "the disk is full; the last change was not saved, everything before it was",
        "Free some space and do the last step again.",
    ),
    (
        "SQLITE_IOERR",
        "R005",
        "the disk could not be read or written; the last change was not saved",
        "Check the disk or the network folder, then do the last step again.",
    ),
    (
        "SQLITE_READONLY",
        "R006",
        "the record may only be read, so that nothing can be saved",
        "Allow writing to the file and its folder, or name another folder with --data.",
    ),
    (
        "SQLITE_CANTOPEN",
        "R001",
        "the record cannot be opened or made",
        "Check that the folder exists and may be written, or name another with --data.",
    ),
)

_BUSY = (
    "R004",
    "another program kept the record busy; nothing was changed",
    "Try again; close programs that work on the database.",
)
_BY_SQLSTATE: tuple[tuple[str, tuple[str, str, str]], ...] = (
    ("08", (
        "R020",
        "the database server cannot be reached",
        "Check that it runs, and the address given with --database.",
    )),
    ("57P", (
        "R020",
        "the database server was stopped",
        "Start it again, then do the last step again.",
    )),
    ("28", (
        "R020",
        "the database server does not let this user in",
        "Check user and password in the address given with --database.",
    )),
    ("3D", (
        "R020",
        "the server has no such database",
        "Make an empty one there, or correct the address given with --database.",
    )),
    ("53100", (
        "R005",
        "the disk is full; the last change was not saved, everything before it was",
        "Free some space and do the last step again.",
    )),
    ("25006", (
        "R006",
        "the record may only be read, so that nothing can be saved",
        "Ask whoever looks after the database server.",
    )),
    ("42501", (
        "R006",
        "the user may not change the record, so that nothing can be saved",
        "Ask whoever looks after the database server.",
    )),
    ("55P03", _BUSY),
    ("40", _BUSY),
)  # fmt: skip
"""How the codes of PostgreSQL begin → fault code, what, remedy."""


def record_fault(error: Exception, where: str) -> Fault:
    """Say a database error as a fault.

    Parameters
    ----------
    error : Exception
        As the database or SQLAlchemy raised it.
    where : str
        The record, as a person knows it: the path of its file.

    Returns
    -------
    Fault
        With a code of `FAULT_CODES`.

    Examples
    --------
    >>> record_fault(sqlite3.OperationalError("odd"), "record.sqlite").code
    'R010'
    """
    original = error.orig if isinstance(error, DBAPIError) else error
    name = getattr(original, "sqlite_errorname", None) or ""
    for prefix, code, what, remedy in _BY_SQLITE_NAME:
        if name.startswith(prefix):
            return Fault(code, where, what, remedy)
    state = _sqlstate(original)
    for prefix, (code, what, remedy) in _BY_SQLSTATE:
        if state.startswith(prefix):
            return Fault(code, where, what, remedy)
    return Fault(
        "R010",
        where,
        f"the database refused ({type(original).__name__}: {original}); the change was not saved",
        "Try again; if it stays, keep the log and ask whoever looks after the tool.",
    )


def _sqlstate(error: object) -> str:
    state = getattr(error, "sqlstate", None)
    if state is None and type(error).__module__.startswith("psycopg"):
        # Where no connection came about the driver has the server's words alone.
        said = str(error)
        for words, meant in (("password authentication", "28"), ("does not exist", "3D")):
            if words in said:
                return meant
        return "08" if type(error).__name__ == "OperationalError" else ""
    return state or ""


def missing_build(reference: str, where: str) -> Fault:
    """Say that the record has no such build."""
    return Fault(
        "R008",
        where,
        f'there is no build "{reference[:40]}" in this record',
        "Choose one from the list of builds.",
    )


@contextmanager
def said_plainly(where: str) -> Iterator[None]:
    """Turn every database error inside into a `RecordError`.

    Examples
    --------
    >>> with said_plainly("record.sqlite"):
    ...     raise sqlite3.OperationalError("odd")
    Traceback (most recent call last):
    configurator.errors.RecordError: record.sqlite: the database refused ...
    """
    try:
        yield
    except UnicodeDecodeError as error:
        # The driver cannot even read what SQLite says of a damaged file.
        _, code, what, remedy = _DAMAGED
        raise RecordError([Fault(code, where, what, remedy)]) from error
    except (SQLAlchemyError, sqlite3.Error) as error:
        raise RecordError([record_fault(error, where)]) from error
