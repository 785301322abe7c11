from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from configurator.catalog.models.build import BuildInput, Customer
from configurator.record.database import Record, open_record
from tests.databases.postgresql import Server


@pytest.fixture
def now() -> datetime:
    return datetime(2026, 3, 4, 9, 30, 15, 123456, tzinfo=UTC)


@pytest.fixture(params=["sqlite", "postgresql"])
def url(request: pytest.FixtureRequest) -> str | None:
    """Each test runs on both databases; None stands for the file in the data folder."""
    if request.param == "sqlite":
        return None
    server: Server = request.getfixturevalue("postgresql")
    return server.url_of_new_database()


@pytest.fixture
def record(tmp_path: Path, url: str | None) -> Iterator[Record]:
    opened = open_record(tmp_path / "data", url)
    yield opened
    opened.engine.dispose()


@pytest.fixture
def new_build() -> Callable[..., BuildInput]:
    def make(**given: object) -> BuildInput:
        known = {
            "reference": "B-0001",
            "customer": Customer(name="Invented Person"),
            "vehicle": "clover-van",
            "priced_on": date(2026, 3, 4),
        }
        return BuildInput.model_validate(known | given)

    return make
