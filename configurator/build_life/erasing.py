"""Take a person's data out of what was written about a build; the technical record stays."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

REMOVED = "(removed)"
SHORTEST = 3
"""Shorter names are taken out of their own fields alone: within other words they mean nothing."""


def personal_words(content: dict[str, Any]) -> tuple[str, ...]:
    """Find a customer's name and contact in a build's content, the longest first.

    Examples
    --------
    >>> personal_words({"customer": {"name": "Ann Example", "contact": "at the mill"}})
    ('Ann Example', 'at the mill')
    """
    customer = content.get("customer", {})
    words = {str(customer.get(field, "")).strip() for field in ("name", "contact")}
    return tuple(sorted((word for word in words if word and word != REMOVED), key=_longest_first))


def without_person(content: Any, words: Sequence[str]) -> Any:
    """Take a person's words out of content, wherever they stand in it.

    Parameters
    ----------
    content : JSON value
        A build, a spec, the steps of a change.
    words : sequence of str
        The customer's name and contact.

    Returns
    -------
    JSON value
        The same, with the customer's own fields, the notes and every mention of the words replaced.

    Examples
    --------
    >>> without_person({"notes": "Tea", "customer": {"name": "Ann", "contact": ""}}, ["Ann"])
    {'notes': '', 'customer': {'name': '(removed)', 'contact': ''}}
    >>> without_person(["For Ann Example’s van"], ["Ann Example"])
    ['For (removed)’s van']
    """
    if isinstance(content, dict):
        return {key: _field(key, value, words) for key, value in content.items()}
    if isinstance(content, list):
        return [without_person(item, words) for item in content]
    return _text(content, words) if isinstance(content, str) else content


def _field(key: str, value: Any, words: Sequence[str]) -> Any:
    if key == "customer" and isinstance(value, dict):
        return {**value, "name": REMOVED, "contact": ""}
    if key == "notes" and isinstance(value, str):
        return ""
    return without_person(value, words)


def _text(text: str, words: Sequence[str]) -> str:
    for word in words:
        if len(word) >= SHORTEST:
            text = re.sub(re.escape(word), REMOVED, text, flags=re.IGNORECASE)
    return text


def _longest_first(word: str) -> tuple[int, str]:
    return -len(word), word
