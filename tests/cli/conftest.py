import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

TINY = Path(__file__).parents[1] / "catalogs" / "tiny"
ROOT = Path(__file__).parents[2]


@pytest.fixture
def catalog_folder(tmp_path: Path) -> Path:
    """A copy of the tiny workshop's catalog that a test may change."""
    return Path(shutil.copytree(TINY, tmp_path / "catalog"))


@pytest.fixture
def configurator(tmp_path: Path) -> Callable[..., subprocess.CompletedProcess[str]]:
    """Run the command line in a process of its own, in an empty folder."""

    def run(*arguments: str | Path) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, "-m", "configurator", *map(str, arguments)],
            cwd=tmp_path,
            env={**os.environ, "PYTHONPATH": str(ROOT), "PYTHONIOENCODING": "utf-8"},
            capture_output=True,
            encoding="utf-8",
            timeout=180,
            check=False,
        )

    return run
