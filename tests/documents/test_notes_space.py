from __future__ import annotations

import io

import pytest
from reportlab.platypus import Paragraph, SimpleDocTemplate, Spacer

from configurator.documents.handover_pack.notes_space import NotesSpace
from configurator.documents.styles import CELL


@pytest.mark.parametrize("space_after_pt", [5.0, 20.0, 300.0])
def test_the_notes_never_begin_a_page_of_their_own(space_after_pt: float) -> None:
    document = SimpleDocTemplate(io.BytesIO(), pagesize=(400, 600), topMargin=50, bottomMargin=50)
    frame_pt = 600 - 100 - 12
    last = Paragraph("The last line of the page.", CELL.clone("last", spaceAfter=space_after_pt))
    height_pt = last.wrap(300, 500)[1]
    document.build([Spacer(1, frame_pt - height_pt - 10), last, NotesSpace()])
    assert 1 == document.page
