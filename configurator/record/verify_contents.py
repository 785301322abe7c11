"""Whether what is kept is what its hash says, and everything that an entry names is there."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Mapping, Set

from configurator.errors import Fault
from configurator.record.contents import unpacked
from configurator.record.verify_book import DOCUMENT, Pointer
from configurator.record.verify_rows import COMPARE, RawRow, placed


def contents_by_hash(rows: Iterable[RawRow], faults: list[Fault]) -> dict[str, str]:
    """Unpack and hash each content; gives hash → what it is.

    Parameters
    ----------
    rows : iterable of RawRow
        Of the contents; each is let go before the next is read.
    faults : list of Fault
        Added to.
    """
    kept = {}
    for row in rows:
        kept[row.key] = row.text("what")
        content = unpacked(row.values["content"] or b"")
        if content is None or hashlib.sha256(content).hexdigest() != row.key:
            what = "what is kept is not what its hash says"
            faults.append(Fault("R012", placed("contents", row.key), what, COMPARE))
    return kept


def pointer_faults(
    pointers: Iterable[Pointer], kept: Mapping[str, str], documents: Set[str], erased: Set[str]
) -> Iterator[Fault]:
    """Find hashes that entries name and that nothing is kept under, unless it was erased."""
    for pointer in pointers:
        if pointer.sha256 in erased:
            continue
        there = documents if pointer.to == DOCUMENT else kept.keys()
        short = f"{pointer.to} {pointer.sha256[:12]}"
        if pointer.sha256 not in there:
            what = f"the {short} that it names is not kept"
            yield Fault("R012", pointer.where, what, COMPARE)
        elif pointer.to != DOCUMENT and kept[pointer.sha256] != pointer.to:
            what = f"the {short} that it names is kept as {kept[pointer.sha256][:20]}"
            yield Fault("R012", pointer.where, what, COMPARE)
