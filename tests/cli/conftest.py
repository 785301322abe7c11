import shutil
import subprocess
from collections.abc import Callable
from contextlib import redirect_stderr, redirect_stdout
from io import StringIO
from pathlib import Path

import pytest

from configurator.cli import main

TINY = Path(__file__).parents[1] / "catalogs" / "tiny"


@pytest.fixture
def catalog_folder(tmp_path: Path) -> Path:
    """A copy of the tiny workshop's catalog that a test may change."""
    return Path(shutil.copytree(TINY, tmp_path / "catalog"))


@pytest.fixture
def configurator(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Callable[..., subprocess.CompletedProcess[str]]:
    """Run the command line as from a shell in an empty folder, but without a new process."""

    def run(*arguments: str | Path) -> subprocess.CompletedProcess[str]:
        words = list(map(str, arguments))
        monkeypatch.chdir(tmp_path)
        out, apart = StringIO(), StringIO()
        with redirect_stdout(out), redirect_stderr(apart):
            try:
                main.run(words)
                code = 0
            except SystemExit as left:
                code = left.code if isinstance(left.code, int) else int(left.code is not None)
        return subprocess.CompletedProcess(words, code, out.getvalue(), apart.getvalue())

    return run
