"""`configurator verify`: prove that nothing in the record was altered, or that a PDF is genuine."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from configurator.cli.folders import DEFAULT_DATA, DatabaseUrl, DataFolder
from configurator.cli.terminal import fault_line, say, say_apart
from configurator.errors import Fault

if TYPE_CHECKING:
    from configurator.workflow.verifying import Verification

CANNOT_BE_FOUND = (
    "Not found by this: a record that somebody with knowledge of the tool wrote anew as a whole. "
    "Note the last entry's hash elsewhere; --holds proves later that it is still in the book."
)

IN_WORDS = {
    "contents": ("content kept by its hash", "contents kept by their hash"),
    "entries": ("entry", "entries"),
    "log_in_waits": ("wait before a log-in", "waits before a log-in"),
    "sign_ins": ("browser logged in", "browsers logged in"),
}
"""What was read, where its name in the record is no word for people."""


def verify(
    file: Annotated[
        Path | None,
        typer.Argument(metavar="FILE.pdf", help="Prove that this PDF is one the record holds."),
    ] = None,
    data: DataFolder = DEFAULT_DATA,
    database: DatabaseUrl = None,
    holds: Annotated[
        str | None,
        typer.Option(
            "--holds",
            metavar="SHA256",
            help="Prove that the book still has the entry whose hash begins like this.",
        ),
    ] = None,
) -> None:
    """Go through every row, hash and stored file, and name whatever is not as it was saved.

    Exit code 0 when there is no flaw, 1 when there is one.

    Example: configurator verify --data outputs
    """
    from configurator.workflow.premises import open_kept_record  # noqa: PLC0415  only this command needs it; the others start sooner
    from configurator.workflow.verifying import verify_all, verify_pdf  # noqa: PLC0415  only this command needs it; the others start sooner

    holds = None if holds is None else _hash_begins(holds)
    record = open_kept_record(data, database)
    if file is not None:
        proof = verify_pdf(record, file, say_apart)
        _say_and_leave(proof.lines, proof.faults)
        return
    found = verify_all(record, data.resolve(), holds=holds, tell=say_apart)
    _say_and_leave(_lines(found), found.faults)


def _say_and_leave(lines: Iterable[str], faults: Iterable[Fault]) -> None:
    flaws = [f"flaw: {fault_line(fault)}" for fault in faults]
    for line in [*lines, *flaws]:
        say(line)
    say("No flaw was found." if not flaws else f"Flaws found: {len(flaws)}.")
    if flaws:
        raise typer.Exit(1)


def _lines(found: Verification) -> Iterable[str]:
    counted = ", ".join(_counted(what, number) for what, number in found.counts.items())
    yield f"Read {counted}."
    for path in found.unnoted:
        yield f"note: the record does not know the file {path}; it may be left over."
    if found.last_number:
        yield f"The book ends with entry {found.last_number}, SHA-256 {found.last_sha256}."
        yield CANNOT_BE_FOUND


def _counted(what: str, number: int) -> str:
    one, many = IN_WORDS.get(what, (what.removesuffix("s"), what))
    return f"{number} {one if number == 1 else many}"


def _hash_begins(given: str) -> str:
    begins = given.strip().lower()
    if len(begins) < 12 or set(begins) - set("0123456789abcdef"):
        message = "give at least the first 12 of its digits, 0 to 9 and a to f."
        raise typer.BadParameter(message, param_hint="--holds")
    return begins
