"""`configurator check`: find what is wrong with a catalog, prove it, and replay the proofs."""

from __future__ import annotations

import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from configurator.cli.folders import CatalogFolder
from configurator.cli.terminal import fault_line, say, say_apart
from configurator.rules.rulebook import SIDE_BY_SIDE

if TYPE_CHECKING:
    from configurator.workflow.catalog_proofs.replaying import ReplayReport
    from configurator.workflow.check_catalog import CheckReport

LONG_S = 2.0
"""A check that takes longer [s] tells where it is."""

NOTHING_PROVED = (
    "with faults in its files the catalog cannot be read whole, so nothing was asked of it. "
    "Mend the faults above and check again."
)


def check(
    catalog: CatalogFolder,
    proofs: Annotated[
        Path | None,
        typer.Option("--proofs", metavar="FILE", help="Write the proof of each finding there."),
    ] = None,
    replay: Annotated[
        Path | None,
        typer.Option(
            "--replay",
            metavar="FILE",
            help="Only prove what such a file claims again, by a second and plain method.",
        ),
    ] = None,
    at_most: Annotated[
        int,
        typer.Option(
            "--at-most",
            metavar="N",
            min=1,
            max=20,
            help="Look for so many rules and limits that leave no build, or fewer.",
        ),
    ] = SIDE_BY_SIDE,
    on: Annotated[
        datetime | None,
        typer.Option(
            "--on",
            metavar="DAY",
            formats=["%Y-%m-%d"],
            show_default="today",
            help="The day from which the age of prices is counted, such as 2026-05-01.",
        ),
    ] = None,
) -> None:
    """Read a whole catalog and tell every fault in it, with file, line and remedy.

    Exit code 0 when it can be used, or when all replayed claims hold; 1 when there are faults or a
    claim does not hold. Warnings and notes do not count as faults.

    Example: configurator check --catalog catalog --proofs proofs.json
    """
    from configurator.workflow.catalog_proofs.proof_file import write_proofs  # noqa: PLC0415  only this command needs it; the others start sooner
    from configurator.workflow.check_catalog import check_catalog  # noqa: PLC0415  only this command needs it; the others start sooner

    if replay is not None:
        beside = {"--proofs": proofs, "--on": on, "--at-most": at_most - SIDE_BY_SIDE or None}
        for option, value in beside.items():
            if value is not None:
                message = f"it cannot be given together with {option}; replay proofs as written."
                raise typer.BadParameter(message, param_hint="--replay")
        _replay(catalog, replay)
        return
    today = (datetime.now(UTC) if on is None else on).date()
    report = check_catalog(catalog, today, at_most, _telling_after(LONG_S))
    for line in report_lines(report):
        say(line)
    if proofs is not None and report.proofs is None:
        say(f"No proofs were written to {proofs}: {NOTHING_PROVED}")
    elif proofs is not None and report.proofs is not None:
        write_proofs(proofs, report.proofs)
        say(f"The proofs are in {proofs}; replay them with --replay.")
    if report.faults:
        raise typer.Exit(1)


def report_lines(report: CheckReport) -> list[str]:
    """Write a report, one fault, warning or note a line, then what was read and the verdict.

    Examples
    --------
    >>> from configurator.workflow.check_catalog import CheckReport
    >>> report_lines(CheckReport((), (), {"vehicles": 3, "rules": 40}))
    ['Read 3 vehicles, 40 rules.', 'The catalog can be used: no faults, no warnings.']
    """
    lines = [f"fault: {fault_line(fault)}" for fault in report.faults]
    lines += [f"warning: {fault_line(warning)}" for warning in report.warnings]
    lines += [f"note: {fault_line(note)}" for note in report.notes]
    if report.counts:
        counted = ", ".join(f"{number} {what}" for what, number in report.counts.items())
        lines.append(f"Read {counted}.")
    verdict = "cannot be used" if report.faults else "can be used"
    found = [_counted(len(report.faults), "fault"), _counted(len(report.warnings), "warning")]
    if report.notes:
        found.append(_counted(len(report.notes), "note"))
    lines.append(f"The catalog {verdict}: {', '.join(found)}.")
    return lines


def replay_lines(report: ReplayReport) -> list[str]:
    """Write what became of proofs that were replayed.

    Examples
    --------
    >>> from configurator.workflow.catalog_proofs.replaying import ReplayReport
    >>> replay_lines(ReplayReport(3, ()))
    ['Proved again: 3 claims hold, and there is nothing against the proofs.']
    """
    lines = [f"fault: {fault_line(fault)}" for fault in report.faults]
    holding = "1 claim holds" if report.held == 1 else f"{report.held or 'no'} claims hold"
    if report.faults:
        return [*lines, f"Not proved: {holding}, {_counted(len(report.faults), 'fault')}."]
    return [f"Proved again: {holding}, and there is nothing against the proofs."]


def _replay(catalog: Path, file: Path) -> None:
    from configurator.workflow.catalog_proofs.replaying import replay_proofs  # noqa: PLC0415  only this command needs it; the others start sooner

    report = replay_proofs(catalog, file, _telling_after(LONG_S))
    for line in replay_lines(report):
        say(line)
    if report.faults:
        raise typer.Exit(1)


def _telling_after(seconds: float) -> Callable[[str], None]:
    """Tell nothing of a check that is done in a moment."""
    began = time.monotonic()

    def tell(step: str) -> None:
        if time.monotonic() - began > seconds:
            say_apart(step)

    return tell


def _counted(number: int, what: str) -> str:
    return f"{number or 'no'} {what}{'' if number == 1 else 's'}"
