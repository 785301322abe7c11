"""Change orders: from one issued spec to the next; priced, signed by both sides, then issued."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Literal

from configurator.build_life.differences import spec_differences
from configurator.build_life.entries import (
    Body,
    ChangeOrdered,
    ChangeSigned,
    ChangeWithdrawn,
    SpecIssued,
    WarningAnswered,
)
from configurator.build_life.freezing import findings_against, freeze_entries
from configurator.build_life.life import Entry, Life
from configurator.build_life.people import Person
from configurator.build_life.stage_gate import stage_now
from configurator.build_spec.days import day_in_words
from configurator.build_spec.pipeline import specify
from configurator.build_spec.spec import Spec
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.workshop import RoleId, Stage
from configurator.documents.change_order import ChangeOrderContent, change_order_pdf
from configurator.errors import Fault, LifeError
from configurator.record.book import read_life, write_entries
from configurator.workflow.builds import read_draft
from configurator.workflow.change_contents import change_content, late_change_gbp
from configurator.workflow.change_refusals import (
    may_change,
    refuse_overtaken,
    waiting_order,
)
from configurator.workflow.draft_saving import refuse_stale
from configurator.workflow.issued_catalogs import catalog_of
from configurator.workflow.issuing import Answers, kept_spec, read_spec, written_answers
from configurator.workflow.papers import store_file, taken_back_if_erased
from configurator.workflow.premises import Premises
from configurator.workflow.rights import refuse_other_roles
from configurator.workflow.signature_days import refuse_other_days
from configurator.workflow.typed_words import LONGEST_REASON, refuse_too_long

CHANGE_ORDER = "change-order"
SIGNING_ROLES: tuple[RoleId, ...] = ("manager",)
"""Who may sign a change order for the workshop."""


@dataclass(frozen=True)
class ProposedChange:
    """What the draft would change in the issued spec; nothing is written yet."""

    life: Life
    issued: SpecIssued
    spec: Spec
    """The proposed one, computed with the catalog of the issued one."""
    stage: Stage
    """That the vehicle is in."""
    content: ChangeOrderContent
    faults: tuple[Fault, ...]
    """What stands against it, unanswered warnings among it."""


def proposed_change(
    premises: Premises, reference: str, *, answered: Sequence[WarningAnswered] = ()
) -> ProposedChange:
    """Compare the draft with the issued spec, at the prices of the issued one.

    Raises
    ------
    LifeError
        If no spec is issued, a change order still waits for signatures, or nothing differs.
    ChoiceError
        If the draft chooses what the catalog of the issued spec does not have.
    """
    return _proposed(premises, read_draft(premises, reference).build, answered)


def _proposed(
    premises: Premises, build: BuildInput, answered: Sequence[WarningAnswered]
) -> ProposedChange:
    reference = build.reference
    life = read_life(premises.record, reference)
    issued = may_change(life, reference)
    catalog = catalog_of(premises, issued.catalog_sha256)
    before = read_spec(premises, life, issued.spec_sha256)
    # What was promised keeps its prices: the day they are of stays the same.
    spec = specify(
        catalog, build.model_copy(update={"priced_on": before.build.priced_on}), premises.engines
    )
    found = spec_differences(before, spec)
    if found.before_sha256 == found.after_sha256:
        what = f"the draft is as spec {issued.letter} says; there is nothing to change"
        raise LifeError([Fault("P121", reference, what, "Change the draft in the talk first.")])
    stage = stage_now(life, catalog.stages)
    content = change_content(
        premises,
        life,
        spec,
        number=len(life.of(ChangeOrdered)) + 1,
        from_letter=issued.letter,
        found=found,
        stage=stage,
        late_gbp=late_change_gbp(found, stage),
        answered=answered,
    )
    given = [(told.code, told.subject) for told in answered]
    faults = tuple(findings_against(spec.findings, given))
    return ProposedChange(life, issued, spec, stage, content, faults)


def propose_change(
    premises: Premises,
    reference: str,
    *,
    revision: int,
    answers: Answers,
    by: Person,
    now: datetime,
) -> ChangeOrdered:
    """Write a change order, to be signed by both sides.

    Parameters
    ----------
    premises, reference
        Where the build is.
    revision : int
        Of the draft that the person saw.
    answers : mapping
        Why the work goes on although a check warns; an engineer writes it.
    by : Person
        Who prepares it.
    now : datetime
        Aware, UTC.

    Raises
    ------
    LifeError
        With everything that stands against it; nothing was written.
    StaleDraftError
        If somebody else changed the draft meanwhile.
    OvertakenError
        If somebody else wrote one a moment before.
    """
    draft = read_draft(premises, reference)
    refuse_stale(premises, draft, revision)
    answered = written_answers(answers, by)
    change = _proposed(premises, draft.build, answered)
    if change.faults:
        raise LifeError(change.faults)
    written = f"{day_in_words(now.date())} by {by.in_words}"
    pdf = change_order_pdf(change.spec, replace(change.content, written=written))
    number, issued = change.content.number, change.issued
    stem = f"{reference}-{CHANGE_ORDER}-C{number}"
    # The file stands before the entry that points to it.
    paper = store_file(premises, change.spec, CHANGE_ORDER, pdf, now=now, stem=stem)
    order = ChangeOrdered(
        number=number,
        from_letter=issued.letter,
        from_sha256=issued.spec_sha256,
        to_sha256=change.spec.sha256(),
        catalog_sha256=issued.catalog_sha256,
        revision=revision,
        stage_id=change.stage.id,
        price_change_gbp=change.content.differences.price_change_gbp,
        late_change_gbp=change.content.late_change_gbp,
        document_sha256=paper.sha256,
        answered=answered,
    )

    def bodies(life: Life) -> Sequence[Body]:
        may_change(life, reference)
        if (life.issued, life.stage) != (issued, change.life.stage):
            what = "another spec was issued or a stage was reached meanwhile"
            raise LifeError([Fault("P122", reference, what, "Look at the change again.")])
        return (order,)

    keep = [kept_spec(change.spec)]
    with taken_back_if_erased(premises, reference, paper):
        write_entries(
            premises.record, reference, bodies, by=by, now=now, keep=keep, documents=[paper]
        )
    return order


def sign_change(
    premises: Premises,
    reference: str,
    number: int,
    *,
    side: Literal["workshop", "customer"],
    how: str,
    signed_on: date | None = None,
    by: Person,
    now: datetime,
) -> tuple[Entry, ...]:
    """Note one of the two signatures; with the second one the next letter is issued.

    Parameters
    ----------
    premises, reference, number
        Which change order.
    side : str
        Whose signature it is; a manager signs for the workshop.
    how : str
        Where the signature is found; no names of customers.
    signed_on : date, optional
        The day of the signature; without one, the day it is noted.
    by : Person
        Who signs for the workshop, or saw the customer's signature.
    now : datetime
        Aware, UTC.

    Returns
    -------
    tuple of Entry
        The signature and, with the second one, the issued spec and each voided sign-off.

    Raises
    ------
    LifeError
        If there is nothing to sign, or the spec can no longer be issued.
    OvertakenError
        If somebody else noted it a moment before.
    """
    if side == "workshop":
        refuse_other_roles(by, SIGNING_ROLES, "sign a change order for the workshop")
    if len(how.strip()) < 3:
        what = "nothing says where the signature is found"
        raise LifeError([Fault("P124", f"C{number}", what, "Write it, such as “on paper”.")])

    refuse_too_long(f"C{number}", how, LONGEST_REASON)

    on = signed_on or now.date()

    def bodies(life: Life) -> Sequence[Body]:
        order = waiting_order(life, number)
        refuse_overtaken(life, order)
        refuse_other_days(f"C{number}", on, life.entry_of(order).made_at.date(), now.date())
        signed = ChangeSigned(
            number=number, by=side, to_sha256=order.to_sha256, how=how.strip(), signed_on=on
        )
        others = [other for other in life.signatures(number) if other.by != side]
        return (signed, *_issued_by(premises, life, order)) if others else (signed,)

    return write_entries(premises.record, reference, bodies, by=by, now=now)


def withdraw_change(
    premises: Premises, reference: str, number: int, *, because: str, by: Person, now: datetime
) -> None:
    """Drop a change order that was not signed by both; the issued spec stays.

    Raises
    ------
    LifeError
        If it is not waiting for signatures, or nothing says why.
    """
    if len(because.strip()) < 3:
        raise LifeError([Fault("P124", f"C{number}", "nothing says why", "Write the reason.")])

    refuse_too_long(f"C{number}", because, LONGEST_REASON)

    def bodies(life: Life) -> Sequence[Body]:
        waiting_order(life, number)
        return (ChangeWithdrawn(number=number, because=because.strip()),)

    write_entries(premises.record, reference, bodies, by=by, now=now)


def _issued_by(premises: Premises, life: Life, order: ChangeOrdered) -> tuple[Body, ...]:
    spec = read_spec(premises, life, order.to_sha256)
    return freeze_entries(
        life,
        spec,
        revision=order.revision,
        answered=order.answered,
        because=f"Change order C{order.number}",
        stages=catalog_of(premises, spec.catalog_sha256).stages,
    )
