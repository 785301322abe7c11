"""What waits for whom in a build, from its book alone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from configurator.build_life.entries import PackIssued, StageReached
from configurator.build_life.gate import Missing
from configurator.build_life.life import Life
from configurator.build_life.sign_off_state import sign_off_states, why_not_signed
from configurator.build_life.stage_gate import next_stage
from configurator.build_spec.days import day_in_words
from configurator.build_spec.sentences import listed
from configurator.catalog.models.as_built import RecordTemplate
from configurator.catalog.models.workshop import RoleId, SignOff, Stage


@dataclass(frozen=True)
class Waiting:
    """One thing that waits for somebody in a role."""

    role: RoleId
    what: str
    page: str
    """The screen on which it is done."""


def waiting_in(
    life: Life,
    *,
    is_complete: bool,
    draft_differs: bool,
    draft_warns: bool,
    stages: Sequence[Stage],
    sign_offs: Sequence[SignOff],
    records: Sequence[RecordTemplate],
    today: date,
    not_holding: Sequence[Missing] = (),
) -> tuple[Waiting, ...]:
    """Tell what waits for whom in a build, the most pressing first.

    Parameters
    ----------
    life : Life
        Of the build.
    is_complete : bool
        Whether the draft has no open choice.
    draft_differs : bool
        Whether the draft orders something else than the issued spec.
    draft_warns : bool
        Whether a check warns of that, so that an engineer has to write why it goes on.
    stages, sign_offs
        Of the workshop, in order.
    records
        What the workshop may have to measure, each with its stage.
    today : date
        The day it is asked.
    not_holding : sequence of Missing
        What does not hold on a vehicle that was corrected after the handover.

    Returns
    -------
    tuple of Waiting
        Empty once the vehicle is handed over and the owner knows each correction, or the build is
        closed.
    """
    if life.corrections:
        return tuple(_corrections(not_holding, owner_knows=life.owner_knows))
    pack = life.revision_to_give
    if pack is not None:
        what = f"Give revision {pack.revision} of the pack to the owner, and note it"
        return (Waiting("manager", what, "handover"),)
    if life.is_over:
        return ()
    if life.issued is None:
        return (_before_the_order(life, is_complete=is_complete, today=today),)
    return (
        *_changes(life, draft_differs=draft_differs, draft_warns=draft_warns),
        *_sign_offs(life, sign_offs),
        *_measuring(life, stages, records),
        *_stages(life, stages, sign_offs),
    )


def _corrections(not_holding: Sequence[Missing], *, owner_knows: bool) -> Iterator[Waiting]:
    """Tell the owner; what does not hold is mended before the next revision can be issued."""
    if not not_holding:
        what = "Tell the owner what was corrected: issue the next revision of the pack"
        yield Waiting("manager", what, "handover")
        return
    if not owner_knows:
        what = "Tell the owner today what was found, before the vehicle is driven or charged again"
        yield Waiting("manager", what, "handover")
    for role, page in dict.fromkeys((missing.role, missing.page) for missing in not_holding):
        names = [m.what for m in not_holding if (m.role, m.page) == (role, page)]
        yield Waiting(role, f"Mend it on the vehicle with its owner: {listed(names)}", page)


def _before_the_order(life: Life, *, is_complete: bool, today: date) -> Waiting:
    quoted = life.quotation
    if quoted is None:
        what = "Give a quotation" if is_complete else "Go on with the talk"
        return Waiting("consultant", what, "quotation" if is_complete else "consultation")
    until = day_in_words(quoted.valid_until)
    if today > quoted.valid_until:
        return Waiting("consultant", f"Renew Q{quoted.number}, expired on {until}", "quotation")
    what = f"Q{quoted.number} waits for the customer, until {until}"
    return Waiting("consultant", what, "quotation")


def _changes(life: Life, *, draft_differs: bool, draft_warns: bool) -> Iterator[Waiting]:
    order, issued = life.open_change, life.issued
    if order is not None:
        signed = {signature.by for signature in life.signatures(order.number)}
        if "customer" not in signed:
            what = f"Get the customer's signature under C{order.number}"
            yield Waiting("consultant", what, "changes")
        if "workshop" not in signed:
            yield Waiting("manager", f"Sign C{order.number} for the workshop", "changes")
    elif issued is not None and draft_differs:
        what = f"The draft was changed after spec {issued.letter}: write a change order"
        role: RoleId = "consultant"
        if draft_warns:
            role, what = "engineer", f"{what}, with why it goes on although a check warns"
        yield Waiting(role, what, "changes")


def _sign_offs(life: Life, sign_offs: Sequence[SignOff]) -> Iterator[Waiting]:
    missing = [state for state in sign_off_states(life, sign_offs) if state.signed is None]
    for state in missing:
        again = "again " if state.voided_because else ""
        yield Waiting(state.sign_off.role, f"Sign {again}“{state.sign_off.label}”", "sign-off")
    if not missing and why_not_signed(life, sign_offs):
        yield Waiting("second-person", "Sign as somebody who did not issue the spec", "sign-off")


def _measuring(
    life: Life, stages: Sequence[Stage], records: Sequence[RecordTemplate]
) -> Iterator[Waiting]:
    """Name the stages reached of which nothing is on record; which records, the spec tells."""
    reached = {body.stage_id for body in life.of(StageReached)}
    made = {record.record for record in life.records}
    asked = {stage.id: {r.id for r in records if r.stage == stage.id} for stage in stages}
    bare = [
        stage.label
        for stage in stages
        if stage.id in reached and asked[stage.id] and not asked[stage.id] & made
    ]
    if bare:
        what = f"Write down what was measured: {listed(bare)}"
        yield Waiting("engineer", what, "as-built")


def _stages(life: Life, stages: Sequence[Stage], sign_offs: Sequence[SignOff]) -> Iterator[Waiting]:
    issued, coming = life.issued, next_stage(life, stages)
    is_last = coming is None or coming is stages[-1]
    # As the gate of the stage sees it: what closes at a stage that there is no more is due as well.
    later = {stage.id for stage in stages[stages.index(coming) + 1 :]} if coming else set()
    closing = [c for c in issued.open_choices if c.closes_at not in later] if issued else []
    if coming is not None and closing:
        what = f"Close {len(closing)} open choice{'s' if len(closing) > 1 else ''} before "
        yield Waiting("consultant", f"{what}{coming.label}", "consultation")
    elif is_last and life.of(PackIssued):
        yield Waiting("manager", "Hand the vehicle over", "handover")
    elif life.open_change is not None or why_not_signed(life, sign_offs):
        return
    elif coming is None or is_last:
        yield Waiting("manager", "Issue the handover pack once nothing is missing", "handover")
    else:
        yield Waiting("manager", f"Note when {coming.label} is reached", "sign-off")
