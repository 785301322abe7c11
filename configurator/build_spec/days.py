"""Days in words, the same on screens, on paper and in sentences."""

from __future__ import annotations

from datetime import date

MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
"""Named here because the date formats of Python follow the language of the machine."""


def day_in_words(when: date) -> str:
    """Write a day.

    Examples
    --------
    >>> day_in_words(date(2026, 3, 7))
    '7 March 2026'
    """
    return f"{when.day} {MONTHS[when.month - 1]} {when.year}"
