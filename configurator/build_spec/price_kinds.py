"""What the parts of a price are called, on papers and screens alike."""

from __future__ import annotations

from collections.abc import Mapping

PRICE_KINDS: Mapping[str, str] = {
    "base": "The conversion",
    "option": "What is chosen",
    "survey": "Work on the donor vehicle",
    "provisional": "Provisional sums",
    "discount": "Discount",
}
"""Kind of a printed line → its words, in the order in which they are told."""
