"""What makes a handover pack final: its revision, who signed, and what changed since the last."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date


@dataclass(frozen=True)
class EarlierIssue:
    """A revision of the pack that was issued before."""

    revision: int
    issued_on: date
    changes: tuple[str, ...]
    issued_by: str


@dataclass(frozen=True)
class PackIssue:
    """The revision that is issued now."""

    revision: int
    letter: str
    """Of the issued spec that was built."""
    issued_on: date
    issued_by: str
    changes: tuple[str, ...] = ()
    """What differs from the revision before."""
    signed_by: tuple[str, ...] = ()
    """Sign-off and person, for each sign-off that holds."""
    answered: tuple[str, ...] = ()
    """Each check that warns of the vehicle as it is, with why it is handed over so."""
    evidence: Mapping[str, str] = field(default_factory=dict)
    """Group → what was read or measured of the parts that its choice fits, in words."""
    earlier: tuple[EarlierIssue, ...] = ()
