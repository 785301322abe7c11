"""What of its kind an entry may be only once in a build."""

from __future__ import annotations

from configurator.build_life.entries import (
    Body,
    ChangeOrdered,
    ChangeSigned,
    ChangeWithdrawn,
    Closed,
    HandedOver,
    PackIssued,
    QuotationAccepted,
    Quoted,
    RevisionGiven,
    SignedOff,
    SignOffVoided,
    SpecIssued,
    StageReached,
)

_ONCE_FOR_EACH: dict[type[Body], tuple[str, ...]] = {
    Quoted: ("number",),
    QuotationAccepted: ("number",),
    SpecIssued: ("letter",),
    SignedOff: ("letter", "sign_off"),
    SignOffVoided: ("letter", "sign_off"),
    StageReached: ("stage_id",),
    ChangeOrdered: ("number",),
    ChangeSigned: ("number", "by"),
    ChangeWithdrawn: ("number",),
    PackIssued: ("revision",),
    HandedOver: ("kind",),
    RevisionGiven: ("revision",),
    Closed: ("kind",),
}


def slot_of(body: Body) -> str | None:
    """Tell what of its kind an entry may be only once in a build; None where it may repeat.

    Examples
    --------
    >>> slot_of(Closed(because="no answer"))
    'closed'
    >>> from configurator.build_life.entries import Erased
    >>> slot_of(Erased(contents={}, because="asked for")) is None
    True
    """
    fields = _ONCE_FOR_EACH.get(type(body))
    return None if fields is None else "/".join(str(getattr(body, field)) for field in fields)
