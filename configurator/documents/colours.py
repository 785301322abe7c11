"""The colours of every document; text on them keeps a contrast of at least 4.5 to 1."""

from __future__ import annotations

from functools import cache
from typing import Final

from reportlab.lib.colors import Color, HexColor

from configurator.catalog.models.text import SignalWord

INK: Final = "#1d3336"
QUIET_INK: Final = "#4a5d60"
PAPER: Final = "#fbf8f2"
WHITE: Final = "#ffffff"
COPPER: Final = "#a4572a"
LINE: Final = "#d8d2c4"
TINT: Final = "#f3eee3"

SIGNAL_BANDS: Final[dict[SignalWord, tuple[str, str]]] = {
    "danger": ("#a51d24", WHITE),
    "warning": ("#e8762c", "#111111"),
    "caution": ("#f6c200", "#111111"),
    "notice": ("#1f5a8a", WHITE),
}
"""Band and words; close to the safety colours of ISO 3864-4, from memory."""

TEXT_PAIRS: Final = (
    (INK, WHITE),
    (INK, PAPER),
    (INK, TINT),
    (QUIET_INK, WHITE),
    (QUIET_INK, PAPER),
    (QUIET_INK, TINT),
    (COPPER, WHITE),
    (COPPER, PAPER),
    (PAPER, INK),
    *((words, band) for band, words in SIGNAL_BANDS.values()),
)
"""Every pair of text colour and ground that the documents use."""


@cache
def rgb(colour: str) -> Color:
    """Make ReportLab's colour of #rrggbb; it would read the text anew at each use.

    Examples
    --------
    >>> rgb("#ffffff").rgb()
    (1.0, 1.0, 1.0)
    """
    return HexColor(colour)
