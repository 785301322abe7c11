"""Compiled code is kept on disk where it can be; where it cannot, the tool only starts slower."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

LOOP = """
from configurator.compiled_loops import compiled_loop

@compiled_loop
def half(number: float) -> float:
    return number / 2
"""
CALL = """
import halving
print(halving.half(3.0), sum(halving.half.stats.cache_hits.values()))
"""


def call(folder: Path, **environment: str) -> tuple[float, int]:
    """Call the loop in a new process: its answer, and how often it was found compiled."""
    (folder / "halving.py").write_text(LOOP, encoding="utf-8")
    root = Path(__file__).parents[1]
    done = subprocess.run(
        [sys.executable, "-c", CALL],
        env={
            **{name: text for name, text in os.environ.items() if name != "NUMBA_CACHE_DIR"},
            "PYTHONPATH": os.pathsep.join([str(folder), str(root)]),
            "PYTHONDONTWRITEBYTECODE": "1",
            **environment,
        },
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    answer, hits = done.stdout.split()
    return float(answer), int(hits)


def test_a_second_process_finds_the_loop_compiled(tmp_path: Path) -> None:
    assert call(tmp_path) == (1.5, 0)
    assert call(tmp_path) == (1.5, 1)


def test_where_the_source_folder_takes_nothing_the_users_cache_folder_keeps_it(
    tmp_path: Path,
) -> None:
    (tmp_path / "__pycache__").touch()
    cache = {"XDG_CACHE_HOME": str(tmp_path / "cache"), "HOME": str(tmp_path)}
    assert call(tmp_path, **cache) == (1.5, 0)
    assert call(tmp_path, **cache) == (1.5, 1)


@pytest.mark.thorough
def test_where_no_folder_takes_anything_the_loop_is_compiled_each_time(tmp_path: Path) -> None:
    (tmp_path / "__pycache__").touch()
    (tmp_path / "file").touch()
    nowhere = str(tmp_path / "file")
    for _ in range(2):
        assert call(tmp_path, XDG_CACHE_HOME=nowhere, HOME=nowhere) == (1.5, 0)


@pytest.mark.thorough
@pytest.mark.parametrize("ending", ["nbi", "nbc"])
def test_a_file_half_written_is_compiled_anew_and_replaced(tmp_path: Path, ending: str) -> None:
    call(tmp_path)
    for path in (tmp_path / "__pycache__").glob(f"*.{ending}"):
        path.write_bytes(path.read_bytes()[:40])
    assert call(tmp_path) == (1.5, 0)
    assert call(tmp_path) == (1.5, 1)
