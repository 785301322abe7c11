"""One hash for all files of a catalog."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping


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
    digest = hashlib.sha256()
    for path, content in sorted(content_by_path.items()):
        for part in (path.encode(), content):
            digest.update(len(part).to_bytes(8, "big"))
            digest.update(part)
    return digest.hexdigest()
