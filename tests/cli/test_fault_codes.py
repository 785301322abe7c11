import re
from importlib import import_module
from pathlib import Path

import pytest


@pytest.mark.parametrize(
    ("room", "letter"), [("record", "R"), ("build_life", "L"), ("workflow", "P"), ("cli", "O")]
)
def test_every_code_of_a_room_is_listed_and_every_listed_code_is_told(
    room: str, letter: str
) -> None:
    codes = import_module(f"configurator.{room}.fault_codes")
    folder = Path(codes.__file__ or "").parent
    files = (path for path in folder.rglob("*.py") if path.name != "fault_codes.py")
    told = {
        code for path in files for code in re.findall(rf"\b{letter}\d{{3}}\b", path.read_text())
    }
    assert set(codes.FAULT_CODES) == told
