"""A file that was read: its plain value and the line of every key in it."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field

from configurator.errors import Fault

Keys = tuple[str | int, ...]
"""The way to a value: keys of mappings and positions in lists."""


@dataclass(frozen=True)
class Document:
    """What one file says, as plain values, and where it says it.

    Examples
    --------
    >>> document = Document("stages.yaml", {"stages": []}, {(): 1, ("stages",): 3})
    >>> document.where(("stages", 0, "id"))
    'stages.yaml:3'
    """

    file: str
    value: object
    lines: Mapping[Keys, int]
    faults: tuple[Fault, ...] = ()
    faulty_keys: frozenset[Keys] = field(default=frozenset())
    """Where the reader found a fault already, so that nobody says it twice."""

    def where(self, keys: Keys) -> str:
        """Say file and line of a value, or of the nearest value around it."""
        for length in range(len(keys), -1, -1):
            line = self.lines.get(keys[:length])
            if line is not None:
                return f"{self.file}:{line}"
        return f"{self.file}:1"


def shown(value: object) -> str:
    r"""Write a value for an error message: quoted, on one line, shortened.

    Examples
    --------
    >>> shown("two\nlines"), shown(2400), shown(None)
    ('"two\\nlines"', '2400', 'empty')
    """
    if value is None:
        return "empty"
    if isinstance(value, Mapping):
        return "a mapping"
    if isinstance(value, list | tuple):
        return "a list"
    if not isinstance(value, str):
        return str(value)[:80]
    text = value if len(value) <= 60 else f"{value[:57]}…"
    return json.dumps(text, ensure_ascii=False)


def spoken(keys: Keys) -> str:
    """Name a value by the way to it, as a person would look for it.

    Examples
    --------
    >>> spoken(("options", 2, "fits", "pack"))
    'options[3].fits.pack'
    """
    name = ""
    for key in keys:
        if isinstance(key, int):
            name += f"[{key + 1}]"
        else:
            name += f".{key}" if name else key
    return name or "the entry"
