"""Give a quotation, renew it, and freeze spec A when the customer accepts it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, timedelta

from configurator.build_life.differences import SpecDifferences, spec_differences
from configurator.build_life.entries import Body, QuotationAccepted, Quoted, SpecIssued
from configurator.build_life.freezing import findings_against, freeze_entries
from configurator.build_life.life import Life
from configurator.build_life.people import Person
from configurator.build_life.quotation_state import QuotationState, quotation_state
from configurator.build_spec.days import day_in_words
from configurator.build_spec.pipeline import specify
from configurator.build_spec.price_section import stage_payments
from configurator.build_spec.spec import Spec, StagePayment
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.workshop import DatedTerms
from configurator.documents.quotation import QuotationContent, quotation_pdf
from configurator.errors import Fault, LifeError
from configurator.record.book import read_life, write_entries
from configurator.record.changes import Step
from configurator.workflow.builds import Draft, read_draft
from configurator.workflow.draft_saving import refuse_stale, save_steps
from configurator.workflow.issued_catalogs import catalog_of, kept_catalog
from configurator.workflow.issuing import (
    Answers,
    answer_faults,
    kept_spec,
    read_spec,
    written_answers,
)
from configurator.workflow.offered import lost_choices
from configurator.workflow.papers import spec_of, store_file, taken_back_if_erased
from configurator.workflow.premises import Premises
from configurator.workflow.signature_days import signature_day_faults
from configurator.workflow.typed_words import LONGEST_REASON, too_long_faults

QUOTATION = "quotation"


def how_quotation_stands(premises: Premises, reference: str, today: date) -> QuotationState:
    """Tell whether the last quotation can be accepted, and what differs today.

    Raises
    ------
    RecordError
        If the record has no such build, or what was quoted is lost.
    """
    life = read_life(premises.record, reference)
    if life.quotation is None:
        return quotation_state(life, today, None)
    before = read_spec(premises, life, life.quotation.spec_sha256)
    return quotation_state(life, today, _differences_today(premises, before, reference, today))


def payments_quoted(premises: Premises, spec: Spec) -> tuple[StagePayment, ...]:
    """Share out what a quotation asks for; while choices are open, of the least total.

    Parameters
    ----------
    premises : Premises
        Where the catalogs are.
    spec : Spec
        That is or would be quoted; its own catalog says what is due at which stage.

    Raises
    ------
    RecordError
        If that catalog is lost or was altered.
    """
    if spec.price.payments:
        return spec.price.payments
    stages = catalog_of(premises, spec.catalog_sha256).stages
    return stage_payments(stages, spec.price.total_low_gbp)


def give_quotation(
    premises: Premises, reference: str, *, revision: int, by: Person, now: datetime
) -> Quoted:
    """Give a quotation for the draft at today's prices; it takes the place of one before.

    Parameters
    ----------
    premises, reference
        Where the build is.
    revision : int
        Of the draft that the person saw.
    by : Person
        Who gives it.
    now : datetime
        Aware, UTC.

    Raises
    ------
    LifeError
        If a finding blocks, no terms are in force, or a quotation was accepted already.
    ChoiceError
        If a choice of the draft is not in the catalog any more.
    StaleDraftError
        If somebody else changed the draft meanwhile.
    OvertakenError
        If somebody else gave one a moment before.
    """
    draft = read_draft(premises, reference)
    refuse_stale(premises, draft, revision)
    life, today = read_life(premises.record, reference), now.date()
    _refuse_accepted(life)
    terms = premises.catalog.workshop.terms_on(today)
    spec, last = spec_of(premises, _priced_on(draft.build, today)), life.quotation
    _refuse_unfit(spec, today, terms)
    assert terms is not None  # noqa: S101  refused above
    draft = _save_priced_on(premises, draft, today, now)
    content = QuotationContent(
        number=1 if last is None else last.number + 1,
        given_on=today,
        valid_until=today + timedelta(days=premises.catalog.workshop.quotation_valid_days),
        terms=terms,
        payments=payments_quoted(premises, spec),
        renews=None if last is None else last.number,
        given_by=by.in_words,
    )
    pdf = quotation_pdf(spec, content)
    stem = f"{reference}-{QUOTATION}-Q{content.number}"
    # The file stands before the entry that points to it.
    paper = store_file(premises, spec, QUOTATION, pdf, now=now, stem=stem)
    quoted = Quoted(
        number=content.number,
        spec_sha256=spec.sha256(),
        catalog_sha256=premises.catalog.sha256,
        revision=draft.revision,
        valid_until=content.valid_until,
        total_gbp=spec.price.total_low_gbp,
        document_sha256=paper.sha256,
        renews=content.renews,
    )

    def bodies(there: Life) -> Sequence[Body]:
        _refuse_accepted(there)
        return (quoted,)

    keep = [kept_spec(spec), kept_catalog(premises)]
    with taken_back_if_erased(premises, reference, paper):
        write_entries(
            premises.record, reference, bodies, by=by, now=now, keep=keep, documents=[paper]
        )
    return quoted


def accept_quotation(
    premises: Premises,
    reference: str,
    number: int,
    *,
    how: str,
    accepted_on: date,
    answers: Answers,
    by: Person,
    now: datetime,
) -> SpecIssued:
    """Note that the customer accepted a quotation; what was quoted becomes issued spec A.

    Parameters
    ----------
    premises, reference, number
        Which quotation.
    how : str
        Where the customer's signature is found; no names.
    accepted_on : date
        The day of the signature.
    answers : mapping
        Why the work goes on although a check warns; an engineer writes it.
    by : Person
        Who notes it.
    now : datetime
        Aware, UTC.

    Raises
    ------
    LifeError
        If it is not the last one, has expired by that day, or a check stands against it.
    OvertakenError
        If somebody else noted it a moment before.
    """
    life = read_life(premises.record, reference)
    quoted = next((found for found in life.of(Quoted) if found.number == number), None)
    spec = None if quoted is None else read_spec(premises, life, quoted.spec_sha256)
    faults = answer_faults(answers, by)
    if spec is not None:
        faults += findings_against(spec.findings, answers)
    _refuse_acceptance(life, number, how, accepted_on, now.date(), further=faults)
    assert quoted is not None and spec is not None  # noqa: S101, PT018  refused above
    answered = written_answers(answers, by)
    # The stages may be called otherwise by now; the choices close at those that were quoted.
    stages = catalog_of(premises, quoted.catalog_sha256).stages

    def bodies(there: Life) -> Sequence[Body]:
        _refuse_acceptance(there, number, how, accepted_on, now.date())
        frozen = freeze_entries(
            there,
            spec,
            revision=quoted.revision,
            answered=answered,
            because=f"Quotation Q{number} accepted",
            stages=stages,
        )
        issued = frozen[0]
        assert isinstance(issued, SpecIssued)  # noqa: S101  it comes first
        accepted = QuotationAccepted(
            number=number,
            letter=issued.letter,
            spec_sha256=issued.spec_sha256,
            accepted_on=accepted_on,
            how=how.strip(),
        )
        return (accepted, *frozen)

    entries = write_entries(premises.record, reference, bodies, by=by, now=now)
    return next(entry.body for entry in entries if isinstance(entry.body, SpecIssued))


def _differences_today(
    premises: Premises, before: Spec, reference: str, today: date
) -> SpecDifferences | None:
    build = read_draft(premises, reference).build
    if lost_choices(premises.catalog, build) or build.vehicle not in premises.catalog.vehicle_by_id:
        return None
    now_comes_to = specify(premises.catalog, _priced_on(build, today), premises.engines)
    found = spec_differences(before, now_comes_to)
    # A day of prices alone, with nothing that it changes, is no difference to a customer.
    told = (found.choices, found.survey, found.lines, found.masses, found.ranges, found.texts)
    return found if any(told) or found.total_before_gbp != found.total_after_gbp else None


def _priced_on(build: BuildInput, today: date) -> BuildInput:
    return build.model_copy(update={"priced_on": today})


def _save_priced_on(premises: Premises, draft: Draft, today: date, now: datetime) -> Draft:
    if draft.build.priced_on == today:
        return draft
    step = Step("priced_on", None, draft.build.priced_on.isoformat(), today.isoformat())
    return save_steps(premises, draft, "priced-anew", (step,), now=now)


def _refuse_unfit(spec: Spec, today: date, terms: DatedTerms | None) -> None:
    faults = []
    if terms is None:
        what = f"the workshop has no terms in force on {day_in_words(today)}"
        faults.append(Fault("P060", "workshop.yaml", what, "Add terms that are valid by then."))
    faults += [
        Fault("P061", finding.code, finding.sentence.rstrip("."), finding.remedy)
        for finding in spec.findings
        if finding.severity == "blocks"
    ]
    if faults:
        raise LifeError(faults)


def _refuse_accepted(life: Life) -> None:
    if life.issued is not None:
        what = f"spec {life.issued.letter} is issued; from there on changes are written as orders"
        remedy = "Write a change order instead."
        raise LifeError([Fault("P062", "Quotation", what, remedy)])


def _refuse_acceptance(
    life: Life,
    number: int,
    how: str,
    accepted_on: date,
    today: date,
    *,
    further: Sequence[Fault] = (),
) -> None:
    """Refuse with everything that stands against it, `further` faults of the form among it."""
    _refuse_accepted(life)
    last, where = life.quotation, f"Q{number}"
    faults = too_long_faults(where, how, LONGEST_REASON)
    if last is None or last.number != number:
        what = "it is not the last quotation that was given"
        faults.append(Fault("P063", where, what, "Take the last one, or renew it."))
    elif accepted_on > last.valid_until:
        what = f"it could be accepted until {day_in_words(last.valid_until)}"
        faults.append(
            Fault("P064", where, what, "Renew it, and let the customer sign the new one.")
        )
    given_on = accepted_on if last is None else life.entry_of(last).made_at.date()
    faults += signature_day_faults(where, accepted_on, given_on, today)
    if len(how.strip()) < 3:
        what = "nothing says where the customer's signature is found"
        faults.append(Fault("P066", where, what, "Write it, such as “on paper, in the file”."))
    faults += further
    if faults:
        raise LifeError(faults)
