"""Note that the owner has a revision of the pack that was issued after the handover."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime

from configurator.build_life.entries import Body, PackIssued, RevisionGiven
from configurator.build_life.life import Entry, Life
from configurator.build_life.people import Person
from configurator.build_spec.days import day_in_words
from configurator.errors import Fault, LifeError
from configurator.record.book import read_life, write_entries
from configurator.workflow.overtaken import refuse_overtaken
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
    refuse_too_long(reference, how, LONGEST_REASON)
    life = read_life(premises.record, reference)
    faults = role_faults(by, ("manager",), "note that the owner has a revision")
    if len(how.strip()) < 3:
        what = "nothing says how the owner was given it"
        faults.append(Fault("P134", reference, what, "Write it in a few words."))
    pack = life.revision_to_give
    if pack is None:
        what = "no revision waits to be given to the owner (any more)"
        faults.append(Fault("P134", reference, what, "Look at the handover page as it is now."))
    else:
        faults += _day_faults(life, pack, given_on, now.date())
    if faults or pack is None:
        raise LifeError(faults)
    body = RevisionGiven(revision=pack.revision, given_on=given_on, how=how.strip())

    def bodies(there: Life) -> Sequence[Body]:
        refuse_overtaken(life, there, reference)
        return (body,)

    (entry,) = write_entries(premises.record, reference, bodies, by=by, now=now)
    return entry


def _day_faults(life: Life, pack: PackIssued, given_on: date, today: date) -> list[Fault]:
    issued_on = life.entry_of(pack).made_at.date()
    if given_on < issued_on:
        what = (
            f"the day, {day_in_words(given_on)}, is before revision {pack.revision} was issued, "
            f"{day_in_words(issued_on)}"
        )
        return [Fault("P134", "Day", what, "Write the day on which the owner had it.")]
    if given_on > today:
        what = f"the day, {day_in_words(given_on)}, is still to come"
        return [Fault("P134", "Day", what, "Note it on the day itself.")]
    return []
