"""The examples in the docstrings of the documents room run and say the truth."""

from __future__ import annotations

import doctest
from importlib import import_module
from pkgutil import walk_packages

import pytest

import configurator.documents

MODULES = [
    module.name
    for module in walk_packages(configurator.documents.__path__, "configurator.documents.")
]


@pytest.mark.parametrize("name", MODULES)
def test_examples_say_the_truth(name: str) -> None:
    assert 0 == doctest.testmod(import_module(name)).failed
