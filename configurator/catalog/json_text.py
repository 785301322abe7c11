"""JSON as text that the YAML reader takes, so that both have lines and the same bounds."""

from __future__ import annotations

import json
import re
from typing import NoReturn

from configurator.errors import Fault

_SURROGATE_PAIR = re.compile(
    r"(?<!\\)((?:\\\\)*)\\u([dD][89abAB][0-9a-fA-F]{2})\\u([dD][c-fC-F][0-9a-fA-F]{2})"
)


def json_as_yaml(text: str, file: str) -> tuple[str, Fault | None]:
    r"""Check that a text is JSON and write the few things otherwise that YAML reads differently.

    Parameters
    ----------
    text : str
        The text.
    file : str
        How messages name its file.

    Returns
    -------
    tuple
        The text for the YAML reader, line for line, and a fault (C007) or None.

    Examples
    --------
    >>> json_as_yaml('{\t"name": "\\ud83d\\udea2"}', "build.json")
    ('{ "name": "🚢"}', None)
    """
    try:
        json.loads(text, parse_constant=_refuse_constant)
    except json.JSONDecodeError as error:
        what = f"it is not well-formed JSON ({error.msg}, column {error.colno})"
        remedy = "Look at this line and the one before: a comma, a quote or a bracket."
        return "", Fault("C007", f"{file}:{error.lineno}", what, remedy)
    except (RecursionError, ValueError):
        what = "it is not JSON that can be kept exactly, or nested too deeply"
        return "", Fault("C007", f"{file}:1", what, "Write finite numbers and plain lists.")
    # Inside JSON strings a tab is always escaped, so that any bare tab is mere space.
    spaced = text.replace("\t", " ")
    return _SURROGATE_PAIR.sub(_joined, spaced), None


def _refuse_constant(name: str) -> NoReturn:
    raise ValueError(name)


def _joined(pair: re.Match[str]) -> str:
    high, low = int(pair[2], 16), int(pair[3], 16)
    return pair[1] + chr(0x10000 + ((high - 0xD800) << 10) + (low - 0xDC00))
