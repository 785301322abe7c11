"""What was typed into the enquiry, checked before it is handed on."""

from __future__ import annotations

from dataclasses import dataclass

from pydantic import ValidationError

from configurator.catalog.models.build import Customer, Donor

LONGEST_LINE = 200
LONGEST_NOTE = 2000


@dataclass(frozen=True)
class TypedEnquiry:
    """The fields of the form, as typed."""

    name: str
    contact: str
    vehicle_id: str | None
    donor: str
    notes: str


def enquiry_problems(typed: TypedEnquiry) -> tuple[str, ...]:
    """Say what must be mended before the enquiry can start.

    Examples
    --------
    >>> enquiry_problems(TypedEnquiry(" ", "", "van", "", ""))
    ('Please give the customer’s name; the build is filed under it.',)
    """
    problems: list[str] = []
    if not typed.name.strip():
        problems.append("Please give the customer’s name; the build is filed under it.")
    if typed.vehicle_id is None:
        problems.append("Please choose the vehicle the talk is about.")
    lengths = {
        "name": (typed.name, LONGEST_LINE),
        "contact": (typed.contact, LONGEST_LINE),
        "description of the donor": (typed.donor, LONGEST_NOTE),
        "note": (typed.notes, LONGEST_NOTE),
    }
    problems.extend(
        f"The {what} has {len(written):,} characters; it can have {most:,}. Please shorten it."
        for what, (written, most) in lengths.items()
        if len(written.strip()) > most
    )
    return tuple(problems)


def customer_and_donor(typed: TypedEnquiry) -> tuple[Customer, Donor] | None:
    """Build the customer and the donor; None where a field still cannot be used."""
    try:
        return Customer(name=typed.name, contact=typed.contact), Donor(description=typed.donor)
    except ValidationError:
        return None
