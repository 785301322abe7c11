"""Faults said to whoever sits before the screen."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import PurePosixPath, PureWindowsPath

from configurator.errors import ConfiguratorError


@dataclass(frozen=True)
class FaultLine:
    """A fault in sentences."""

    where: str
    what: str
    remedy: str
    code: str


def fault_lines(error: ConfiguratorError) -> tuple[FaultLine, ...]:
    """Say every fault; never fewer than one line."""
    lines = tuple(
        FaultLine(_place(fault.where), _sentence(fault.what), fault.remedy, fault.code)
        for fault in error.faults
    )
    return lines or (FaultLine("", _sentence(str(error) or type(error).__name__), "", ""),)


def spoken(error: ConfiguratorError) -> tuple[str, ...]:
    """Say the faults without their places, for a notice in the talk."""
    return tuple(f"{line.what} {line.remedy}".strip() for line in fault_lines(error))


def spoken_by_entry(error: ConfiguratorError) -> tuple[str, ...]:
    """Say the faults of a form, each with the entry that it is in."""
    return tuple(
        f"{line.where}: {line.what[:1].lower()}{line.what[1:]} {line.remedy}".strip()
        if line.where
        else f"{line.what} {line.remedy}".strip()
        for line in fault_lines(error)
    )


def _place(where: str) -> str:
    """Leave out where the machine keeps its files; it means nothing to a customer.

    Examples
    --------
    >>> _place("rules/body.yaml:3"), _place("/srv/data/record.sqlite"), _place("postgresql://x/y")
    ('rules/body.yaml:3', '', '')
    """
    rooted = PurePosixPath(where).is_absolute() or PureWindowsPath(where).is_absolute()
    return "" if rooted or "://" in where else where


def _sentence(words: str) -> str:
    if not words:
        return ""
    ending = "" if words.endswith((".", "!", "?")) else "."
    return f"{words[0].upper()}{words[1:]}{ending}"
