"""Bring a database to the tables of this version, or refuse one that is not ours."""

from __future__ import annotations

from pathlib import Path

from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.runtime.environment import EnvironmentContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, inspect, text

from configurator.errors import Fault, RecordError

MIGRATION_LOCK = 7_204_500
"""Of PostgreSQL: who holds it looks at the tables and makes them; SQLite locks the file anyway."""


def bring_up_to_date(connection: Connection, where: str, to: str = "head") -> None:
    """Run the migrations that a database still lacks, inside the caller's transaction.

    Parameters
    ----------
    connection : Connection
        In a writing transaction, so that two starts never migrate at once.
    where : str
        The record, as a person knows it.
    to : str
        The revision to stop at.

    Raises
    ------
    RecordError
        If the database belongs to something else or to a newer version.
    """
    config, script = _steps()
    if connection.dialect.name == "postgresql":
        connection.execute(text("SELECT pg_advisory_xact_lock(:lock)"), {"lock": MIGRATION_LOCK})
    found = MigrationContext.configure(connection).get_current_heads()
    if not found and inspect(connection).get_table_names():
        raise RecordError([_foreign(where)])
    known = {revision.revision for revision in script.walk_revisions()}
    if unknown := sorted(set(found) - known):
        raise RecordError([_newer(where, unknown)])
    if set(found) != set(script.get_heads()):
        _upgrade(connection, config, script, to)
    # A record that may only be read shows itself here, not at the first pick.
    connection.exec_driver_sql("UPDATE alembic_version SET version_num = version_num")


def newest_revision() -> str:
    """Name the last step of this version."""
    _, script = _steps()
    return str(script.get_current_head())


def _steps() -> tuple[Config, ScriptDirectory]:
    config = Config()
    folder = Path(__file__).parent / "migrations"
    config.set_main_option("script_location", str(folder).replace("%", "%%"))
    config.set_main_option("path_separator", "os")
    return config, ScriptDirectory.from_config(config)


def _upgrade(connection: Connection, config: Config, script: ScriptDirectory, to: str) -> None:
    with EnvironmentContext(
        config, script, fn=lambda revision, _: script._upgrade_revs(to, revision)
    ) as environment:
        environment.configure(connection=connection, transactional_ddl=True)
        with environment.begin_transaction():
            environment.run_migrations()


def _foreign(where: str) -> Fault:
    return Fault(
        "R002",
        where,
        "the database has tables of something else; the tool will not add its own to them",
        "Move the file elsewhere, or name another folder with --data.",
    )


def _newer(where: str, unknown: list[str]) -> Fault:
    return Fault(
        "R003",
        where,
        f"the record was written by a newer version of the tool (revision {', '.join(unknown)}); "
        "this version could damage it and leaves it alone",
        "Open it with the newer version, or name another folder with --data.",
    )
