"""Settings that hold for all tests."""

import os
from collections.abc import Iterator

import pytest
from hypothesis import settings

from tests.databases.postgresql import Server, serving

# The same examples on every run, so that a red test is red for everybody; set HYPOTHESIS_PROFILE to
# `search` to look for new ones.
settings.register_profile("steady", derandomize=True, deadline=None)
settings.register_profile("search", deadline=None)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "steady"))


@pytest.fixture(scope="session")
def postgresql() -> Iterator[Server]:
    with serving() as server:
        yield server
