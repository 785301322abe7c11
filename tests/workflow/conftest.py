import shutil
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from configurator.catalog.models.build import Customer, Donor
from configurator.workflow.builds import start_enquiry
from configurator.workflow.premises import Premises, open_premises
from tests.databases.postgresql import Server

TINY = Path(__file__).parents[1] / "catalogs" / "tiny"


@pytest.fixture
def now() -> datetime:
    return datetime(2026, 3, 4, 9, 30, tzinfo=UTC)


@pytest.fixture
def catalog_folder(tmp_path: Path) -> Path:
    """A copy of the tiny workshop's catalog that a test may change."""
    return Path(shutil.copytree(TINY, tmp_path / "catalog"))


@pytest.fixture
def data_folder(tmp_path: Path) -> Path:
    return tmp_path / "data"


@pytest.fixture
def premises(catalog_folder: Path, data_folder: Path) -> Iterator[Premises]:
    opened = open_premises(catalog_folder, data_folder)
    yield opened
    opened.record.engine.dispose()


@pytest.fixture(params=["sqlite", "postgresql"])
def anywhere(
    request: pytest.FixtureRequest, catalog_folder: Path, data_folder: Path
) -> Iterator[Premises]:
    """Premises with their record in the data folder, and again with it in PostgreSQL."""
    url = None
    if request.param == "postgresql":
        server: Server = request.getfixturevalue("postgresql")
        url = server.url_of_new_database()
    opened = open_premises(catalog_folder, data_folder, url)
    yield opened
    opened.record.engine.dispose()


@pytest.fixture
def enquiry(premises: Premises, now: datetime) -> Callable[..., str]:
    def start(name: str = "Invented Person", vehicle: str = "clover-van", notes: str = "") -> str:
        return start_enquiry(
            premises,
            customer=Customer(name=name),
            vehicle_id=vehicle,
            donor=Donor(),
            notes=notes,
            now=now,
        )

    return start


@pytest.fixture
def reference(enquiry: Callable[..., str]) -> str:
    return enquiry()
