"""The embedded fonts, and which characters they can print."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Final

from reportlab import rl_config
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

BODY: Final = "SourceSans"
BOLD: Final = "SourceSans-Bold"
ITALIC: Final = "SourceSans-Italic"
HEADING: Final = "SourceSerif"
FALLBACK: Final = "DejaVuSans"
FALLBACK_BOLD: Final = "DejaVuSans-Bold"

_BOLD_ITALIC = "SourceSans-BoldItalic"

_FILES: Final = {
    BODY: "SourceSansPro-Regular.ttf",
    BOLD: "SourceSansPro-Bold.ttf",
    ITALIC: "SourceSansPro-It.ttf",
    _BOLD_ITALIC: "SourceSansPro-BoldIt.ttf",
    HEADING: "SourceSerifPro-Semibold.ttf",
    FALLBACK: "DejaVuSans.ttf",
    FALLBACK_BOLD: "DejaVuSans-Bold.ttf",
}

_FAMILIES: Final = (
    (BODY, BOLD, ITALIC, _BOLD_ITALIC),
    (HEADING, HEADING, HEADING, HEADING),
    (FALLBACK, FALLBACK_BOLD, FALLBACK, FALLBACK_BOLD),
)


@cache
def register_typefaces() -> None:
    """Make the vendored fonts known to ReportLab and its default; once for a process."""
    folder = Path(__file__).parent / "fonts"
    for name, file_name in _FILES.items():
        pdfmetrics.registerFont(TTFont(name, folder / file_name))
    for family in _FAMILIES:
        regular, bold, italic, bold_italic = family
        pdfmetrics.registerFontFamily(
            regular, normal=regular, bold=bold, italic=italic, boldItalic=bold_italic
        )
    rl_config.canvas_basefontname = BODY


@cache
def main_characters() -> frozenset[int]:
    """Code points that every main font has, so that a text may turn bold without a hole."""
    main = (BODY, BOLD, ITALIC, _BOLD_ITALIC, HEADING)
    return frozenset.intersection(*(_characters(name) for name in main))


@cache
def fallback_characters() -> frozenset[int]:
    """Code points that both fallback fonts have."""
    return _characters(FALLBACK) & _characters(FALLBACK_BOLD)


def text_width(text: str, font: str, size: float) -> float:
    """Width of a line in one font [pt].

    Examples
    --------
    >>> text_width("", BODY, 10.0)
    0.0
    """
    return float(pdfmetrics.stringWidth(text, font, size))


def _characters(name: str) -> frozenset[int]:
    return frozenset(pdfmetrics.getFont(name).face.charToGlyph)
