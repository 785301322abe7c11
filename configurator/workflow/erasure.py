"""A customer's data: give it out, take it out of the record, list what is past its time."""

from __future__ import annotations

import io
import json
import zipfile
from dataclasses import asdict, dataclass
from datetime import date, datetime
from pathlib import Path

from configurator.build_life.entries import Erased
from configurator.build_life.life import Life
from configurator.build_life.people import Person, same_name
from configurator.errors import DocumentError, Fault, LifeError
from configurator.record.accounts import list_accounts
from configurator.record.book import read_life
from configurator.record.changes import list_changes
from configurator.record.contents import find_content
from configurator.record.drafts import find_draft
from configurator.record.erasure import POINTS_TO_SPEC, clear_free_pages, erase_customer
from configurator.workflow.accounts import name_faults
from configurator.workflow.builds import list_builds
from configurator.workflow.papers import documents_folder, list_documents
from configurator.workflow.premises import Premises
from configurator.workflow.rights import role_faults
from configurator.workflow.typed_words import LONGEST_REASON, refuse_too_long

_MADE_AT = (1980, 1, 1, 0, 0, 0)
"""The zip says nothing of when it was written, so that the same data gives the same bytes."""


@dataclass(frozen=True)
class PastRetention:
    """An enquiry that came to nothing and is older than the workshop keeps them."""

    reference: str
    customer_name: str
    last_changed: date


def customers_data(premises: Premises, reference: str) -> bytes:
    """Gather everything kept of a customer's build, for the customer.

    Returns
    -------
    bytes
        A zip: the draft, its changes, the entries of its book, each spec, each document.

    Raises
    ------
    RecordError
        If there is no such build, or something kept is lost.
    """
    draft = find_draft(premises.record, reference)
    life = read_life(premises.record, reference)
    parts: dict[str, bytes] = {
        "draft.json": _json(draft.content),
        "changes.json": _json([asdict(c) for c in list_changes(premises.record, reference)]),
        "book.json": _json(
            [
                {
                    "number": entry.number,
                    "by": entry.by.in_words,
                    "made_at": entry.made_at.isoformat(),
                    "body": entry.body.model_dump(mode="json"),
                }
                for entry in life.entries
            ]
        ),
    }
    for sha256 in _specs_named(life):
        parts[f"specs/{sha256}.json"] = find_content(premises.record, sha256)
    for document in list_documents(premises, reference):
        if document.path.exists():
            parts[f"documents/{document.name}"] = document.content
    return _zip(parts)


def erase_customers_data(
    premises: Premises, reference: str, *, because: str, by: Person, now: datetime
) -> tuple[str, ...]:
    """Take a customer's name, contact and notes out of everything kept; the rest stays.

    Parameters
    ----------
    premises, reference
        Where the build is.
    because : str
        Why, such as “asked for in writing”; no names.
    by : Person
        A manager.
    now : datetime
        Aware, UTC.

    Returns
    -------
    tuple of str
        Names of the documents that were deleted, because names are printed in them.

    Raises
    ------
    LifeError
        If nothing says why, or the person is no manager.
    RecordError
        If there is no such build, or it cannot be saved; or it is erased, but the file of the
        record may still hold it.
    DocumentError
        If the record is changed, but a document cannot be deleted.
    """
    refuse_too_long(reference, because, LONGEST_REASON)
    faults = role_faults(by, ("manager",), "erase a customer's data")
    if len(because.strip()) < 3:
        faults.append(Fault("P110", reference, "nothing says why", "Write the reason."))
    if faults:
        raise LifeError(faults)
    erase_customer(premises.record, reference, because=because.strip(), by=by, now=now)
    try:
        return _delete_files(documents_folder(premises, reference))
    finally:
        clear_free_pages(premises.record)


def who_erases(premises: Premises, name: str) -> Person:
    """Find who erases by their account; where nobody has one, the person works alone.

    Raises
    ------
    LifeError
        If people have accounts, and none of them has this name; or if it is none.
    """
    if faults := name_faults(name):
        raise LifeError(faults)
    accounts = list_accounts(premises.record)
    if not accounts:
        return Person(name=name, role="manager", is_solo=True)
    for account in accounts:
        if account.is_active and same_name(account.name) == same_name(name):
            role = "manager" if "manager" in account.roles else account.roles[0]
            return Person(name=account.name, role=role)
    what = f'nobody who may log in is called "{name[:60]}"'
    raise LifeError([Fault("P112", "--by", what, "Name a manager as in `accounts list`.")])


def _delete_files(folder: Path) -> tuple[str, ...]:
    """Delete a build's documents, also one whose entry was refused: names are printed in it too."""
    deleted = []
    try:
        for path in sorted(folder.iterdir()) if folder.exists() else ():
            path.unlink(missing_ok=True)
            deleted.append(path.name)
    except OSError as error:
        raise DocumentError([_undeleted(folder, error)]) from error
    return tuple(deleted)


def _undeleted(folder: Path, error: OSError) -> Fault:
    return Fault(
        "P113",
        str(folder),
        f"documents that name the customer cannot be deleted ({error.strerror or error}); in the "
        "record the customer is erased",
        "Make the folder one that may be written, and erase once more.",
    )


def past_retention(premises: Premises, today: date) -> tuple[PastRetention, ...]:
    """List enquiries that came to nothing and are past the workshop's time; none is removed.

    Raises
    ------
    RecordError
        If the record cannot be read.
    """
    months = premises.catalog.workshop.retention.enquiry_months
    lives = premises.lives.read(premises.record)
    found = []
    for build in list_builds(premises):
        life = lives.get(build.reference)
        is_ordered = life is not None and life.issued is not None
        is_erased = life is not None and bool(life.of(Erased))
        last = build.updated_at.date()
        if not is_ordered and not is_erased and _months_between(last, today) >= months:
            found.append(PastRetention(build.reference, build.customer_name, last))
    return tuple(sorted(found, key=lambda one: one.last_changed))


def _months_between(first: date, last: date) -> int:
    months = 12 * (last.year - first.year) + last.month - first.month
    return months - (last.day < first.day)


def _specs_named(life: Life) -> list[str]:
    named = {
        sha256: None
        for entry in life.entries
        for field in POINTS_TO_SPEC
        if (sha256 := getattr(entry.body, field, None)) is not None
    }
    latest = (life.kept_under(sha256) for sha256 in named)
    return [sha256 for sha256 in latest if sha256 is not None]


def _json(content: object) -> bytes:
    return json.dumps(content, ensure_ascii=False, indent=1, default=str).encode()


def _zip(parts: dict[str, bytes]) -> bytes:
    written = io.BytesIO()
    with zipfile.ZipFile(written, "w", zipfile.ZIP_DEFLATED) as bundle:
        for name, content in sorted(parts.items()):
            bundle.writestr(zipfile.ZipInfo(name, _MADE_AT), content, zipfile.ZIP_DEFLATED)
    return written.getvalue()
