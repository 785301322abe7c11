"""Which sign-offs hold for the issued spec, which are missing, and what voided the others."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from configurator.build_life.entries import (
    Body,
    ChangeOrdered,
    ChangeSigned,
    QuotationAccepted,
    Quoted,
    SignedOff,
    SignOffVoided,
)
from configurator.build_life.life import Entry, Life
from configurator.build_life.people import Person, same_name
from configurator.build_life.sections import sections_in_words
from configurator.build_spec.days import day_in_words
from configurator.build_spec.sentences import listed
from configurator.catalog.models.workshop import SignOff


@dataclass(frozen=True)
class VoidedSignature:
    """A signature that was given, and that a later letter made void."""

    label: str
    """Of the sign-off."""
    signed: Entry
    letter: str
    """That was signed."""
    by_letter: str
    """That made it void."""
    changed: tuple[str, ...]
    """Sections that it changed, in words."""

    @property
    def in_words(self) -> str:
        """Say who had signed, and why it holds no more."""
        signed_on = day_in_words(self.signed.made_at.date())
        return (
            f"“{self.label}” was signed on spec {self.letter} by {self.signed.by.in_words}, on "
            f"{signed_on}. It is void since spec {self.by_letter}, which changed "
            f"{listed(self.changed)}."
        )


@dataclass(frozen=True)
class SignOffState:
    """One of the workshop's sign-offs, as it stands for the issued spec."""

    sign_off: SignOff
    signed: Entry | None
    """The entry that holds; None while it is missing."""
    voided: VoidedSignature | None = None
    """The last signature that holds no more; None unless that is why it is missing."""

    @property
    def voided_because(self) -> tuple[str, ...]:
        """Sections that a later letter changed, in words."""
        return self.voided.changed if self.voided else ()

    @property
    def letter(self) -> str | None:
        """The letter it was signed on, which may be an earlier one."""
        body = self.signed.body if self.signed else None
        return body.letter if isinstance(body, SignedOff) else None


def sign_off_states(life: Life, sign_offs: Sequence[SignOff]) -> tuple[SignOffState, ...]:
    """Tell how each sign-off of the workshop stands, in its order; all missing before spec A."""
    holding = {signed.sign_off: signed for signed in life.holding_sign_offs}
    states = []
    for sign_off in sign_offs:
        signed = holding.get(sign_off.id)
        if signed is not None:
            states.append(SignOffState(sign_off, life.entry_of(signed)))
            continue
        voided = [void for void in life.of(SignOffVoided) if void.sign_off == sign_off.id]
        last = _voided(life, voided[-1], sign_off.label) if voided else None
        states.append(SignOffState(sign_off, None, last))
    return tuple(states)


def voided_signatures(life: Life, sign_offs: Sequence[SignOff]) -> tuple[VoidedSignature, ...]:
    """List every signature that holds no more, oldest first, also where it was given again."""
    labels = {sign_off.id: sign_off.label for sign_off in sign_offs}
    return tuple(
        _voided(life, void, labels.get(void.sign_off, void.sign_off))
        for void in life.of(SignOffVoided)
    )


def _voided(life: Life, void: SignOffVoided, label: str) -> VoidedSignature:
    signed = next(
        entry
        for entry in life.entries
        if isinstance(entry.body, SignedOff)
        and (entry.body.letter, entry.body.sign_off) == (void.letter, void.sign_off)
    )
    changed = sections_in_words(void.sections)
    return VoidedSignature(label, signed, void.letter, void.by_letter, changed)


def why_not_signed(life: Life, sign_offs: Sequence[SignOff]) -> tuple[str, ...]:
    """Say what the issued spec still lacks before it counts; empty when it is signed.

    Somebody else than who prepared it must be among the signers, unless one person works alone.
    """
    issued = life.issued
    if issued is None:
        return ("No spec is issued yet.",)
    if not sign_offs:
        return ("The workshop's catalog lists no sign-offs; add them to workshop.yaml.",)
    states = sign_off_states(life, sign_offs)
    missing = [_missing(state) for state in states if state.signed is None]
    return (*missing, *_only_the_preparer(life, states))


def one_signer_too_few(life: Life, sign_offs: Sequence[SignOff]) -> tuple[str, ...]:
    """Say that only who prepared the issued spec has signed it; empty where others have too."""
    return _only_the_preparer(life, sign_off_states(life, sign_offs))


def _only_the_preparer(life: Life, states: Sequence[SignOffState]) -> tuple[str, ...]:
    signers = [state.signed.by for state in states if state.signed is not None]
    names = {same_name(signer.name) for signer in signers}
    if len(names) == 1 and any(is_preparer(life, signer) for signer in signers):
        name = signers[0].name
        return (f"Only {name}, who prepared it, has signed; somebody else must too.",)
    return ()


def leaves_only_the_preparer(life: Life, sign_offs: Sequence[SignOff], by: Person) -> bool:
    """Whether a signature would be the last one, and all of them by who prepared the spec.

    Nobody else could sign any more then.
    """
    issued = life.issued
    states = sign_off_states(life, sign_offs)
    if issued is None or sum(state.signed is None for state in states) != 1:
        return False
    others = {same_name(state.signed.by.name) for state in states if state.signed is not None}
    return is_preparer(life, by) and others <= {same_name(by.name)}


def is_preparer(life: Life, person: Person) -> bool:
    """Whether somebody who works alone in no workshop prepared the issued spec.

    So does who issued it, and who wrote the quotation or the change order that it came from, also
    at a time when they were alone.
    """
    issued = life.issued
    if issued is None:
        return False
    entry = life.entry_of(issued)
    before = [other.body for other in life.entries if other.number < entry.number][-1:]
    preparers = [entry.by, *(life.entry_of(paper).by for paper in _papers(life, before))]
    return not person.is_solo and same_name(person.name) in {same_name(by.name) for by in preparers}


def _papers(life: Life, before: Sequence[Body]) -> list[Quoted | ChangeOrdered]:
    """Find what the entry just before an issued spec accepted or signed."""
    papers: list[Quoted | ChangeOrdered] = []
    for body in before:
        if isinstance(body, QuotationAccepted):
            papers += [quoted for quoted in life.of(Quoted) if quoted.number == body.number]
        if isinstance(body, ChangeSigned):
            papers += [order for order in life.of(ChangeOrdered) if order.number == body.number]
    return papers


def _missing(state: SignOffState) -> str:
    role = state.sign_off.role.replace("-", " ")
    if state.voided is not None:
        why = f"spec {state.voided.by_letter} changed {listed(state.voided_because)}"
        return f"“{state.sign_off.label}” is to be signed again ({role}): {why}."
    return f"“{state.sign_off.label}” is not signed yet ({role})."
