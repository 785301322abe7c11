"""One hash for all files of a catalog."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping

_LENGTH_BYTES = 8


def catalog_sha256(content_by_path: Mapping[str, bytes]) -> str:
    """Hash the files of a catalog, in the order of their paths.

    Path and content are each preceded by their length, so that no two catalogs run together to
    the same bytes.

    Parameters
    ----------
    content_by_path : mapping of str to bytes
        Path inside the catalog folder, with forward slashes → content.

    Returns
    -------
    str
        SHA-256 in hexadecimal.

    Examples
    --------
    >>> catalog_sha256({"a": b"1"}) == catalog_sha256({"a": b"2"})
    False
    """
    return hashlib.sha256(framed(content_by_path)).hexdigest()


def framed(content_by_path: Mapping[str, bytes]) -> bytes:
    """Write the files of a catalog as one run of bytes, whose SHA-256 is the catalog's.

    Examples
    --------
    >>> unframed(framed({"b": b"2", "a": b"1"}))
    {'a': b'1', 'b': b'2'}
    """
    parts: list[bytes] = []
    for path, content in sorted(content_by_path.items()):
        for part in (path.encode(), content):
            parts += [len(part).to_bytes(_LENGTH_BYTES, "big"), part]
    return b"".join(parts)


def unframed(run: bytes) -> dict[str, bytes]:
    """Read the files of a catalog from one run of bytes, as `framed` wrote it."""
    parts: list[bytes] = []
    place = 0
    while place < len(run):
        start = place + _LENGTH_BYTES
        place = start + int.from_bytes(run[place:start], "big")
        parts.append(run[start:place])
    return {path.decode(): content for path, content in zip(parts[::2], parts[1::2], strict=True)}
