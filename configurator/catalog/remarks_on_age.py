"""Remarks on what was looked at too long ago: prices, and texts whose day of review has passed."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from configurator.catalog.models.catalog import Catalog


def old_prices(catalog: Catalog, today: date) -> Iterator[tuple[str, tuple[str, str], str, str]]:
    """Yield groups with options that were priced more than a year ago."""
    for group in catalog.groups:
        old = [option for option in group.options if _a_year_after(option.priced_on) < today]
        if old:
            oldest = min(old, key=lambda option: option.priced_on)
            one = len(old) == 1
            what = (
                f'{len(old)} price{"" if one else "s"} of group "{group.id}" '
                f"{'is' if one else 'are'} older than a year; that of "
                f'"{oldest.id}" is of {oldest.priced_on.isoformat()}'
            )
            subject = ("option", f"{group.id}/{oldest.id}")
            yield "W012", subject, what, "Ask for the prices again and correct priced_on."


def texts_past_review(
    catalog: Catalog, today: date
) -> Iterator[tuple[str, tuple[str, str], str, str]]:
    """Yield texts that should have been read again by now."""
    for text in catalog.texts:
        if text.review_by < today:
            what = f'text "{text.id}" was to be reviewed by {text.review_by.isoformat()}'
            remedy = f"Have {text.approver} read it again, and set the next review_by."
            yield "W013", ("text", text.id), what, remedy


def _a_year_after(day: date) -> date:
    """Return the same day of the next year; the last of February for a leap day.

    Examples
    --------
    >>> _a_year_after(date(2028, 2, 29)), _a_year_after(date(2026, 1, 10))
    (datetime.date(2029, 2, 28), datetime.date(2027, 1, 10))
    """
    is_leap_day = (day.month, day.day) == (2, 29)
    return day.replace(year=day.year + 1, day=28 if is_leap_day else day.day)
