"""Freeze a draft as an issued spec, and read issued specs again."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime

from configurator.build_life.customers_order import has_ordered
from configurator.build_life.entries import Body, SpecIssued, WarningAnswered
from configurator.build_life.freezing import freeze_entries
from configurator.build_life.life import Life
from configurator.build_life.people import Person
from configurator.build_life.sections import changed_sections, section_hashes, sections_in_words
from configurator.build_spec.spec import Spec
from configurator.catalog.models.workshop import RoleId
from configurator.errors import Fault, LifeError
from configurator.record.book import ToKeep, read_life, write_entries
from configurator.record.contents import find_content
from configurator.workflow.builds import read_draft
from configurator.workflow.draft_saving import refuse_stale
from configurator.workflow.issued_catalogs import kept_catalog
from configurator.workflow.papers import spec_of
from configurator.workflow.premises import Premises
from configurator.workflow.rights import refuse_other_roles, role_faults
from configurator.workflow.typed_words import (
    LONGEST_NOTE,
    LONGEST_REASON,
    refuse_too_long,
    too_long_faults,
)

ISSUING_ROLES: tuple[RoleId, ...] = ("engineer", "manager")
"""Who may issue a spec."""

Answers = Mapping[tuple[str, str], str]
"""(code, subject) of a finding that warns → why the work goes on."""


def freeze(
    premises: Premises,
    reference: str,
    *,
    revision: int,
    answers: Answers,
    because: str = "",
    not_ordered_because: str = "",
    by: Person,
    now: datetime,
) -> SpecIssued:
    """Freeze the draft under the next letter; sign-offs whose content changed are voided.

    Parameters
    ----------
    premises : Premises
        Where the record is.
    reference : str
        Of the build.
    revision : int
        Of the draft that the person saw.
    answers : mapping
        Why the work goes on although a check warns; an engineer writes it.
    because : str
        Why it takes the place of the letter before.
    not_ordered_because : str
        Why it is issued although the customer has not accepted the quotation that was given; it
        is printed on the spec sheet and the sign-off record.
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
        If somebody else issued it a moment before.
    """
    refuse_other_roles(by, ISSUING_ROLES, "issue a spec")
    refuse_too_long(reference, because, LONGEST_NOTE)
    refuse_too_long(reference, not_ordered_because, LONGEST_NOTE)
    draft = read_draft(premises, reference)
    refuse_stale(premises, draft, revision)
    spec = spec_of(premises, draft.build)
    answered = written_answers(answers, by)

    def bodies(life: Life) -> Sequence[Body]:
        refuse_beside_order(life, spec)
        why = _why_not_ordered(life, reference, not_ordered_because)
        return freeze_entries(
            life,
            spec,
            revision=revision,
            answered=answered,
            because=because,
            stages=premises.catalog.stages,
            not_ordered_because=why,
        )

    keep = [kept_spec(spec), kept_catalog(premises)]
    entries = write_entries(premises.record, reference, bodies, by=by, now=now, keep=keep)
    return next(entry.body for entry in entries if isinstance(entry.body, SpecIssued))


def refuse_beside_order(life: Life, spec: Spec) -> None:
    """Refuse to change what a customer signed without their signature.

    Raises
    ------
    LifeError
        If a change order waits, or choices or price of what was signed last differ.
    """
    issued, waiting = life.issued, life.open_change
    if waiting is not None:
        what = f"change order C{waiting.number} waits for a signature, and starts from what stands"
        remedy = "Have it signed, or withdraw it, first."
        raise LifeError([Fault("P081", spec.build.reference, what, remedy)])
    if issued is None or not has_ordered(life):
        return
    changed = set(changed_sections(issued.section_sha256, section_hashes(spec)))
    ordered = sections_in_words(tuple(sorted(changed & {"choices", "price"})))
    if ordered:
        what = f"the customer ordered spec {issued.letter}, and its {' and '.join(ordered)} differ"
        remedy = "Write a change order, to be signed by both."
        raise LifeError([Fault("P080", spec.build.reference, what, remedy)])


def _why_not_ordered(life: Life, reference: str, because: str) -> str:
    """Give the reason for issuing past a quotation; empty where the customer has ordered.

    Raises
    ------
    LifeError
        If a quotation was given, nobody accepted it, and nothing says why that is not waited for.
    """
    if has_ordered(life):
        return ""
    quoted, why = life.quotation, because.strip()
    if quoted is not None and len(why) < 3:
        what = f"the customer was given quotation Q{quoted.number} and has not accepted it"
        remedy = (
            "Note the acceptance on the page of the quotation, or write why the spec is issued "
            "although the customer has not ordered it; its papers will say so."
        )
        raise LifeError([Fault("P083", reference, what, remedy)])
    return why


def issued_spec(premises: Premises, reference: str, letter: str | None = None) -> Spec:
    """Read an issued spec exactly as it was frozen; the last letter unless another is named.

    Raises
    ------
    LifeError
        If there is no such letter.
    RecordError
        If what was kept is lost or was altered.
    """
    life = read_life(premises.record, reference)
    specs = life.of(SpecIssued)
    wanted = [spec for spec in specs if letter in {None, spec.letter}]
    if not wanted:
        what = "no spec is issued yet" if letter is None else f"there is no spec {letter[:2]}"
        raise LifeError([Fault("P077", reference, what, "Issue it first.")])
    return read_spec(premises, life, wanted[-1].spec_sha256)


def read_spec(premises: Premises, life: Life, sha256: str) -> Spec:
    """Read a kept spec by its hash; where the customer was erased, as it is without them.

    Raises
    ------
    RecordError
        If it is lost or was altered.
    """
    kept = life.kept_under(sha256) or sha256
    return Spec.model_validate_json(find_content(premises.record, kept))


def kept_spec(spec: Spec) -> ToKeep:
    """Give a spec as it is kept: its canonical JSON, whose SHA-256 is the spec's."""
    return ToKeep("spec", spec.canonical_json().encode())


def written_answers(answers: Answers, by: Person) -> tuple[WarningAnswered, ...]:
    """Take the reasons written beside warnings; an engineer writes them, or who works alone.

    Raises
    ------
    LifeError
        If there are any and the person is no engineer, or a reason says nothing.
    """
    if faults := answer_faults(answers, by):
        raise LifeError(faults)
    return tuple(
        WarningAnswered(code=code, subject=subject, reason=reason.strip())
        for (code, subject), reason in answers.items()
    )


def answer_faults(answers: Answers, by: Person) -> list[Fault]:
    """Tell what is wrong with reasons beside warnings, to be told with other faults."""
    faults: list[Fault] = []
    for (code, _), reason in answers.items():
        faults += too_long_faults(code, reason, LONGEST_REASON)
        if len(reason.strip()) < 3:
            what = "the reason says nothing"
            faults.append(Fault("P078", code, what, "Write it in a few words."))
    if answers:
        faults += role_faults(by, ("engineer",), "write a reason to go on in spite of a warning")
    return faults
