"""Which sign-offs hold for the issued spec, which are missing, and what voided the others."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from configurator.build_life.entries import SignedOff, SignOffVoided
from configurator.build_life.life import Entry, Life
from configurator.build_life.sections import sections_in_words
from configurator.catalog.models.workshop import SignOff


@dataclass(frozen=True)
class SignOffState:
    """One of the workshop's sign-offs, as it stands for the issued spec."""

    sign_off: SignOff
    signed: Entry | None
    """The entry that holds; None while it is missing."""
    voided_because: tuple[str, ...] = ()
    """Sections that a later letter changed, in words; empty unless that is why it is missing."""

    @property
    def letter(self) -> str | None:
        """The letter it was signed on, which may be an earlier one."""
        body = self.signed.body if self.signed else None
        return body.letter if isinstance(body, SignedOff) else None


def sign_off_states(life: Life, sign_offs: Sequence[SignOff]) -> tuple[SignOffState, ...]:
    """Tell how each sign-off of the workshop stands, in its order; all missing before spec A."""
    holding = {signed.sign_off: signed for signed in life.holding_sign_offs}
    voided = {void.sign_off: void for void in life.of(SignOffVoided)}
    states = []
    for sign_off in sign_offs:
        signed = holding.get(sign_off.id)
        if signed is not None:
            states.append(SignOffState(sign_off, life.entry_of(signed)))
            continue
        void = voided.get(sign_off.id)
        why = sections_in_words(void.sections) if void is not None else ()
        states.append(SignOffState(sign_off, None, why))
    return tuple(states)


def why_not_signed(life: Life, sign_offs: Sequence[SignOff]) -> tuple[str, ...]:
    """Say what the issued spec still lacks before it counts; empty when it is signed.

    Somebody else than who issued it must be among the signers, unless one person works alone.
    """
    issued = life.issued
    if issued is None:
        return ("No spec is issued yet.",)
    if not sign_offs:
        return ("The workshop's catalog lists no sign-offs; add them to workshop.yaml.",)
    states = sign_off_states(life, sign_offs)
    missing = [_missing(state) for state in states if state.signed is None]
    signers = {state.signed.by for state in states if state.signed is not None}
    preparer = life.entry_of(issued).by
    alone = all(signer.name == preparer.name for signer in signers)
    if signers and alone and not preparer.is_solo:
        missing.append(f"Only {preparer.name}, who issued it, has signed; somebody else must too.")
    return tuple(missing)


def _missing(state: SignOffState) -> str:
    role = state.sign_off.role.replace("-", " ")
    if state.voided_because:
        changed = ", ".join(state.voided_because)
        return f"{state.sign_off.label} is to be signed again ({role}): {changed} changed."
    return f"{state.sign_off.label} is not signed yet ({role})."
