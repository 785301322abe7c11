"""Note what the owner was told and given after the handover."""

from __future__ import annotations

from datetime import date, datetime

from configurator.build_life.entries import OwnerTold, RevisionGiven
from configurator.build_life.life import Entry, Life
from configurator.build_life.people import Person
from configurator.build_spec.days import day_in_words
from configurator.errors import Fault, LifeError
from configurator.record.book import read_life, write_entries
from configurator.workflow.overtaken import unless_overtaken
from configurator.workflow.premises import Premises
from configurator.workflow.rights import role_faults
from configurator.workflow.typed_words import LONGEST_REASON, refuse_too_long


def note_revision_given(
    premises: Premises, reference: str, *, given_on: date, how: str, by: Person, now: datetime
) -> Entry:
    """Note that the owner was given the last revision of the pack.

    Parameters
    ----------
    premises, reference
        Where the build is.
    given_on : date
        Not before it was issued, not in the future.
    how : str
        By hand, by post: where that is found; no names.
    by : Person
        A manager.
    now : datetime
        Aware, UTC.

    Raises
    ------
    LifeError
        With every fault of it: another role, nothing to give, a day that cannot be, no words.
    OvertakenError
        If somebody else noted it a moment before.
    """
    life, faults = _begun(premises, reference, how, by)
    pack = life.revision_to_give
    if pack is None:
        what = "no revision waits to be given to the owner (any more)"
        faults.append(Fault("P134", reference, what, "Look at the handover page as it is now."))
    else:
        faults += _day_faults(life.entry_of(pack), given_on, now.date())
    if faults or pack is None:
        raise LifeError(faults)
    body = RevisionGiven(revision=pack.revision, given_on=given_on, how=how.strip())
    bodies = unless_overtaken(life, reference, body)
    return write_entries(premises.record, reference, bodies, by=by, now=now)[0]


def note_owner_told(
    premises: Premises, reference: str, *, told_on: date, how: str, by: Person, now: datetime
) -> Entry:
    """Note that the owner was told what was found on the vehicle after the handover.

    Parameters
    ----------
    premises, reference
        Where the build is.
    told_on : date
        Not before the first correction that no pack tells, not in the future.
    how : str
        By telephone, in writing: where that is found; no names.
    by : Person
        A manager.
    now : datetime
        Aware, UTC.

    Raises
    ------
    LifeError
        With every fault of it: another role, nothing to tell, a day that cannot be, no words.
    OvertakenError
        If somebody else noted something a moment before.
    """
    life, faults = _begun(premises, reference, how, by)
    if not life.corrections:
        what = "nothing was corrected after the handover that the owner does not know"
        faults.append(Fault("P134", reference, what, "Look at the handover page as it is now."))
    else:
        faults += _day_faults(life.corrections[0], told_on, now.date())
    if faults:
        raise LifeError(faults)
    body = OwnerTold(told_on=told_on, how=how.strip())
    bodies = unless_overtaken(life, reference, body)
    return write_entries(premises.record, reference, bodies, by=by, now=now)[0]


def _begun(premises: Premises, reference: str, how: str, by: Person) -> tuple[Life, list[Fault]]:
    refuse_too_long(reference, how, LONGEST_REASON)
    faults = role_faults(by, ("manager",), "note what the owner was told or given")
    if len(how.strip()) < 3:
        what = "nothing says how the owner was told or given it"
        faults.append(Fault("P134", reference, what, "Write it in a few words."))
    return read_life(premises.record, reference), faults


def _day_faults(after: Entry, on: date, today: date) -> list[Fault]:
    first = after.made_at.date()
    if on < first:
        what = (
            f"the day, {day_in_words(on)}, is before what there is to tell, {day_in_words(first)}"
        )
        return [Fault("P134", "Day", what, "Write the day on which the owner heard or had it.")]
    if on > today:
        what = f"the day, {day_in_words(on)}, is still to come"
        return [Fault("P134", "Day", what, "Note it on the day itself.")]
    return []
