"""What waits once the work has begun: measuring, the pack, the handover; each on its screen."""

from __future__ import annotations

from datetime import UTC, date, datetime
from decimal import Decimal

from configurator.build_life.entries import (
    AsBuiltRecorded,
    Body,
    OpenChoice,
    PackIssued,
    SignedOff,
    SpecIssued,
    StageReached,
)
from configurator.build_life.life import Entry, Life
from configurator.build_life.people import Person
from configurator.build_life.waiting import waiting_in
from configurator.catalog.models.as_built import RecordTemplate
from configurator.catalog.models.workshop import SignOff, Stage

DAY = date(2026, 11, 26)
STAGES = tuple(
    Stage(id=label.lower(), label=label, due_percent=Decimal(0))
    for label in ("Order", "Wiring", "Driving", "Leaving")
)
RECORDS = tuple(
    RecordTemplate.model_validate(
        {
            "id": name,
            "label": name,
            "stage": stage,
            "values": [{"id": "seen", "label": "Seen", "kind": "yes-no"}],
            "because": "It is looked at.",
            "source": "common practice, no source",
        }
    )
    for name, stage in (("cable", "wiring"), ("plug", "wiring"), ("brake", "driving"))
)
ISSUED = SpecIssued(
    letter="A",
    spec_sha256="a" * 64,
    catalog_sha256="b" * 64,
    revision=1,
    section_sha256={"weights": "d" * 64},
    total_gbp=Decimal(1),
)
SIGN_OFF = SignOff.model_validate(
    {
        "id": "design",
        "label": "Design",
        "role": "engineer",
        "covers": ["weights"],
        "statement": "I read it.",
        "source": "common practice, no source",
    }
)
SIGNED = SignedOff(
    letter="A", sign_off="design", spec_sha256="a" * 64, section_sha256={"weights": "d" * 64}
)
ISSUER = Person(name="Somebody", role="manager")
OTHER = Person(name="Somebody else", role="engineer")
PACK = PackIssued(
    revision=1,
    letter="A",
    spec_sha256="a" * 64,
    document_sha256="c" * 64,
    document_name="pack.pdf",
)


def reached(*stages: str) -> list[Body]:
    return [StageReached(stage_id=stage, reached_on=DAY, letter="A") for stage in stages]


def recorded(record: str) -> Body:
    return AsBuiltRecorded(record=record, values={"seen": "yes"}, measured_on=DAY, by="Somebody")


def waits(*bodies: Body, differs: bool = False, warns: bool = False) -> list[tuple[str, str, str]]:
    at = datetime(2026, 11, 26, 9, 30, tzinfo=UTC)
    entries = tuple(
        Entry(n, body, OTHER if isinstance(body, SignedOff) else ISSUER, at, "a" * 64)
        for n, body in enumerate((ISSUED, SIGNED, *bodies), 1)
    )
    found = waiting_in(
        Life(entries),
        is_complete=True,
        draft_differs=differs,
        draft_warns=warns,
        stages=STAGES,
        sign_offs=(SIGN_OFF,),
        records=RECORDS,
        today=DAY,
    )
    return [(one.role, one.what, one.page) for one in found]


# Source of these: common practice, no source.
def test_a_stage_of_which_nothing_is_on_record_waits_for_the_engineer() -> None:
    measure = ("engineer", "Write down what was measured: Wiring", "as-built")
    assert [("manager", "Note when Wiring is reached", "sign-off")] == waits(*reached("order"))
    assert measure in waits(*reached("order", "wiring"))
    assert measure not in waits(*reached("order", "wiring"), recorded("cable"))
    both = waits(*reached("order", "wiring", "driving"))
    assert "Write down what was measured: Wiring and Driving" in [what for _, what, _ in both]


def test_a_choice_that_a_stage_gone_from_the_workshop_closes_is_waited_for() -> None:
    for closes_at, waited in (("gone", True), ("wiring", True), ("driving", False)):
        open_choice = OpenChoice(group_id="lamps", closes_at=closes_at, label="Lamps")
        issued = ISSUED.model_copy(update={"open_choices": (open_choice,)})
        told = waits(issued, SIGNED, *reached("order"))
        what = ("consultant", "Close 1 open choice before Wiring", "consultation")
        assert waited == (what in told)


def test_after_the_last_work_the_pack_waits_and_then_the_handover() -> None:
    done = [*reached("order", "wiring", "driving"), recorded("cable"), recorded("brake")]
    assert [("manager", "Issue the handover pack once nothing is missing", "handover")] == waits(
        *done
    )
    assert [("manager", "Hand the vehicle over", "handover")] == waits(*done, PACK)


def test_a_changed_draft_waits_for_whoever_may_write_its_change_order() -> None:
    (plain, _) = waits(*reached("order"), differs=True)
    (warned, _) = waits(*reached("order"), differs=True, warns=True)
    assert ("consultant", "engineer") == (plain[0], warned[0])
    assert "why it goes on although a check warns" in warned[1]
