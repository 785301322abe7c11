"""The examples in the docstrings of the screens' own modules run."""

import doctest
from importlib import import_module
from pathlib import Path

import pytest

import configurator.app

APP = Path(configurator.app.__file__).parent
WITH_EXAMPLES = sorted(path for path in APP.rglob("*.py") if ">>>" in path.read_text())


def test_there_are_examples_to_run() -> None:
    assert WITH_EXAMPLES


@pytest.mark.parametrize("path", WITH_EXAMPLES, ids=lambda path: path.stem)
def test_the_examples_run(path: Path) -> None:
    dotted = ".".join(path.relative_to(APP).with_suffix("").parts)
    result = doctest.testmod(import_module(f"configurator.app.{dotted}"))
    assert 0 == result.failed
    assert result.attempted
