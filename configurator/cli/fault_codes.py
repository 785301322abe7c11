"""Codes of the faults that the command line itself tells, with what each means."""

from __future__ import annotations

FAULT_CODES: dict[str, str] = {
    "O001": "The port is taken",
    "O002": "The address cannot be used",
    "O003": "The screens did not start",
    "O004": "Something unforeseen happened",
    "O005": "Somebody is to work alone where people have accounts",
    "O006": "Somebody is to work alone where others can reach the tool",
    "O007": "A customer's data cannot be written to a file",
}
