"""`configurator backup` and `configurator restore`: the whole record in one file, and back."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated

import typer

from configurator.cli.folders import DEFAULT_DATA, DatabaseUrl, DataFolder
from configurator.cli.terminal import fault_line, say, say_apart
from configurator.errors import Fault


def backup(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="The backup to write.")],
    data: DataFolder = DEFAULT_DATA,
    database: DatabaseUrl = None,
) -> None:
    """Copy the record with its documents into one file, while the tool runs.

    Exit code 1 when the copy was made but the record has a flaw, or a document is missing.

    Example: configurator backup ../backups/march.zip --data outputs
    """
    from configurator.workflow.backups import back_up  # noqa: PLC0415  only this command needs it; the others start sooner
    from configurator.workflow.premises import open_kept_record  # noqa: PLC0415  only this command needs it; the others start sooner

    record = open_kept_record(data, database)
    made = back_up(record, data.resolve(), file, now=datetime.now(UTC), tell=say_apart)
    say(f"{made.path} holds {made.rows} rows and {made.documents} documents.")
    say("It holds customers' data and password hashes: keep it where only the right people reach.")
    _tell_flaws(made.faults, made.missing)


def restore(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="A backup.")],
    data: DataFolder = DEFAULT_DATA,
    database: DatabaseUrl = None,
    over_what_is_there: Annotated[
        bool,
        typer.Option(
            "--over-what-is-there",
            help="Take the place of a record that holds something; what it holds is lost.",
        ),
    ] = False,
) -> None:
    """Put a backup in place, checked to the last byte first, all of it or nothing.

    The kind of database may be another one than the backup was made of. Everybody logs in again.

    Example: configurator restore ../backups/march.zip --data restored
    """
    from configurator.record.database import open_record  # noqa: PLC0415  only this command needs it; the others start sooner
    from configurator.workflow.backup_file import opened_backup  # noqa: PLC0415  only this command needs it; the others start sooner
    from configurator.workflow.restoring import restore as put_back  # noqa: PLC0415  only this command needs it; the others start sooner

    with opened_backup(file, say_apart) as opened:
        record = open_record(data, database)
        done = put_back(opened, record, data.resolve(), over=over_what_is_there, tell=say_apart)
    say(f"{record.where} holds {done.rows} rows, and {data} {done.documents} documents.")
    _tell_flaws(done.faults, done.missing)


def _tell_flaws(faults: Iterable[Fault], missing: Iterable[str]) -> None:
    flaws = [f"flaw: {fault_line(fault)}" for fault in faults]
    flaws += [
        f"flaw: the document {name} is missing, and so it is in the backup" for name in missing
    ]
    for line in flaws:
        say(line)
    if flaws:
        raise typer.Exit(1)
