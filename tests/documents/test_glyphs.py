"""People's text prints without harm: escaped, each character in a font that has it."""

from __future__ import annotations

from io import BytesIO
from xml.etree import ElementTree

import pypdf
from hypothesis import given, settings
from hypothesis import strategies as st
from reportlab.platypus import Paragraph

from configurator.documents.glyphs import (
    BOX,
    line_width,
    markup,
    printable,
    runs,
    shortened,
    unprintable_characters,
)
from configurator.documents.handover_pack.pack import handover_pack_pdf
from configurator.documents.spec_sheet import spec_sheet_pdf
from configurator.documents.styles import TEXT
from configurator.documents.typeface import (
    BODY,
    FALLBACK,
    fallback_characters,
    main_characters,
)
from tests.documents.extreme_specs import (
    LONG_NAME,
    MARKUP_NAME,
    SCRIPTS,
    UNBROKEN_NAME,
    with_long_names,
    with_markup,
    with_scripts,
)
from tests.documents.read_pdf import flat_text, read_pages
from tests.documents.sample_spec import sample_spec

any_text = st.text(max_size=60)


@settings(max_examples=60, deadline=None)
@given(any_text)
def test_any_text_becomes_a_paragraph(text: str) -> None:
    Paragraph(markup(text), TEXT).wrap(100, 1000)


@settings(max_examples=60, deadline=None)
@given(any_text)
def test_markup_holds_exactly_the_printable_text(text: str) -> None:
    root = ElementTree.fromstring(f"<p>{markup(text)}</p>")  # noqa: S314  our own markup
    assert printable(text) == "".join(root.itertext())


@settings(max_examples=60, deadline=None)
@given(any_text)
def test_every_run_is_in_a_font_that_has_its_characters(text: str) -> None:
    for run in runs(text, BODY):
        known = main_characters() if run.font == BODY else fallback_characters()
        assert [] == [character for character in run.text if ord(character) not in known]


@settings(max_examples=60, deadline=None)
@given(any_text, st.floats(min_value=20, max_value=400))
def test_a_shortened_line_fits(text: str, width: float) -> None:
    assert line_width(shortened(text, BODY, 9, width), BODY, 9) <= width


def test_greek_and_cyrillic_print_and_others_become_boxes() -> None:
    printed = printable("Ελένη Жанна 漢字 שלום")
    assert f"Ελένη Жанна {BOX * 2} {BOX * 4}" == printed
    assert ("ו", "ל", "ם", "ש", "字", "漢") == unprintable_characters("漢字 שלום")


def test_marks_that_reverse_or_hide_text_are_dropped() -> None:
    assert "evil.txt" == printable("\u202eevil\u200b.\u2066txt")


def test_a_letter_with_its_accent_apart_prints_as_one_letter() -> None:
    assert "é" == printable("e\u0301")


def test_a_line_break_in_a_name_becomes_a_space() -> None:
    assert "a b c" == printable("a\nb\x00c")


def test_a_character_of_the_fallback_is_set_in_it() -> None:
    assert (BODY, FALLBACK) == tuple(run.font for run in runs("5 Ω", BODY))


def test_markup_in_a_name_prints_as_typed() -> None:
    for pdf in (spec_sheet_pdf(with_markup()), handover_pack_pdf(with_markup())):
        assert MARKUP_NAME.replace(" ", "") in flat_text(read_pages(pdf)).replace(" ", "")
        assert linked_addresses(pdf) <= {"https://example.invalid/?a=1&b=%222%22"}


def linked_addresses(pdf: bytes) -> set[str]:
    pages = pypdf.PdfReader(BytesIO(pdf)).pages
    annotations = [a.get_object() for page in pages for a in page.get("/Annots", ())]
    return {str(a["/A"]["/URI"]) for a in annotations if "/URI" in a.get("/A", {})}


def test_two_hundred_characters_of_a_name_are_all_printed() -> None:
    printed = flat_text(read_pages(spec_sheet_pdf(with_long_names()))).replace(" ", "")
    assert LONG_NAME[:200].strip().replace(" ", "") in printed
    assert UNBROKEN_NAME in printed.replace("Contact", "")


def test_the_document_lists_the_characters_it_could_not_print() -> None:
    for pdf in (spec_sheet_pdf(with_scripts()), handover_pack_pdf(with_scripts())):
        printed = flat_text(read_pages(pdf))
        assert f"{BOX} stands for a character" in printed
        assert "U+6F22" in printed
        assert "Ελένη Жанна" in printed
    assert unprintable_characters(SCRIPTS)


def test_no_note_on_characters_when_all_of_them_print() -> None:
    assert "stands for a character" not in flat_text(read_pages(spec_sheet_pdf(sample_spec())))
