"""Sign off an issued spec."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal

from configurator.build_life.customers_order import how_it_was_ordered
from configurator.build_life.due_payments import applied_changes
from configurator.build_life.entries import Body, SignedOff, SpecIssued
from configurator.build_life.life import Entry, Life
from configurator.build_life.people import Person
from configurator.build_life.sign_off_state import (
    SignOffState,
    is_preparer,
    leaves_only_the_preparer,
    sign_off_states,
    why_not_signed,
)
from configurator.build_spec.days import day_in_words
from configurator.build_spec.spec import Spec
from configurator.catalog.did_you_mean import did_you_mean
from configurator.catalog.models.workshop import SignOff
from configurator.documents.figures import pounds, pounds_span
from configurator.documents.sign_off_record import sign_off_record_pdf
from configurator.documents.spec_sheet import ISSUED_AS, spec_sheet_pdf
from configurator.errors import Fault, LifeError
from configurator.record.book import read_life, write_entries
from configurator.workflow.issuing import issued_spec
from configurator.workflow.papers import SPEC_SHEET, keep_document
from configurator.workflow.premises import Premises
from configurator.workflow.sign_offs_asked import sign_offs_asked
from configurator.workflow.stored_document import StoredDocument
from configurator.workflow.typed_words import LONGEST_NOTE, refuse_too_long

SIGN_OFF_RECORD = "sign-off-record"


def how_sign_offs_stand(
    premises: Premises, reference: str
) -> tuple[tuple[SignOffState, ...], tuple[str, ...]]:
    """Tell how each sign-off stands for the last letter, and what is still missing, in words."""
    life = read_life(premises.record, reference)
    wanted = sign_offs_asked(premises, life)
    return sign_off_states(life, wanted), why_not_signed(life, wanted)


def sign(
    premises: Premises,
    reference: str,
    sign_off_id: str,
    *,
    spec_sha256: str,
    note: str = "",
    by: Person,
    now: datetime,
) -> Entry:
    """Put a person's name under their part of the issued spec.

    Parameters
    ----------
    premises : Premises
        Where the record is.
    reference : str
        Of the build.
    sign_off_id : str
        Which of the workshop's sign-offs.
    spec_sha256 : str
        Of the issued spec that the person read.
    note : str
        What they want to add.
    by : Person
        Who signs, in the role they wear.
    now : datetime
        Aware, UTC.

    Raises
    ------
    LifeError
        If the role is another's, the spec is not the one that counts, it is signed already, or
        only who prepared the spec would have signed.
    OvertakenError
        If somebody else signed it a moment before.
    """
    asked = sign_offs_asked(premises, read_life(premises.record, reference))
    sign_off = _known(asked, sign_off_id)
    refuse_too_long(sign_off.label, note, LONGEST_NOTE)

    def bodies(life: Life) -> Sequence[Body]:
        _refuse_preparer(life, asked, sign_off, by)
        return (_signed(life, sign_off, spec_sha256, note.strip(), by),)

    (entry,) = write_entries(premises.record, reference, bodies, by=by, now=now)
    return entry


def issued_sheet(premises: Premises, reference: str, now: datetime) -> StoredDocument:
    """Make and keep the spec sheet of the issued spec, with what came of it since.

    It is read before it is signed, and later tells what was promised.

    Raises
    ------
    LifeError
        If no spec is issued yet.
    DocumentError
        If it cannot be made or stored.
    """
    spec, life, issued = _issued_now(premises, reference)
    told = f"{ISSUED_AS} {issued.letter}. {how_it_was_ordered(life, issued)}{_since(life, spec)}"
    stem = f"{reference}-{SPEC_SHEET}-{issued.letter}"
    return keep_document(premises, spec, SPEC_SHEET, spec_sheet_pdf(spec, told), now=now, stem=stem)


def make_sign_off_record(premises: Premises, reference: str, now: datetime) -> StoredDocument:
    """Make and keep the sign-off record of the issued spec, as it stands now.

    Raises
    ------
    LifeError
        If no spec is issued yet.
    DocumentError
        If it cannot be made or stored.
    """
    spec, life, issued = _issued_now(premises, reference)
    pdf = sign_off_record_pdf(spec, life, sign_offs_asked(premises, life))
    stem = f"{reference}-{SIGN_OFF_RECORD}-{issued.letter}"
    return keep_document(premises, spec, SIGN_OFF_RECORD, pdf, now=now, stem=stem)


def _since(life: Life, spec: Spec) -> str:
    """Say what the price leaves out, and where what was measured stands."""
    late_gbp = sum((order.late_change_gbp for order in applied_changes(life)), Decimal(0))
    told = ""
    if late_gbp:
        low, high = spec.price.total_low_gbp + late_gbp, spec.price.total_high_gbp + late_gbp
        told += (
            f" Its price leaves out what changes cost for being late, {pounds(late_gbp)}; "
            f"with that the vehicle costs {pounds_span(low, high)}."
        )
    if life.handed_over is not None:
        on, revision = day_in_words(life.handed_over.handed_over_on), life.handed_over.pack_revision
        told += (
            f" The vehicle was handed over on {on} with revision {revision} of its pack: what was "
            "measured on it stands there; the figures here were computed before."
        )
    return told


def _issued_now(premises: Premises, reference: str) -> tuple[Spec, Life, SpecIssued]:
    life = read_life(premises.record, reference)
    spec = issued_spec(premises, reference, life.issued.letter if life.issued else None)
    return spec, life, life.of(SpecIssued)[-1]


def _refuse_preparer(
    life: Life, sign_offs: Sequence[SignOff], sign_off: SignOff, by: Person
) -> None:
    if by.is_solo:
        return
    is_second = sign_off.role == "second-person" and is_preparer(life, by)
    if is_second or leaves_only_the_preparer(life, sign_offs, by):
        what = f"{by.name} prepared the spec, and somebody else must read and sign it too"
        raise LifeError([Fault("P084", sign_off.label, what, "Let another person sign this one.")])


def _signed(life: Life, sign_off: SignOff, spec_sha256: str, note: str, by: Person) -> SignedOff:
    issued = life.issued
    faults = []
    if by.role != sign_off.role and not by.is_solo:
        what = f"it is signed by a {sign_off.role.replace('-', ' ')}, not by {by.in_words}"
        faults.append(Fault("P085", sign_off.label, what, "Let the right person sign."))
    if issued is None or issued.spec_sha256 != spec_sha256:
        letter = f"spec {issued.letter}" if issued else "no spec"
        what = f"what you read is not what counts now: {letter} does"
        faults.append(Fault("P086", sign_off.label, what, "Read the spec as it is now, then sign."))
    holding = {signed.sign_off: signed for signed in life.holding_sign_offs}
    if sign_off.id in holding:
        name = life.entry_of(holding[sign_off.id]).by.name
        what = f"{name} has signed it, and that holds"
        faults.append(Fault("P087", sign_off.label, what, "There is nothing left to sign here."))
    if faults or issued is None:
        raise LifeError(faults)
    return SignedOff(
        letter=issued.letter,
        sign_off=sign_off.id,
        spec_sha256=issued.spec_sha256,
        section_sha256={name: issued.section_sha256[name] for name in sign_off.covers},
        note=note,
    )


def _known(sign_offs: Sequence[SignOff], wanted: str) -> SignOff:
    for sign_off in sign_offs:
        if sign_off.id == wanted:
            return sign_off
    remedy = did_you_mean(wanted, [sign_off.id for sign_off in sign_offs])
    what = f'the workshop has no sign-off "{wanted[:60]}"'
    raise LifeError([Fault("P088", "Sign-off", what, remedy)])
