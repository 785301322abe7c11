"""Placeholders in texts, such as `{{ pack.full_voltage_v }}`, found and filled."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

FACT_PREFIX = "fact:"
_PLACEHOLDER = re.compile(r"\{\{[ \t]*([^{}\n]*?)[ \t]*\}\}")


def fill_placeholders(text: str, look_up: Callable[[str], str]) -> str:
    """Put the value in the place of each placeholder; what is put in is not searched again.

    Parameters
    ----------
    text : str
        Text with placeholders `{{ fact:NAME }}`, `{{ fact:NAME:CASE }}`, `{{ vehicle.FIELD }}`,
        `{{ workshop.FIELD }}` or `{{ SLOT.FIELD }}`.
    look_up : callable
        From what stands between the braces to its value.

    Returns
    -------
    str
        The text filled.

    Examples
    --------
    >>> fill_placeholders("Up to {{ pack.full_voltage_v }} V.", {"pack.full_voltage_v": "86"}.get)
    'Up to 86 V.'
    """
    return _PLACEHOLDER.sub(lambda found: look_up(found[1]), text)


def placeholders_in(text: str) -> Iterator[tuple[int, str]]:
    """Find placeholders with their line, counted from 0.

    Examples
    --------
    >>> list(placeholders_in("a {{ vehicle.label }}"))
    [(0, 'vehicle.label')]
    """
    for number, line in enumerate(text.split("\n")):
        for found in _PLACEHOLDER.finditer(line):
            yield number, found[1]


def unclosed_line(text: str) -> int | None:
    """Find the line, counted from 0, of a `{{` or `}}` that belongs to no placeholder.

    Examples
    --------
    >>> unclosed_line("good {{ a.b }}"), unclosed_line("bad {{ a.b")
    (None, 0)
    """
    for number, line in enumerate(text.split("\n")):
        rest = _PLACEHOLDER.sub("", line)
        if "{{" in rest or "}}" in rest:
            return number
    return None
