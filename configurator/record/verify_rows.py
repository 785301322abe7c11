"""Rows as they are read for verifying: byte for byte, and what belongs to what."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from configurator.errors import Fault

COMPARE = "Keep the record as it is for evidence; restore a backup elsewhere and compare."


@dataclass(frozen=True)
class RawRow:
    """A row byte for byte."""

    table: str
    key_column: str
    values: Mapping[str, bytes | None]

    @property
    def key(self) -> str:
        """What names it in its table."""
        return self.text(self.key_column)

    def text(self, column: str) -> str:
        """Read a value, whatever was done to it."""
        return (self.values[column] or b"").decode("utf-8", "backslashreplace")

    def number(self, column: str) -> int | None:
        """Read a whole number; None for what is none any more."""
        try:
            return int(self.text(column))
        except ValueError:
            return None


@dataclass
class Found:
    """What was read so far."""

    references: dict[int, str] = field(default_factory=dict)
    """Id of a build → its reference."""
    draft_revisions: dict[int, int | None] = field(default_factory=dict)
    change_revisions: dict[int, list[int | None]] = field(default_factory=dict)
    documents: list[RawRow] = field(default_factory=list)
    strays: list[Fault] = field(default_factory=list)
    account_ids: set[int | None] = field(default_factory=set)

    @property
    def document_hashes(self) -> set[str]:
        """Hashes of all documents noted."""
        return {row.text("sha256") for row in self.documents}

    def name_of(self, row: RawRow) -> str:
        """Name the build that a row belongs to; empty for a row of none."""
        if row.table == "builds":
            return row.text("reference")
        if "build_id" not in row.values:
            return ""
        return self.references.get(row.number("build_id") or 0, "an unknown build")

    def take(self, row: RawRow) -> None:
        """Take in a row; builds come before what belongs to them, accounts before sign-ins."""
        if "build_id" in row.values:
            self._take_of_build(row, row.number("build_id"))
        elif row.table == "builds":
            self.references[row.number("id") or 0] = row.text("reference")
        elif row.table == "accounts":
            self.account_ids.add(row.number("id"))
        elif row.table == "sign_ins" and row.number("account_id") not in self.account_ids:
            self.strays.append(missing(row, "", "the account it belongs to is not there"))

    def _take_of_build(self, row: RawRow, build_id: int | None) -> None:
        if build_id is None or build_id not in self.references:
            self.strays.append(missing(row, "", "the build it belongs to is not there"))
        elif row.table == "drafts":
            self.draft_revisions[build_id] = row.number("revision")
        elif row.table == "changes":
            self.change_revisions.setdefault(build_id, []).append(row.number("revision"))
        if row.table == "documents":
            self.documents.append(row)


def placed(table: str, key: str, reference: str = "") -> str:
    """Name a row.

    Examples
    --------
    >>> placed("changes", "12", "B-0007")
    'B-0007, table changes, row 12'
    """
    row = f"table {table}, row {key[:64]}"
    return f"{reference}, {row}" if reference else row


def altered(row: RawRow, reference: str) -> Fault:
    """Say that a row is not as it was saved."""
    what = "its values are not those that were saved: something other than the tool altered it"
    return Fault("R014", placed(row.table, row.key, reference), what, COMPARE)


def missing(row: RawRow, reference: str, what: str) -> Fault:
    """Say that something a row needs is not there."""
    return Fault("R017", placed(row.table, row.key, reference), what, COMPARE)


def belonging_faults(found: Found) -> list[Fault]:
    """Find builds without draft, and drafts whose changes are not all there."""
    faults = list(found.strays)
    for build_id, reference in found.references.items():
        where = placed("drafts", str(build_id), reference)
        if build_id not in found.draft_revisions:
            faults.append(Fault("R017", where, "the build has no draft any more", COMPARE))
            continue
        there = {number for number in found.change_revisions.get(build_id, []) if number}
        last = found.draft_revisions[build_id] or 0
        lost = sorted(set(range(1, last + 1)) - there)
        if lost or there - set(range(1, last + 1)):
            listed = ", ".join(map(str, lost[:5])) or "none"
            what = (
                f"the draft is at revision {last} and its changes lead to {max(there, default=0)}; "
                f"missing between: {listed}"
            )
            faults.append(Fault("R017", placed("changes", "-", reference), what, COMPARE))
    return faults
