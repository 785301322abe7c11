from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from configurator.catalog.models.build import BuildInput, Customer
from configurator.record.database import Record, open_record


@pytest.fixture
def now() -> datetime:
    return datetime(2026, 3, 4, 9, 30, 15, 123456, tzinfo=UTC)


@pytest.fixture
def record(tmp_path: Path) -> Iterator[Record]:
    opened = open_record(tmp_path / "data")
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
