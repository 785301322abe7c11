"""A note never stands without a row of its table, and no row is torn for want of room."""

from __future__ import annotations

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from configurator.documents.noted import Noted
from configurator.documents.paragraphs import small
from configurator.documents.styles import TEXT_WIDTH
from configurator.documents.tables import headed_table


def noted(rows: int) -> Noted:
    table = headed_table(("What",), [(f"row {n}",) for n in range(rows)], (1.0,))
    return Noted(table, small("The note."))


def divided(flowable: Flowable, room_left: float) -> list[Flowable]:
    canvas = Canvas("unused.pdf")
    _, height = flowable.wrapOn(canvas, TEXT_WIDTH, 700)
    return list(flowable.splitOn(canvas, TEXT_WIDTH, height - room_left))


def test_the_last_row_goes_along_with_a_note_that_has_no_room() -> None:
    top, rest = divided(noted(30), 3)
    assert isinstance(rest, Noted)
    assert 1 + 29 == len(top._cellvalues)
    assert 1 + 1 == len(rest.table._cellvalues)


def test_a_short_table_moves_on_whole_with_its_note() -> None:
    assert [] == divided(noted(4), 3)


def test_a_row_with_no_room_moves_on_whole_and_only_a_very_high_one_is_torn() -> None:
    high = headed_table(("What",), [("words " * 200,)], (1.0,))
    very_high = headed_table(("What",), [("words " * 3000,)], (1.0,))
    assert [] == divided(high, 30)
    assert 2 == len(divided(very_high, 30))
