"""What must hold for every page of every document, whatever is in it."""

from __future__ import annotations

import re
from io import BytesIO
from typing import Any

import pypdf
import pytest

from configurator.build_spec.spec import Spec
from configurator.documents.handover_pack.pack import DRAFT, SECTIONS, handover_pack_pdf
from configurator.documents.page_frame import DEMONSTRATION
from configurator.documents.spec_sheet import spec_sheet_pdf
from configurator.documents.styles import SIDE_MARGIN
from tests.documents.extreme_specs import EXTREMES
from tests.documents.read_pdf import (
    ReadPage,
    ReadWord,
    flat,
    lines_of,
    overlapping_words,
    read_pages,
)
from tests.documents.sample_spec import as_built_spec, open_spec, sample_spec

HEADING_FONT = "SourceSerifPro-Semibold"
BOLD_FONT = "SourceSansPro-Bold"
BAND_BOTTOM = 90.0
"""Of the head of a page, with the emergency sheet's band, from the top [pt]."""
FOOT_TOP = 800.0
"""Of the foot of a page, from the top [pt]."""

CASES = {
    "sheet": lambda: (sample_spec(), spec_sheet_pdf),
    "open sheet": lambda: (open_spec(), spec_sheet_pdf),
    "pack": lambda: (sample_spec(), handover_pack_pdf),
    "as-built pack": lambda: (as_built_spec(), handover_pack_pdf),
    **{
        f"{name} sheet": lambda make=make: (make(), spec_sheet_pdf)
        for name, make in EXTREMES.items()
    },
    **{
        f"{name} pack": lambda make=make: (make(), handover_pack_pdf)
        for name, make in EXTREMES.items()
    },
}


PLAIN = {"as-built pack", "long texts pack"}
"""Packs that every run looks at; the thorough one looks at the others, too."""


@pytest.fixture(
    scope="module",
    params=[
        pytest.param(name, marks=[] if name in PLAIN or "sheet" in name else pytest.mark.thorough)
        for name in CASES
    ],
)
def made(request: pytest.FixtureRequest) -> tuple[Spec, bytes, tuple[ReadPage, ...]]:
    spec, write = CASES[request.param]()
    pdf = write(spec)
    return spec, pdf, read_pages(pdf)


def test_every_font_is_embedded(made: tuple[Spec, bytes, tuple[ReadPage, ...]]) -> None:
    _, pdf, _ = made
    fonts = _fonts(pypdf.PdfReader(BytesIO(pdf)))
    assert fonts
    assert [] == [name for name, is_embedded in fonts.items() if not is_embedded]


def test_text_stays_inside_the_margins(made: tuple[Spec, bytes, tuple[ReadPage, ...]]) -> None:
    _, _, pages = made
    outside = [
        (page.number, word.text)
        for page in pages
        for word in page.words
        if word.left < SIDE_MARGIN - 1
        or word.right > page.width - SIDE_MARGIN + 1
        or word.top < 14
        or word.bottom > page.height - 18
    ]
    assert [] == outside


def test_no_two_words_overlap(made: tuple[Spec, bytes, tuple[ReadPage, ...]]) -> None:
    _, _, pages = made
    assert {} == {page.number: found for page in pages if (found := overlapping_words(page))}


def test_no_heading_is_the_last_thing_on_a_page(
    made: tuple[Spec, bytes, tuple[ReadPage, ...]],
) -> None:
    _, _, pages = made
    ends = {page.number: line for page in pages if (line := _last_body_line(page))}
    assert {} == {number: line for number, line in ends.items() if _is_heading(line)}


def test_every_page_counts_itself(made: tuple[Spec, bytes, tuple[ReadPage, ...]]) -> None:
    _, _, pages = made
    printed = [re.search(r"Page (\d+) of (\d+)", page.text) for page in pages]
    assert [(page.number, len(pages)) for page in pages] == [
        (int(found[1]), int(found[2])) for found in printed if found
    ]


def test_every_page_names_workshop_build_and_spec(
    made: tuple[Spec, bytes, tuple[ReadPage, ...]],
) -> None:
    spec, _, pages = made
    for page in pages:
        assert spec.build.reference in page.text
        assert f"Spec {spec.sha256()[:12]}" in page.text
        assert DEMONSTRATION in flat(page.text)


def test_no_page_is_nearly_blank(made: tuple[Spec, bytes, tuple[ReadPage, ...]]) -> None:
    _, _, pages = made
    lines = {page.number: len(lines_of(page)) for page in pages if "Your notes" not in page.text}
    assert {} == {number: count for number, count in lines.items() if count < 9}


def test_the_document_says_its_language_and_title(
    made: tuple[Spec, bytes, tuple[ReadPage, ...]],
) -> None:
    spec, pdf, _ = made
    reader = pypdf.PdfReader(BytesIO(pdf))
    assert "en-GB" == reader.trailer["/Root"]["/Lang"]
    assert reader.metadata is not None
    assert spec.build.reference in (reader.metadata.title or "")
    assert reader.metadata.author


def test_every_outline_entry_leads_to_its_heading(
    made: tuple[Spec, bytes, tuple[ReadPage, ...]],
) -> None:
    _, pdf, pages = made
    reader = pypdf.PdfReader(BytesIO(pdf))
    entries = list(_flat_outline(reader.outline))
    assert entries
    for entry in entries:
        page = reader.get_destination_page_number(entry)
        assert page is not None
        assert flat(entry.title) in flat(pages[page].text)


@pytest.mark.parametrize("write", [spec_sheet_pdf, handover_pack_pdf])
def test_the_same_spec_gives_the_same_bytes(write: Any) -> None:
    assert write(sample_spec()) == write(sample_spec())


def test_the_pack_is_marked_as_a_draft_on_every_page(pack_pages: tuple[ReadPage, ...]) -> None:
    assert [] == [page.number for page in pack_pages if DRAFT not in flat(page.text)]


def test_every_row_of_the_contents_links_to_the_page_it_prints(
    pack: bytes, pack_pages: tuple[ReadPage, ...]
) -> None:
    reader = pypdf.PdfReader(BytesIO(pack))
    contents = next(p for p in pack_pages if "What is in this pack" in p.text)
    linked = _linked_pages(reader, reader.pages[contents.number - 1])
    printed = [
        int(found[2])
        for found in re.finditer(r"^(\d+) .+? (\d+)$", contents.text, flags=re.MULTILINE)
    ]
    assert len(SECTIONS) == len(linked)
    assert printed[: len(SECTIONS)] == linked


def _fonts(reader: pypdf.PdfReader) -> dict[str, bool]:
    fonts: dict[str, bool] = {}
    for page in reader.pages:
        holders = [page["/Resources"]]
        forms = page["/Resources"].get("/XObject", {})
        holders += [forms[name].get_object().get("/Resources", {}) for name in forms]
        for resources in holders:
            for font in resources.get("/Font", {}).values():
                loaded = font.get_object()
                descriptor = loaded.get("/FontDescriptor")
                embedded = descriptor is not None and "/FontFile2" in descriptor.get_object()
                fonts[str(loaded["/BaseFont"])] = embedded
    return fonts


def _flat_outline(outline: Any) -> Any:
    for entry in outline:
        if isinstance(entry, list):
            yield from _flat_outline(entry)
        else:
            yield entry


def _linked_pages(reader: pypdf.PdfReader, page: Any) -> list[int]:
    numbers = {each.indirect_reference.idnum: n for n, each in enumerate(reader.pages, start=1)}
    targets = (annotation.get_object()["/Dest"] for annotation in page["/Annots"])
    return [numbers[target.get_object()[0].indirect_reference.idnum] for target in targets]


def _last_body_line(page: ReadPage) -> list[ReadWord]:
    body = [line for line in lines_of(page) if BAND_BOTTOM < line[0].top < FOOT_TOP]
    return body[-1] if body else []


def _is_heading(line: list[ReadWord]) -> bool:
    first = line[0]
    return first.font == HEADING_FONT or (first.font == BOLD_FONT and first.size > 9.7)
