"""A PDF read back as words with their places, for the layout tests."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from io import BytesIO

import pdfplumber


@dataclass(frozen=True)
class ReadWord:
    text: str
    left: float
    right: float
    top: float
    bottom: float
    font: str
    size: float


@dataclass(frozen=True)
class ReadPage:
    number: int
    width: float
    height: float
    words: tuple[ReadWord, ...]
    text: str


@lru_cache(maxsize=16)
def read_pages(pdf: bytes) -> tuple[ReadPage, ...]:
    """Read the pages of a PDF; the same bytes, which papers give for the same spec, once."""
    with pdfplumber.open(BytesIO(pdf)) as document:
        return tuple(_read(page) for page in document.pages)


def lines_of(page: ReadPage) -> list[list[ReadWord]]:
    """Words of a page by line, from the top down."""
    lines: list[list[ReadWord]] = []
    for word in sorted(page.words, key=lambda w: (w.bottom, w.left)):
        if lines and abs(lines[-1][-1].bottom - word.bottom) < 2.0:
            lines[-1].append(word)
        else:
            lines.append([word])
    return [sorted(line, key=lambda w: w.left) for line in lines]


def flat(text: str) -> str:
    """Text with every run of white space as one space."""
    return " ".join(text.split())


def flat_text(pages: tuple[ReadPage, ...]) -> str:
    return " ".join(flat(page.text) for page in pages)


def overlapping_words(page: ReadPage) -> list[tuple[str, str]]:
    """Pairs of words whose boxes overlap by more than a rounding error."""
    found = []
    for index, one in enumerate(page.words):
        for other in page.words[index + 1 :]:
            across = min(one.right, other.right) - max(one.left, other.left)
            down = min(one.bottom, other.bottom) - max(one.top, other.top)
            if across > 1.0 and down > 0.45 * min(one.size, other.size):
                found.append((one.text, other.text))
    return found


def _read(page: pdfplumber.page.Page) -> ReadPage:
    words = page.extract_words(extra_attrs=["fontname", "size"], keep_blank_chars=False)
    return ReadPage(
        number=page.page_number,
        width=float(page.width),
        height=float(page.height),
        words=tuple(
            ReadWord(
                word["text"],
                float(word["x0"]),
                float(word["x1"]),
                float(word["top"]),
                float(word["bottom"]),
                word["fontname"].split("+")[-1],
                float(word["size"]),
            )
            for word in words
        ),
        text=page.extract_text() or "",
    )
