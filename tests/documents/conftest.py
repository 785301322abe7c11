"""The documents that most tests of this room read, each made once."""

from __future__ import annotations

import pytest

from configurator.documents.handover_pack.pack import handover_pack_pdf
from configurator.documents.spec_sheet import spec_sheet_pdf
from tests.documents.read_pdf import ReadPage, read_pages
from tests.documents.sample_spec import as_built_spec, open_spec, sample_spec


@pytest.fixture(scope="session")
def sheet() -> bytes:
    return spec_sheet_pdf(sample_spec())


@pytest.fixture(scope="session")
def pack() -> bytes:
    return handover_pack_pdf(sample_spec())


@pytest.fixture(scope="session")
def sheet_pages(sheet: bytes) -> tuple[ReadPage, ...]:
    return read_pages(sheet)


@pytest.fixture(scope="session")
def pack_pages(pack: bytes) -> tuple[ReadPage, ...]:
    return read_pages(pack)


@pytest.fixture(scope="session")
def open_sheet_pages() -> tuple[ReadPage, ...]:
    return read_pages(spec_sheet_pdf(open_spec()))


@pytest.fixture(scope="session")
def as_built_pages() -> tuple[ReadPage, ...]:
    return read_pages(handover_pack_pdf(as_built_spec()))
