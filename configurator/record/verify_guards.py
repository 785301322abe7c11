"""Whether the database is built as the tool builds it, and still refuses to rewrite entries."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

import sqlalchemy as sa

from configurator.errors import Fault
from configurator.record.migrate import bring_up_to_date

APPEND_ONLY = ("changes", "documents", "entries")


def guard_faults(connection: sa.Connection) -> Iterator[Fault]:
    """Find tables, indexes and triggers that are not as the tool made them.

    Of PostgreSQL, which keeps no text of its tables, the triggers alone are looked at.
    """
    if connection.dialect.name == "sqlite":
        for kind, name in _altered_in_file(connection):
            what = f"the {kind} {name} is not as the tool made it"
            yield _fault(f"{kind} {name}", what)
        return
    there = _refusing(connection)
    for table in APPEND_ONLY:
        if table not in there:
            yield _fault(f"table {table}", "the database no longer refuses to rewrite its rows")


def _altered_in_file(connection: sa.Connection) -> list[tuple[str, str]]:
    differing = _fresh_schema().items() ^ _schema(connection).items()
    return sorted({key for key, _ in differing})


@cache
def _fresh_schema() -> dict[tuple[str, str], bytes | None]:
    fresh = sa.create_engine("sqlite://")
    with fresh.begin() as made:
        bring_up_to_date(made, "memory")
        schema = _schema(made)
    fresh.dispose()
    return schema


def _schema(connection: sa.Connection) -> dict[tuple[str, str], bytes | None]:
    found = "SELECT type, CAST(name AS BLOB), CAST(sql AS BLOB) FROM sqlite_master"
    return {
        (str(kind), bytes(name).decode("utf-8", "backslashreplace")): sql
        for kind, name, sql in connection.exec_driver_sql(found)
    }


def _refusing(connection: sa.Connection) -> set[str]:
    found = (
        "SELECT c.relname, t.tgname FROM pg_trigger t JOIN pg_class c ON c.oid = t.tgrelid "
        "WHERE t.tgenabled IN ('O', 'A') AND c.oid = to_regclass(c.relname)"
    )
    triggers = {(str(table), str(name)) for table, name in connection.exec_driver_sql(found)}
    return {table for table in APPEND_ONLY if (table, f"{table}_refuse_rewriting") in triggers}


def _fault(where: str, what: str) -> Fault:
    remedy = "Restore a backup elsewhere and compare; find out what changed the database."
    return Fault("R018", where, what, remedy)
