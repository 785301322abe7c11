"""`configurator check`: find what is wrong with a catalog."""

from __future__ import annotations

from typing import TYPE_CHECKING

import typer

from configurator.cli.folders import CatalogFolder
from configurator.cli.terminal import fault_line, say

if TYPE_CHECKING:
    from configurator.workflow.check_catalog import CheckReport


def check(catalog: CatalogFolder) -> None:
    """Read a whole catalog and tell every fault in it, with file, line and remedy.

    Exit code 0 when it can be used, 1 when there are faults. Warnings do not count as faults.

    Example: configurator check --catalog catalog
    """
    from configurator.workflow.check_catalog import check_catalog  # noqa: PLC0415  only this command needs it; the others start sooner

    report = check_catalog(catalog)
    for line in report_lines(report):
        say(line)
    if report.faults:
        raise typer.Exit(1)


def report_lines(report: CheckReport) -> list[str]:
    """Write a report, one fault or warning a line, then what was read and the verdict.

    Examples
    --------
    >>> from configurator.workflow.check_catalog import CheckReport
    >>> report_lines(CheckReport((), (), {"vehicles": 3, "rules": 40}))
    ['Read 3 vehicles, 40 rules.', 'The catalog can be used: no faults, no warnings.']
    """
    lines = [f"fault: {fault_line(fault)}" for fault in report.faults]
    lines += [f"warning: {fault_line(warning)}" for warning in report.warnings]
    if report.counts:
        counted = ", ".join(f"{number} {what}" for what, number in report.counts.items())
        lines.append(f"Read {counted}.")
    verdict = "cannot be used" if report.faults else "can be used"
    faults = _counted(len(report.faults), "fault")
    warnings = _counted(len(report.warnings), "warning")
    lines.append(f"The catalog {verdict}: {faults}, {warnings}.")
    return lines


def _counted(number: int, what: str) -> str:
    return f"{number or 'no'} {what}{'' if number == 1 else 's'}"
