"""Keys of forms."""

from __future__ import annotations

import hashlib


def form_mark(kept: object) -> str:
    """Mark what a form shows at first: with a key of it, the form shows anew when that changes.

    Examples
    --------
    >>> form_mark(("B-0001", None)) == form_mark(("B-0001", None)) != form_mark(("B-0002", None))
    True
    """
    return hashlib.sha256(repr(kept).encode()).hexdigest()[:12]
