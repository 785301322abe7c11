"""What stands against writing or signing a change order, as the build's book is now."""

from __future__ import annotations

from configurator.build_life.entries import ChangeOrdered, SpecIssued
from configurator.build_life.life import Life
from configurator.errors import Fault, LifeError


def may_change(life: Life, reference: str) -> SpecIssued:
    """Give the issued spec that a change order may start from.

    Raises
    ------
    LifeError
        If none is issued, the vehicle was handed over, or another change order waits.
    """
    issued, waiting = life.issued, life.open_change
    if issued is None:
        what = "no spec is issued yet, so there is nothing to change"
        raise LifeError([Fault("P125", reference, what, "Change the draft itself.")])
    if life.handed_over is not None:
        what = "the vehicle was handed over"
        raise LifeError([Fault("P128", reference, what, "Start a new build for later work.")])
    if waiting is not None:
        what = f"change order C{waiting.number} still waits for a signature"
        raise LifeError([Fault("P126", reference, what, "Have it signed, or withdraw it.")])
    return issued


def waiting_order(life: Life, number: int) -> ChangeOrdered:
    """Give the change order of a number that waits for signatures.

    Raises
    ------
    LifeError
        If it does not wait (any more).
    """
    waiting = life.open_change
    if waiting is None or waiting.number != number:
        what = "it does not wait for a signature (any more)"
        raise LifeError([Fault("P127", f"C{number}", what, "Look at the build as it is now.")])
    return waiting


def refuse_overtaken(life: Life, order: ChangeOrdered) -> None:
    """Let nobody sign a change order that says what does not hold any more.

    Raises
    ------
    LifeError
        If another spec was issued since it was written.
    """
    faults = overtaken_faults(life, order)
    if faults:
        raise LifeError(faults)


def overtaken_faults(life: Life, order: ChangeOrdered) -> list[Fault]:
    """Tell why a change order does not hold any more; empty while it does."""
    issued = life.issued
    if issued is not None and issued.letter == order.from_letter:
        return []
    what = f"it starts from spec {order.from_letter}, and another counts now"
    return [Fault("P122", f"C{order.number}", what, "Withdraw it, and write it anew.")]
