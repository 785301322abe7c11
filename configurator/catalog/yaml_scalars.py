"""Unquoted YAML values as a person means them; whatever could surprise is refused."""

from __future__ import annotations

import re
from datetime import date

_WHOLE = re.compile(r"[-+]?(0|[1-9][0-9]{0,17})")
_DECIMAL = re.compile(
    r"[-+]?(0|[1-9][0-9]{0,17})?\.[0-9]{1,18}([eE][-+]?[0-9]{1,2})?|[-+]?[0-9]{1,6}[eE][-+]?[0-9]{1,2}"
)
_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_CONTROL = re.compile(
    r"[\x00-\x08\x0b-\x1f\x7f-\x84\x86-\x9f\u202a-\u202e\u2066-\u2069\ud800-\udfff]"
)

_SURPRISES: tuple[tuple[re.Pattern[str], str], ...] = (
    (
        re.compile(r"yes|no|on|off", re.IGNORECASE),
        "it may be read as true or false",
    ),
    (re.compile(r"[-+]?0[0-9_]+"), "some readers of YAML take a number with a leading 0 as octal"),
    (re.compile(r"[-+]?0[xob][0-9a-fA-F_]+"), "it is a number of another base"),
    (re.compile(r"[-+]?[0-9][0-9_]*_[0-9_.]*"), "it is a number with underscores"),
    (re.compile(r"[-+]?[0-9]+(:[0-5]?[0-9])+(\.[0-9]*)?"), "YAML takes it for a number to base 60"),
    (re.compile(r"[-+]?\.(inf|nan)", re.IGNORECASE), "it is not a finite number"),
    (re.compile(r"[0-9]{4}-[0-9]{1,2}-[0-9]{1,2}[Tt ].*"), "YAML takes it for an instant of time"),
    (re.compile(r"[-+]?[0-9]+\.?"), "it is not a number that can be kept exactly"),
)


class SurprisingValueError(ValueError):
    """An unquoted value that does not mean what it looks like; says why."""


def plain_value(text: str) -> str | int | float | bool | date | None:
    """Read an unquoted YAML value.

    Parameters
    ----------
    text : str
        The value as it stands in the file.

    Returns
    -------
    str or int or float or bool or date or None
        What it means.

    Raises
    ------
    SurprisingValueError
        If it could be misread, such as `no`, `012`, `1:30` or an impossible date.

    Examples
    --------
    >>> plain_value("2.4"), plain_value("oak"), plain_value("2024-05-01")
    (2.4, 'oak', datetime.date(2024, 5, 1))
    >>> plain_value("no")
    Traceback (most recent call last):
    configurator.catalog.yaml_scalars.SurprisingValueError: it may be read as true or false
    """
    if text in {"", "~", "null", "Null", "NULL"}:
        return None
    if text in {"true", "True", "TRUE", "false", "False", "FALSE"}:
        return text.lower() == "true"
    if _WHOLE.fullmatch(text):
        return int(text)
    if _DECIMAL.fullmatch(text):
        return float(text)
    if _DAY.fullmatch(text):
        return _day(text)
    for pattern, why in _SURPRISES:
        if pattern.fullmatch(text):
            raise SurprisingValueError(why)
    return text


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError as error:
        msg = "the calendar has no such day"
        raise SurprisingValueError(msg) from error


def has_control_characters(text: str) -> bool:
    r"""Tell whether a text holds characters that no screen or page can show.

    Line ends and tabs are allowed; characters that turn the direction of writing are not, since
    they make a text read differently from what it says.

    Examples
    --------
    >>> has_control_characters("Ελιά\n木 <b>"), has_control_characters("bell\x07")
    (False, True)
    """
    return _CONTROL.search(text) is not None
