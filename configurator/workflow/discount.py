"""A discount on a build, always with its reason."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from pydantic import ValidationError

from configurator.catalog.models.build import Discount
from configurator.errors import ChoiceError, Fault
from configurator.workflow.builds import Draft
from configurator.workflow.consultation import price_of_draft
from configurator.workflow.draft_saving import save_steps, take_step
from configurator.workflow.draft_steps import field_steps
from configurator.workflow.entry_faults import Entry, entry_faults, figure, in_finest_steps
from configurator.workflow.premises import Premises

BOTH = "Write amount and reason, or leave both fields empty."
ENTRIES = {
    "amount_gbp": replace(figure("Discount", "£", "0.01"), if_empty=BOTH),
    "reason": Entry("Why it is given", if_empty=BOTH),
}
"""What people see each entry called, and how they type it."""


def set_discount(
    premises: Premises,
    reference: str,
    *,
    revision: int,
    amount_gbp: str,
    reason: str,
    now: datetime,
) -> Draft:
    """Give a discount in the place of the one before; none where neither field holds anything.

    Parameters
    ----------
    premises, reference, revision, now
        As for `consultation.pick_option`.
    amount_gbp, reason : str
        With VAT, and why it is given, as typed.

    Returns
    -------
    Draft
        As it is on disk now; undone like any other change.

    Raises
    ------
    ChoiceError
        If an entry cannot be, or the discount is more than the least price; all faults together.
    StaleDraftError
        If somebody else changed the draft meanwhile.
    RecordError
        If it cannot be saved.
    """
    wanted = read_discount(amount_gbp, reason)

    def save(draft: Draft) -> Draft:
        build = draft.build.model_copy(update={"discount": wanted})
        least_gbp = price_of_draft(premises, Draft(build, draft.revision, now)).low_gbp
        if wanted is not None and least_gbp < 0:
            what = f"£{wanted.amount_gbp:,.2f} is more than the least price of this build"
            raise ChoiceError([Fault("P019", ENTRIES["amount_gbp"].label, what, "Give less.")])
        steps = field_steps(draft.build, build, "discount")
        return save_steps(premises, draft, "discount", steps, now=now)

    return take_step(
        premises, reference, revision, is_done=lambda d: d.build.discount == wanted, save=save
    )


def read_discount(amount_gbp: str, reason: str) -> Discount | None:
    """Read a discount as a form sends it; None where neither field holds anything.

    Raises
    ------
    ChoiceError
        With a fault of code P019 for every entry that cannot be.

    Examples
    --------
    >>> read_discount("250.00", "Brought the donor himself").amount_gbp
    Decimal('250.00')
    >>> read_discount(" ", "") is None
    True
    """
    typed = {"amount_gbp": amount_gbp.strip(), "reason": reason.strip()}
    if not any(typed.values()):
        return None
    try:
        discount = Discount.model_validate(typed)
    except ValidationError as error:
        raise ChoiceError(entry_faults(error, "P019", ENTRIES, "Discount")) from error
    return in_finest_steps(discount, ENTRIES)
