"""Headings stay with what follows them."""

from __future__ import annotations

import pytest
from reportlab.platypus import Paragraph, Spacer

from configurator.documents.headings import Headed, Heading, joined, minor_heading, subheading
from configurator.documents.styles import TEXT


def paragraph() -> Paragraph:
    return Paragraph("words of a long text " * 60, TEXT)


def test_headings_in_a_row_are_bound_to_what_follows_them() -> None:
    story = joined([subheading("a"), minor_heading("b"), paragraph(), Spacer(1, 2)])
    assert [Headed, Spacer] == [type(flowable) for flowable in story]
    assert 3 == len(story[0].parts)


def test_a_heading_that_nothing_follows_is_dropped() -> None:
    assert [Spacer] == [type(f) for f in joined([Spacer(1, 2), subheading("a")])]


def test_a_heading_is_never_split_from_the_first_lines() -> None:
    headed = Headed([subheading("a")], paragraph())
    _, height = headed.wrapOn(None, 300, 1000)
    pieces = headed.splitOn(None, 300, height / 2)
    assert isinstance(pieces[0], Headed)
    assert isinstance(pieces[0].parts[0], Heading)
    assert pieces[0].wrapOn(None, 300, 1000)[1] <= height / 2
    assert 2 == len(pieces)


@pytest.mark.parametrize("room", [5.0, 16.0, 24.0])
def test_with_too_little_room_everything_moves_to_the_next_page(room: float) -> None:
    assert [] == Headed([subheading("a")], paragraph()).splitOn(None, 300, room)
