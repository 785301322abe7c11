"""What can be written in a build's book: each entry is added once and never altered.

No entry holds a customer's name or words: those stand in the contents an entry points to by hash,
and in the draft, where they can be erased.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field, StringConstraints, TypeAdapter

from configurator.catalog.models.as_built import RecordId
from configurator.catalog.models.component import Slot
from configurator.catalog.models.data import Data, Identifier

Sha256 = Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{64}$")]
Letter = Annotated[str, StringConstraints(pattern=r"^[A-Z]{1,2}$")]
Reason = Annotated[str, StringConstraints(min_length=3, max_length=1000, strip_whitespace=True)]
Told = Annotated[str, StringConstraints(max_length=20_000)]
ShortText = Annotated[str, StringConstraints(max_length=200, strip_whitespace=True)]


class Quoted(Data):
    """A quotation was given, for one exact spec."""

    kind: Literal["quoted"] = "quoted"
    number: int = Field(ge=1)
    """Q1, Q2 … of this build."""
    spec_sha256: Sha256
    """The spec's JSON is kept under this hash."""
    catalog_sha256: Sha256
    revision: int
    """Of the draft."""
    valid_until: date
    total_gbp: Decimal
    document_sha256: Sha256
    renews: int | None = None
    """The number of the quotation that it takes the place of."""


class QuotationAccepted(Data):
    """The customer accepted a quotation; it freezes spec A."""

    kind: Literal["quotation-accepted"] = "quotation-accepted"
    number: int
    letter: Letter
    spec_sha256: Sha256
    accepted_on: date
    how: Reason
    """On paper, by letter: where the customer's signature is found; no names."""


class WarningAnswered(Data):
    """Why the workshop goes on although a check warns; written by an engineer."""

    code: ShortText
    subject: ShortText
    reason: Reason


class OpenChoice(Data):
    """A choice still open in an issued spec, with the stage that closes it."""

    group_id: Identifier
    closes_at: Identifier
    label: ShortText = ""
    """Of the group; empty in an entry of an older version."""


class SpecIssued(Data):
    """A spec was frozen under a letter."""

    kind: Literal["spec-issued"] = "spec-issued"
    letter: Letter
    spec_sha256: Sha256
    catalog_sha256: Sha256
    revision: int
    """Of the draft it was made from."""
    section_sha256: dict[ShortText, Sha256]
    """Section of the spec → hash of its content; tells what a later letter changed."""
    total_gbp: Decimal
    answered: tuple[WarningAnswered, ...] = ()
    open_choices: tuple[OpenChoice, ...] = ()
    because: ShortText = ""
    """Why it took the place of the letter before."""
    not_ordered_because: ShortText = ""
    """Why it is issued although the customer has not accepted a quotation that was given."""


class SignedOff(Data):
    """A person answers for their part of one exact spec."""

    kind: Literal["signed-off"] = "signed-off"
    letter: Letter
    sign_off: Identifier
    """Which of the workshop's sign-offs."""
    spec_sha256: Sha256
    section_sha256: dict[ShortText, Sha256]
    """Of the sections that this sign-off covers."""
    note: ShortText = ""


class SignOffVoided(Data):
    """A sign-off no longer holds, because what it covered was changed by a new letter."""

    kind: Literal["sign-off-voided"] = "sign-off-voided"
    letter: Letter
    """The letter that was signed."""
    by_letter: Letter
    sign_off: Identifier
    sections: tuple[ShortText, ...] = Field(min_length=1)
    """Covered sections that differ."""


class StageReached(Data):
    """The build reached a stage; its payment falls due."""

    kind: Literal["stage-reached"] = "stage-reached"
    stage_id: Identifier
    reached_on: date
    letter: Letter


class ChangeOrdered(Data):
    """A change order was written: from one issued spec to a proposed one."""

    kind: Literal["change-ordered"] = "change-ordered"
    number: int = Field(ge=1)
    """C1, C2 … of this build."""
    from_letter: Letter
    from_sha256: Sha256
    to_sha256: Sha256
    """The proposed spec's JSON is kept under this hash."""
    catalog_sha256: Sha256
    revision: int
    stage_id: Identifier
    """The stage the vehicle is in."""
    price_change_gbp: Decimal
    """Of the lines, without the late-change cost."""
    late_change_gbp: Decimal
    document_sha256: Sha256
    answered: tuple[WarningAnswered, ...] = ()


class ChangeSigned(Data):
    """One of the two signatures under a change order."""

    kind: Literal["change-signed"] = "change-signed"
    number: int
    by: Literal["workshop", "customer"]
    to_sha256: Sha256
    how: Reason
    """Where the signature is found; no names of customers."""
    signed_on: date | None = None
    """None in an entry of an older version, which knew only when it was noted."""


class ChangeWithdrawn(Data):
    """A change order that was not signed by both is dropped."""

    kind: Literal["change-withdrawn"] = "change-withdrawn"
    number: int
    because: Reason


class AsBuiltRecorded(Data):
    """A measurement, test or serial number of the finished vehicle; a later one replaces it."""

    kind: Literal["as-built-recorded"] = "as-built-recorded"
    record: RecordId
    """Which of the workshop's records, or one that is asked for without being listed."""
    slot: Slot | None = None
    values: dict[Identifier, float | str]
    instrument: ShortText = ""
    calibrated_until: date | None = None
    measured_on: date
    by: ShortText
    """Who measured: a person of the workshop or of a test station."""
    note: ShortText = ""


class MeasuredWarningAnswered(Data):
    """Why a vehicle is handed over although a check warns of it as measured; by an engineer."""

    kind: Literal["measured-warning-answered"] = "measured-warning-answered"
    code: ShortText
    subject: ShortText
    value: float | None
    """That the check was found with; measured again, it is answered again."""
    reason: Reason


class PackIssued(Data):
    """The final handover pack was issued; a correction is the next revision."""

    kind: Literal["pack-issued"] = "pack-issued"
    revision: int = Field(ge=1)
    letter: Letter
    spec_sha256: Sha256
    """Of the spec with what was measured."""
    document_sha256: Sha256
    document_name: ShortText
    catalog_sha256: Sha256 | None = None
    """Whose list of records the vehicle was judged by; after the handover it stays the one."""
    changes: tuple[Told, ...] = ()
    """What differs from the revision before."""


class HandedOver(Data):
    """The vehicle went to its owner."""

    kind: Literal["handed-over"] = "handed-over"
    pack_revision: int
    handed_over_on: date


class RevisionGiven(Data):
    """The owner was given a revision of the pack that was issued after the handover."""

    kind: Literal["revision-given"] = "revision-given"
    revision: int = Field(ge=1)
    given_on: date
    how: Reason
    """By hand, by post: where that is found; no names."""


class OwnerTold(Data):
    """The owner was told what was found on the vehicle after the handover."""

    kind: Literal["owner-told"] = "owner-told"
    told_on: date
    how: Reason
    """By telephone, in writing: where that is found; no names."""


class Erased(Data):
    """Personal data was removed; the technical record stays."""

    kind: Literal["erased"] = "erased"
    contents: dict[Sha256, Sha256 | None]
    """Hash of what was kept → hash of what is kept now in its place; None where it is removed."""
    because: Reason


class Closed(Data):
    """An enquiry that came to nothing, or a build that was given up."""

    kind: Literal["closed"] = "closed"
    because: Reason


Body = Annotated[
    Quoted
    | QuotationAccepted
    | SpecIssued
    | SignedOff
    | SignOffVoided
    | StageReached
    | ChangeOrdered
    | ChangeSigned
    | ChangeWithdrawn
    | AsBuiltRecorded
    | MeasuredWarningAnswered
    | PackIssued
    | HandedOver
    | RevisionGiven
    | OwnerTold
    | Erased
    | Closed,
    Field(discriminator="kind"),
]
BODY: TypeAdapter[Body] = TypeAdapter(Body)
