"""The list of fault codes against the codes that the room uses."""

from __future__ import annotations

import re
from pathlib import Path

from configurator import physics
from configurator.physics.fault_codes import FAULT_CODES


def test_the_list_has_exactly_the_codes_that_are_used() -> None:
    files = [p for p in Path(physics.__path__[0]).glob("*.py") if p.name != "fault_codes.py"]
    used = {code for p in files for code in re.findall(r'"(M\d{3})"', p.read_text("utf-8"))}
    assert set(FAULT_CODES) == used
