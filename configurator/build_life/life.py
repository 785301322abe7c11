"""The life of one build, read from the entries of its book."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TypeVar

from configurator.build_life.entries import (
    AsBuiltRecorded,
    Body,
    ChangeOrdered,
    ChangeSigned,
    ChangeWithdrawn,
    Closed,
    Erased,
    HandedOver,
    OwnerTold,
    PackIssued,
    QuotationAccepted,
    Quoted,
    RevisionGiven,
    SignedOff,
    SignOffVoided,
    SpecIssued,
    StageReached,
)
from configurator.build_life.people import Person

Wanted = TypeVar("Wanted", bound=Body)


@dataclass(frozen=True)
class Entry:
    """One entry of a build's book, as it lies in the record."""

    number: int
    """Its place in the chain of the whole record."""
    body: Body
    by: Person
    made_at: datetime
    sha256: str
    """Hash of the entry with all before it."""


@dataclass(frozen=True)
class Life:
    """The entries of one build, oldest first, with what they say together."""

    entries: tuple[Entry, ...]

    def of(self, kind: type[Wanted]) -> tuple[Wanted, ...]:
        """List the bodies of one kind, oldest first."""
        return tuple(entry.body for entry in self.entries if isinstance(entry.body, kind))

    def entry_of(self, body: Body) -> Entry:
        """Find the entry that holds a body of this life."""
        return next(entry for entry in self.entries if entry.body is body)

    @property
    def quotation(self) -> Quoted | None:
        """The last one given."""
        return _last(self.of(Quoted))

    @property
    def accepted(self) -> QuotationAccepted | None:
        """The quotation that became the order."""
        return _last(self.of(QuotationAccepted))

    @property
    def issued(self) -> SpecIssued | None:
        """The issued spec that counts: the last letter."""
        return _last(self.of(SpecIssued))

    @property
    def holding_sign_offs(self) -> tuple[SignedOff, ...]:
        """The sign-offs that hold for the last letter, made on it or before and not voided."""
        voided = {(void.letter, void.sign_off) for void in self.of(SignOffVoided)}
        return tuple(
            signed
            for signed in self.of(SignedOff)
            if (signed.letter, signed.sign_off) not in voided
        )

    @property
    def stage(self) -> StageReached | None:
        """The last stage reached; None before the order."""
        return _last(self.of(StageReached))

    @property
    def open_change(self) -> ChangeOrdered | None:
        """The change order that is neither signed by both nor withdrawn."""
        withdrawn = {gone.number for gone in self.of(ChangeWithdrawn)}
        orders = [order for order in self.of(ChangeOrdered) if order.number not in withdrawn]
        return next((order for order in orders if len(self.signatures(order.number)) < 2), None)

    def signatures(self, number: int) -> tuple[ChangeSigned, ...]:
        """List the signatures under a change order."""
        return tuple(signed for signed in self.of(ChangeSigned) if signed.number == number)

    @property
    def records(self) -> tuple[AsBuiltRecorded, ...]:
        """The as-built records that count: for each record and slot the last."""
        last: dict[tuple[str, str | None], AsBuiltRecorded] = {}
        for made in self.of(AsBuiltRecorded):
            last[made.record, made.slot] = made
        return tuple(last.values())

    def kept_under(self, sha256: str) -> str | None:
        """Tell under which hash something is kept now; None where it was removed with a person."""
        moved: dict[str, str | None] = {}
        for erased in self.of(Erased):
            moved |= erased.contents
        found: str | None = sha256
        while found in moved:
            found = moved[found]
        return found

    @property
    def pack(self) -> PackIssued | None:
        """The last issued handover pack."""
        return _last(self.of(PackIssued))

    @property
    def handed_over(self) -> HandedOver | None:
        """When the vehicle went to its owner."""
        return _last(self.of(HandedOver))

    @property
    def corrections(self) -> tuple[Entry, ...]:
        """List the records altered after the handover that no issued pack tells the owner yet."""
        handed_over, pack = self.handed_over, self.pack
        if handed_over is None or pack is None:
            return ()
        since = max(self.entry_of(handed_over).number, self.entry_of(pack).number)
        return tuple(
            entry
            for entry in self.entries
            if entry.number > since and isinstance(entry.body, AsBuiltRecorded)
        )

    @property
    def revision_to_give(self) -> PackIssued | None:
        """The last revision of the pack, where the owner has an earlier one; None if erased."""
        handed_over, pack = self.handed_over, self.pack
        if handed_over is None or pack is None:
            return None
        if self.kept_under(pack.document_sha256) is None:
            return None
        has = [handed_over.pack_revision, *(given.revision for given in self.of(RevisionGiven))]
        return None if pack.revision <= max(has) else pack

    @property
    def owner_knows(self) -> bool:
        """Whether the owner was told since a record was altered last after the handover."""
        corrections, told = self.corrections, self.of(OwnerTold)
        if not corrections or not told:
            return False
        return self.entry_of(told[-1]).number > corrections[-1].number

    @property
    def closed(self) -> Closed | None:
        """Why it came to nothing."""
        return _last(self.of(Closed))

    @property
    def is_over(self) -> bool:
        """Whether the vehicle went to its owner, or the build came to nothing."""
        return self.handed_over is not None or self.closed is not None


def next_letter(letter: str | None) -> str:
    """Name the letter after one: A to Z, then AA, AB and so on.

    Examples
    --------
    >>> next_letter(None), next_letter("A"), next_letter("Z"), next_letter("AZ")
    ('A', 'B', 'AA', 'BA')
    """
    if not letter:
        return "A"
    kept, last = letter[:-1], letter[-1]
    if last < "Z":
        return kept + chr(ord(last) + 1)
    return next_letter(kept or None) + "A"


def _last(found: Sequence[Wanted]) -> Wanted | None:
    return found[-1] if found else None
