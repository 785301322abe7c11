"""What is kept out of the record: a person who is erased by now, and names in the book."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from configurator.build_life.entries import Body, ChangeOrdered, Quoted, SpecIssued
from configurator.build_life.erasing import TYPED, names_customer
from configurator.build_life.people import Person
from configurator.errors import ErasedMeanwhileError, Fault, LifeError
from configurator.record.tables import ChangeRow, DraftRow

ERASED = "erased"
"""Kind of the change in which a customer's data leaves a draft."""
TYPED_BESIDE = TYPED | {"how", "because", "not_ordered_because"}


def refuse_erased_meanwhile(
    session: Session, build_id: int, reference: str, revision: int | None
) -> None:
    """Refuse what was made from a draft that still named a customer who is erased by now.

    Parameters
    ----------
    session : Session
        Of the transaction that writes it, while nobody can erase.
    build_id, reference
        Of the build.
    revision : int or None
        Of the draft it was made from; None for what no draft was read for.

    Raises
    ------
    ErasedMeanwhileError
        If the customer was erased after that revision.
    """
    if revision is None:
        return
    erased = select(func.max(ChangeRow.revision)).filter_by(build_id=build_id, kind=ERASED)
    if (session.scalar(erased) or 0) > revision:
        raise ErasedMeanwhileError([erased_meanwhile(reference)])


def erased_meanwhile(reference: str) -> Fault:
    """Say that a customer was erased while something that names them was made."""
    what = "the customer's data was erased while this was made; nothing of it was kept"
    return Fault("R022", reference, what, "Open the build again, and do this step anew.")


def drawn_from(bodies: Iterable[Body]) -> int | None:
    """Tell from which revision of the draft the specs of some entries were computed."""
    found = (
        body.revision for body in bodies if isinstance(body, Quoted | SpecIssued | ChangeOrdered)
    )
    return min(found, default=None)


def refuse_customers_name(
    session: Session, build_id: int, reference: str, bodies: Sequence[Body], by: Person
) -> None:
    """Refuse words that name the customer: nothing in the book can ever be erased.

    Raises
    ------
    LifeError
        If a customer's name or contact stands in what somebody typed beside a step.
    """
    draft = session.get(DraftRow, build_id)
    if draft is None:
        return
    said = (text for body in bodies for text in _typed(body.model_dump(mode="json")))
    if names_customer((text for text in said if text != by.name), draft.content):
        what = "the customer's name or contact stands in it, and what the book says stays for good"
        raise LifeError([Fault("R023", reference, what, "Say it without the name.")])


def _typed(content: object, field: str = "") -> Iterator[str]:
    if isinstance(content, dict):
        for key, value in content.items():
            yield from _typed(value, field if field == "values" else key)
    elif isinstance(content, list):
        for item in content:
            yield from _typed(item, field)
    elif isinstance(content, str) and (field in TYPED_BESIDE or field == "values"):
        yield content
