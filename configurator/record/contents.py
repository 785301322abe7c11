"""Keep bytes, packed, under the SHA-256 of what they are: specs as JSON, catalogs as files."""

from __future__ import annotations

import hashlib
import zlib
from typing import Literal

from sqlalchemy.orm import Session

from configurator.errors import Fault, RecordError
from configurator.record.database import Record, reading
from configurator.record.tables import ContentRow

ContentKind = Literal["spec", "catalog"]


def keep_content(session: Session, what: ContentKind, content: bytes) -> str:
    """Keep bytes inside a transaction; the same bytes are kept once.

    Returns
    -------
    str
        The SHA-256 they are found under.
    """
    sha256 = hashlib.sha256(content).hexdigest()
    if session.get(ContentRow, sha256) is None:
        session.add(ContentRow(sha256=sha256, what=what, content=zlib.compress(content)))
        session.flush()
    return sha256


def find_content(record: Record, sha256: str) -> bytes:
    """Read what is kept under a hash, exactly as it was.

    Raises
    ------
    RecordError
        If nothing is kept under it, or what is kept was altered.
    """
    with reading(record) as session:
        row = session.get(ContentRow, sha256)
        packed = None if row is None else row.content
    if packed is None:
        raise RecordError([_lost(record.where, sha256, "is not in this record")])
    content = unpacked(packed)
    if content is None or hashlib.sha256(content).hexdigest() != sha256:
        raise RecordError([_lost(record.where, sha256, "was altered since it was kept")])
    return content


def unpacked(packed: bytes) -> bytes | None:
    """Unpack bytes as they lie in the record; None for damaged ones.

    Examples
    --------
    >>> unpacked(zlib.compress(b"a spec")), unpacked(b"nonsense")
    (b'a spec', None)
    """
    try:
        return zlib.decompress(packed)
    except zlib.error:
        return None


def _lost(where: str, sha256: str, what: str) -> Fault:
    return Fault(
        "R012",
        where,
        f"the content {sha256[:12]} {what}",
        "Run `configurator verify` to see what else is concerned, and restore a backup.",
    )
