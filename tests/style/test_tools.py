"""The tools that keep the code readable are part of the tests."""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
TOOLS = Path(sys.executable).parent
COMMANDS = {
    "ruff finds no fault": ["ruff", "check", "."],
    "ruff would format nothing": ["ruff", "format", "--check", "."],
    "mypy is strict and content": ["mypy"],
    "imports point downward": ["lint-imports"],
}


@pytest.mark.parametrize("command", COMMANDS.values(), ids=COMMANDS.keys())
def test_the_tool_finds_nothing(command: list[str]) -> None:
    tool, *arguments = command
    done = subprocess.run(
        [TOOLS / tool, *arguments], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert 0 == done.returncode, done.stdout[-4000:] + done.stderr[-2000:]


def test_no_module_is_longer_than_three_hundred_lines() -> None:
    long = {
        path.relative_to(ROOT).as_posix(): lines
        for path in (ROOT / "configurator").rglob("*.py")
        if (lines := len(path.read_text().splitlines())) > 300
    }
    assert {} == long


def test_no_file_name_says_nothing_about_the_workshop() -> None:
    vague = {"utils", "util", "helpers", "helper", "manager", "common", "misc", "base"}
    named = {path.stem for path in (ROOT / "configurator").rglob("*") if path.is_file()}
    assert set() == named & vague
