"""Whether a quotation can still be accepted, and what has changed since it was given."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from configurator.build_life.differences import SpecDifferences
from configurator.build_life.entries import Quoted
from configurator.build_life.life import Life
from configurator.build_spec.days import day_in_words

QuotationVerdict = Literal["none", "open", "expired", "changed", "accepted"]


@dataclass(frozen=True)
class QuotationState:
    """The last quotation of a build, as it stands on a day."""

    verdict: QuotationVerdict
    quoted: Quoted | None
    sentence: str
    differences: SpecDifferences | None = None
    """From what was quoted to what the draft comes to now; None where nothing differs."""

    @property
    def can_be_accepted(self) -> bool:
        """Whether the workshop is bound to it today."""
        return self.verdict in {"open", "changed"}


def quotation_state(life: Life, today: date, differences: SpecDifferences | None) -> QuotationState:
    """Tell how the last quotation stands.

    Parameters
    ----------
    life : Life
        Of the build.
    today : date
        The day it is asked.
    differences : SpecDifferences or None
        From the quoted spec to the draft as it is priced today.

    Returns
    -------
    QuotationState
        A quotation that is still valid binds the workshop also where prices have changed since.
    """
    quoted = life.quotation
    if quoted is None:
        return QuotationState("none", None, "No quotation has been given yet.")
    name, until = f"Q{quoted.number}", day_in_words(quoted.valid_until)
    if life.accepted is not None:
        accepted, by = life.accepted, life.entry_of(life.accepted).by
        on = day_in_words(accepted.accepted_on)
        said = f"Q{accepted.number} was accepted on {on}, noted by {by.in_words}: {accepted.how}."
        return QuotationState("accepted", quoted, said, differences)
    if today > quoted.valid_until:
        said = f"{name} expired on {until}; renew it before it is accepted."
        return QuotationState("expired", quoted, said, differences)
    if differences is not None:
        said = (
            f"{name} can be accepted until {until}, but today the draft comes to "
            "something else: see what differs, and renew it if that is what is wanted."
        )
        return QuotationState("changed", quoted, said, differences)
    said = f"{name} can be accepted until {until}."
    return QuotationState("open", quoted, said)
