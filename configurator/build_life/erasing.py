"""Take a person's data out of what was written about a build; the technical record stays."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Any

REMOVED = "(removed)"
TYPED = frozenset(
    {
        *("description", "identity_mark", "origin", "note", "reason"),
        *("value", "instrument", "by", "serial_number", "serial_numbers"),
    }
)
"""Fields in which people type: a name is taken out of them also where it is a common word."""
NOT_TYPED = frozenset(
    {
        *("vehicle", "workshop", "choices", "open_groups", "preferences", "must_keep", "wishes"),
        *("component", "facts", "ledger", "weights", "ranges", "charging", "electrical"),
        *("performance", "plan", "texts", "country_rules", "verdict", "part", "part_id"),
    }
)
"""From the catalog or computed: a customer called Green does not take the green out of a paint."""
LONGEST_SHORT_TEXT = 200
SHORTEST_CONTACT = 5
"""A contact shorter than this may stand in any sentence."""


def personal_words(content: dict[str, Any]) -> tuple[str, ...]:
    """Find a customer's name, contact and the parts of the name in a build, the longest first.

    Examples
    --------
    >>> personal_words({"customer": {"name": "Ann de Sample", "contact": "at the mill"}})
    ('Ann de Sample', 'at the mill', 'Sample', 'Ann')
    """
    customer = content.get("customer", {})
    name, contact = (str(customer.get(field, "")).strip() for field in ("name", "contact"))
    parts = [part for part in name.split() if len(part) > 2 and part[0].isupper()]
    words = {word for word in (name, contact, *parts) if word and word != REMOVED}
    return tuple(sorted(words, key=lambda word: (-len(word), word)))


def names_customer(texts: Iterable[str], content: dict[str, Any]) -> bool:
    """Tell whether a text names the customer of a build: whole name, family name or contact.

    Examples
    --------
    >>> ann = {"customer": {"name": "Ann Sample", "contact": "01234 567"}}
    >>> names_customer(["signed by ann  sample"], ann), names_customer(["Mrs Sample signed"], ann)
    (True, True)
    >>> by_phone = {"customer": {"name": "Ann Sample", "contact": "phone"}}
    >>> names_customer(["ring 01234 567"], ann), names_customer(["agreed by phone"], by_phone)
    (True, False)
    >>> names_customer(["a sample of paint, scanned", "Ann is our engineer"], ann)
    False
    """
    customer = content.get("customer", {})
    name, contact = (str(customer.get(field, "")).strip() for field in ("name", "contact"))
    family = [part for part in name.split()[1:][-1:] if len(part) > 2 and part[0].isupper()]
    words = [word for word in (name, *family) if len(word) > 2 and word != REMOVED]
    words += [contact] if _is_found_by(contact) else []
    patterns = [_pattern(word) for word in words]
    return any(pattern.search(text) for text in texts for pattern in patterns)


def _is_found_by(contact: str) -> bool:
    """Tell a number, an e-mail or a place from a common word, such as “phone”."""
    is_telling = len(contact.split()) > 1 or any(sign in "@0123456789" for sign in contact)
    return is_telling and len(contact) >= SHORTEST_CONTACT


def without_person(content: Any, words: Iterable[str], field: str = "") -> Any:
    """Take a person's words out of content, wherever a person may have typed them.

    Parameters
    ----------
    content : JSON value
        A build, a spec, the steps of a change.
    words : iterable of str
        The customer's name, its parts, and contact.
    field : str
        That holds the content.

    Returns
    -------
    JSON value
        The same, with the customer's own fields, the notes and every mention of the words replaced.
        It still reads as what it was: ids, values and what the catalog says stay.

    Examples
    --------
    >>> without_person({"notes": "Tea", "customer": {"name": "Ann", "contact": ""}}, ["Ann"])
    {'notes': '', 'customer': {'name': '(removed)', 'contact': ''}}
    >>> without_person(["For Ann Example’s van"], ["Ann Example"])
    ['For (removed)’s van']
    >>> without_person({"by": "Ann Smith", "note": "Ann said"}, ["Ann Example", "Ann"])
    {'by': 'Ann Smith', 'note': '(removed) said'}
    >>> without_person({"verdict": "keep", "note": "As Keep said, keep it"}, ["Keep"])
    {'verdict': 'keep', 'note': 'As (removed) said, keep it'}
    """
    return _without(content, tuple(words), field)


def _without(content: Any, words: Sequence[str], field: str) -> Any:
    if field in NOT_TYPED:
        return content
    if isinstance(content, dict):
        return {
            key: _without(value, words, _meant(key, content, field))
            for key, value in _own_fields_removed(content).items()
        }
    if isinstance(content, list):
        return [_without(item, words, field) for item in content]
    return _text(content, words, field) if isinstance(content, str) else content


def _meant(key: str, content: dict[str, Any], field: str) -> str:
    """Tell whose words a value holds: a discount's line is called by the reason somebody typed."""
    if field in TYPED:
        return field
    return "reason" if key == "label" and content.get("kind") == "discount" else key


def _own_fields_removed(content: dict[str, Any]) -> dict[str, Any]:
    new = dict(content)
    if isinstance(new.get("customer"), dict):
        new["customer"] = {**new["customer"], "name": REMOVED, "contact": ""}
    if isinstance(new.get("notes"), str):
        new["notes"] = ""
    return new


def _text(text: str, words: Sequence[str], field: str) -> str:
    left = text
    for word in words:
        # Who measured may share a first name with the customer, and stays on record.
        if field == "by" and len(word.split()) == 1 and word.casefold() != text.casefold():
            continue
        # Elsewhere a single word means nothing; several together are hardly somebody else.
        if field in TYPED or len(word.split()) > 1:
            left = _pattern(word).sub(REMOVED, left)
    return left if left == text else left[: max(len(text), LONGEST_SHORT_TEXT)].rstrip()


def _pattern(word: str) -> re.Pattern[str]:
    parts = word.split()
    if len(parts) > 1:
        said = r"\s+".join(re.escape(part) for part in parts)
        return re.compile(rf"(?<!\w){said}(?!\w)", re.IGNORECASE)
    # As a name is written: “green” in a note is a colour, “Green” may be the customer.
    forms = sorted({word, word.capitalize(), word.upper()})
    return re.compile(rf"(?<!\w)(?:{'|'.join(re.escape(form) for form in forms)})(?!\w)")
