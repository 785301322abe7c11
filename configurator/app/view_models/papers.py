"""The papers of a build, as the screen shows them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from configurator.app.view_models.words import moment
from configurator.build_life.entries import (
    ChangeOrdered,
    ChangeWithdrawn,
    PackIssued,
    QuotationAccepted,
    Quoted,
    SpecIssued,
)
from configurator.build_life.life import Life
from configurator.build_spec.sentences import still_open
from configurator.build_spec.spec import Spec
from configurator.workflow.stored_document import StoredDocument

KIND_WORDS = {
    "spec-sheet": "Spec sheet",
    "handover-pack": "Draft handover pack",
    "calculation-sheet": "Calculation sheet for the workshop",
    "quotation": "Quotation",
    "change-order": "Change order",
    "issued-pack": "Handover pack, issued",
    "sign-off-record": "Sign-off record for the workshop",
}


OF_NOW = frozenset({"spec-sheet", "handover-pack", "calculation-sheet"})
"""Kinds that tell of the choices as they are; the others hold what was agreed on their day."""

CURRENT = "Of what is chosen now."
OUT_OF_DATE = "Out of date: what is chosen, measured or priced has changed since. Make it anew."
OVERTAKEN = "The issued pack took its place."
TAKEN = "Spec {letter} took its place."
ACCEPTED = "Accepted by the customer."
SIGNED = "Signed by both."
REPLACED = "Out of date: a later one of the same spec stands above."


@dataclass(frozen=True)
class PaperLine:
    """A paper that was made."""

    name: str
    made: str
    mark: str
    """First digits of the SHA-256 of the spec it was made from, as in its file name."""
    document: StoredDocument
    standing: str
    """Whether it is of the choices as they are now; empty where it need not be."""

    @property
    def is_out_of_date(self) -> bool:
        """Whether it is to be made anew."""
        return self.standing in {OUT_OF_DATE, REPLACED}


def paper_lines(
    documents: Iterable[StoredDocument], spec_sha256: str | None, life: Life
) -> tuple[PaperLine, ...]:
    """List what was made, the newest first.

    Parameters
    ----------
    documents : iterable of StoredDocument
        All of one build.
    spec_sha256 : str or None
        Of the spec as it is now; None where it cannot be told.
    life : Life
        Which quotations, letters, changes and revisions there are.
    """
    newest_first = sorted(documents, key=lambda document: document.made_at, reverse=True)
    seen: set[tuple[str, str]] = set()
    lines = []
    for document in newest_first:
        key = document.kind, document.spec_sha256
        is_replaced = document.kind in OF_NOW and key in seen
        seen.add(key)
        lines.append(
            PaperLine(
                name=_name(document, life),
                made=f"{moment(document.made_at)} UTC",
                mark=document.spec_sha256[:8],
                document=document,
                standing=REPLACED if is_replaced else _standing(document, spec_sha256, life),
            )
        )
    return tuple(lines)


def _name(document: StoredDocument, life: Life) -> str:
    """Name a paper as people do: Q1, C1, revision 2, or of which issued spec it is."""
    told = KIND_WORDS.get(document.kind, document.name)
    numbers = {
        **{found.document_sha256: f" Q{found.number}" for found in life.of(Quoted)},
        **{found.document_sha256: f" C{found.number}" for found in life.of(ChangeOrdered)},
        **{found.document_sha256: f", revision {found.revision}" for found in life.of(PackIssued)},
    }
    letters = {found.spec_sha256: f", spec {found.letter}" for found in life.of(SpecIssued)}
    of_spec = letters.get(document.spec_sha256, "")
    return f"{told}{numbers.get(document.sha256, of_spec)}"


def _standing(document: StoredDocument, spec_sha256: str | None, life: Life) -> str:
    if document.kind not in OF_NOW:
        return _standing_of_agreed(life).get(document.sha256, "")
    if document.kind == "handover-pack" and life.pack is not None:
        return OVERTAKEN
    letters = {issued.spec_sha256: issued.letter for issued in life.of(SpecIssued)}
    if life.issued is not None and document.spec_sha256 in letters:
        letter, last = letters[document.spec_sha256], life.issued.letter
        return f"Of spec {last}, which counts." if letter == last else TAKEN.format(letter=last)
    return CURRENT if document.spec_sha256 == spec_sha256 else OUT_OF_DATE


def _standing_of_agreed(life: Life) -> dict[str, str]:
    """Tell what came of quotations, change orders and packs, by the hash of the paper."""
    last, pack = life.quotation, life.pack
    told = {
        quoted.document_sha256: f"Q{last.number} took its place."
        for quoted in life.of(Quoted)
        if last is not None and quoted.number != last.number
    }
    accepted = {accepted.number for accepted in life.of(QuotationAccepted)}
    told |= {q.document_sha256: ACCEPTED for q in life.of(Quoted) if q.number in accepted}
    why = {gone.number: gone.because.rstrip(".") for gone in life.of(ChangeWithdrawn)}
    orders = {order.number: order.document_sha256 for order in life.of(ChangeOrdered)}
    told |= dict.fromkeys(orders.values(), SIGNED)
    told |= {orders[number]: f"Withdrawn: {because}." for number, because in why.items()}
    if life.open_change is not None:
        told[life.open_change.document_sha256] = "Waits for a signature."
    for issued in life.of(PackIssued):
        if pack is not None and issued.revision != pack.revision:
            told[issued.document_sha256] = f"Revision {pack.revision} took its place."
    return told


def why_no_pack(spec: Spec) -> str:
    """Say what keeps the handover pack from being made; empty when nothing does."""
    names = [group.group_label for group in spec.open_groups]
    if not names:
        return ""
    return (
        f"The handover pack describes one finished vehicle, so every choice must be made first. "
        f"{still_open(names)}"
    )
