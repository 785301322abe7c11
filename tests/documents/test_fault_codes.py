"""Every code of a fault in a document is listed, and every listed one is used."""

from __future__ import annotations

import re
from pathlib import Path

import configurator.documents
from configurator.documents.fault_codes import FAULT_CODES
from configurator.documents.page_frame import frame_words
from configurator.documents.paged_document import pdf_bytes
from configurator.errors import DocumentError
from tests.documents.sample_spec import sample_spec


def test_the_codes_used_are_the_codes_listed() -> None:
    room = Path(configurator.documents.__file__).parent
    sources = "".join(path.read_text() for path in room.rglob("*.py"))
    assert set(FAULT_CODES) == set(re.findall(r'^\s+"(D\d{3})",$', sources, flags=re.MULTILINE))


def test_what_has_no_room_is_refused_with_where_and_what_to_do() -> None:
    from reportlab.platypus import Spacer

    try:
        pdf_bytes([Spacer(1, 5000)], frame_words(sample_spec(), "Trial"))
    except DocumentError as error:
        (fault,) = error.faults
    assert ("D003", "Trial of B-0042") == (fault.code, fault.where)
