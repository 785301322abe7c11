"""Write why a vehicle is handed over although a check warns of it as it was measured."""

from __future__ import annotations

from datetime import datetime

from configurator.build_life.entries import MeasuredWarningAnswered
from configurator.build_life.gate import out_of_tolerance, unanswered_warnings
from configurator.build_life.life import Entry
from configurator.build_life.people import Person
from configurator.build_spec.sentences import listed
from configurator.errors import Fault, LifeError
from configurator.record.book import read_life, write_entries
from configurator.workflow.as_built import how_built_stands, spec_as_measured
from configurator.workflow.overtaken import unless_overtaken
from configurator.workflow.premises import Premises
from configurator.workflow.rights import role_faults
from configurator.workflow.typed_words import LONGEST_REASON, refuse_too_long


def answer_measured_warning(
    premises: Premises,
    reference: str,
    code: str,
    subject: str,
    *,
    reason: str,
    by: Person,
    now: datetime,
) -> Entry:
    """Write why a vehicle is handed over although a check warns of what was measured on it.

    Parameters
    ----------
    premises, reference
        Where the build is.
    code, subject : str
        Of the finding.
    reason : str
        Why it may be so; the pack prints it. No names of customers.
    by : Person
        An engineer.
    now : datetime
        Aware, UTC.

    Raises
    ------
    LifeError
        If another role writes it, the reason says nothing, nothing warns of this (any more), or
        a record is out of tolerance.
    """
    refuse_too_long(code, reason, LONGEST_REASON)
    life, state = read_life(premises.record, reference), how_built_stands(premises, reference)
    spec = spec_as_measured(premises, state)
    faults = role_faults(by, ("engineer",), "write a reason to go on in spite of a warning")
    if len(reason.strip()) < 3:
        faults.append(Fault("P078", code, "the reason says nothing", "Write it in a few words."))
    found = [
        finding
        for finding in unanswered_warnings(life, spec)
        if (finding.code, finding.subject) == (code, subject)
    ]
    if not found:
        what = "nothing warns of this without a reason (any more)"
        faults.append(Fault("P109", code[:40], what, "Look at the handover page as it is now."))
    beyond = [verdict.record.label for verdict in out_of_tolerance(state.verdicts)]
    if beyond:
        what = f"out of tolerance, which no reason makes good: {listed(beyond)}"
        faults.append(Fault("P132", code, what, "Mend and measure again, then write the reason."))
    if faults:
        raise LifeError(faults)
    body = MeasuredWarningAnswered(
        code=code, subject=subject, value=found[0].value, reason=reason.strip()
    )
    bodies = unless_overtaken(life, reference, body)
    return write_entries(premises.record, reference, bodies, by=by, now=now)[0]
