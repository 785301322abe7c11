"""The list of builds, a new enquiry, and the draft of one build."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from datetime import datetime
from functools import partial

from pydantic import ValidationError

from configurator.catalog.models.build import BuildInput, Customer, Donor
from configurator.errors import ChoiceError, RecordError
from configurator.record.build_list import DraftMark, list_marks, read_drafts
from configurator.record.drafts import StoredDraft, find_draft
from configurator.record.new_builds import add_build
from configurator.workflow.entry_faults import Entry, entry_faults
from configurator.workflow.listed_build import ListedBuild
from configurator.workflow.offered import check_vehicle, lost_choices
from configurator.workflow.open_groups import count_open_groups
from configurator.workflow.premises import Premises

ENTRIES = {"notes": Entry("notes")}


@dataclass(frozen=True)
class Draft:
    """What is known of a build now; `revision` goes along with every change."""

    build: BuildInput
    revision: int
    saved_at: datetime


def list_builds(premises: Premises, search: str = "") -> tuple[ListedBuild, ...]:
    """List the builds, the last changed first.

    Parameters
    ----------
    premises : Premises
        Where the record is.
    search : str
        Every word of it must occur in the reference, the customer's name or the vehicle.

    Returns
    -------
    tuple of ListedBuild
        Also builds that cannot be worked on, with the reason as their state.

    Raises
    ------
    RecordError
        If the record cannot be read.
    """
    marks, known = list_marks(premises.record), premises.build_rows
    rows = {mark.reference: known.known(_key(premises, mark)) for mark in marks}
    lacking = [reference for reference, row in rows.items() if row is None]
    for reference, stored in read_drafts(premises.record, lacking).items():
        mark = DraftMark(reference, stored.revision, stored.saved_at)
        rows[reference] = known.get_or_make(_key(premises, mark), partial(_row, premises, stored))
    words = folded(search).split()
    found = (row for row in rows.values() if row is not None)
    return tuple(row for row in found if all(word in _searched(row) for word in words))


def start_enquiry(
    premises: Premises,
    *,
    customer: Customer,
    vehicle_id: str,
    donor: Donor,
    notes: str,
    now: datetime,
) -> str:
    """Put a new build in the record.

    Returns
    -------
    str
        The reference it was given.

    Raises
    ------
    ChoiceError
        If the vehicle is not in the catalog, or the notes are too long.
    RecordError
        If it cannot be saved.
    """
    check_vehicle(premises.catalog, vehicle_id)
    try:
        build = BuildInput(
            reference="B-0000",
            customer=customer,
            vehicle=vehicle_id,
            priced_on=now.date(),
            donor=donor,
            notes=notes,
        )
    except ValidationError as error:
        faults = entry_faults(error, "P008", ENTRIES, "what is written", before="Enquiry, ")
        raise ChoiceError(faults) from error
    return add_build(premises.record, build, now=now).reference


def read_draft(premises: Premises, reference: str) -> Draft:
    """Read the draft of a build as it is on disk now.

    Raises
    ------
    RecordError
        If the record has no such build, or its draft cannot be read.
    """
    return draft_of(find_draft(premises.record, reference))


def draft_of(stored: StoredDraft) -> Draft:
    """Read a stored draft."""
    return Draft(stored.build(), stored.revision, stored.saved_at)


def _key(premises: Premises, mark: DraftMark) -> tuple[str, int, str]:
    return mark.reference, mark.revision, premises.catalog.sha256


def _row(premises: Premises, stored: StoredDraft) -> ListedBuild:
    try:
        build = stored.build()
    except RecordError:
        return ListedBuild(stored.reference, "", "", "", "Cannot be read", 0, stored.saved_at)
    vehicle = premises.catalog.vehicle_by_id.get(build.vehicle)
    state, open_groups = _standing(premises, build)
    return ListedBuild(
        reference=stored.reference,
        customer_name=build.customer.name,
        vehicle_id=build.vehicle,
        vehicle_label=vehicle.label if vehicle else build.vehicle,
        state=state,
        open_groups=open_groups,
        updated_at=stored.saved_at,
        revision=stored.revision,
    )


def _standing(premises: Premises, build: BuildInput) -> tuple[str, int]:
    if build.vehicle not in premises.catalog.vehicle_by_id:
        return "Vehicle not in the catalog", 0
    open_groups = count_open_groups(premises, build)
    if lost_choices(premises.catalog, build):
        return "Choice not in the catalog", open_groups
    if build.as_built is not None:
        return "Measured", open_groups
    if open_groups == 0:
        return "All chosen", 0
    return ("In talk" if build.choices else "Enquiry"), open_groups


def _searched(row: ListedBuild) -> str:
    return folded(f"{row.reference} {row.customer_name} {row.vehicle_label}")


def folded(words: str) -> str:
    r"""Fold words for a search: capitals and accents make no difference.

    Examples
    --------
    >>> folded("Gr\u00fcnwald") == folded("GRUNWALD"), folded("stra\u00dfe")
    (True, 'strasse')
    """
    apart = unicodedata.normalize("NFKD", words.casefold())
    return "".join(letter for letter in apart if not unicodedata.combining(letter))
