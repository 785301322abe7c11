"""The spec that a document carries inside."""

from __future__ import annotations

from io import BytesIO

from pypdf import PdfReader
from pypdf.errors import PyPdfError

EMBEDDED_NAME = "spec.json"


def embedded_spec(pdf: bytes) -> bytes | None:
    """Take out the spec's JSON as it was embedded.

    Parameters
    ----------
    pdf : bytes
        A document of this tool, or anything else.

    Returns
    -------
    bytes or None
        None if it is no PDF, or carries none.

    Examples
    --------
    >>> embedded_spec(b"no PDF at all") is None
    True
    """
    try:
        found = PdfReader(BytesIO(pdf)).attachments.get(EMBEDDED_NAME, [])
    except (PyPdfError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        # Anything may come as a file; the reader stumbles in many ways over what is no PDF.
        return None
    return found[0] if found else None
