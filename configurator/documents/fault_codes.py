"""Every code of a fault in making a document, each with its one meaning."""

from __future__ import annotations

FAULT_CODES: dict[str, str] = {
    "D001": "A handover pack is asked for while choices are still open",
    "D002": "The texts of the emergency sheet need more than its four pages",
    "D003": "Something in a document cannot be laid out on a page",
}
