"""The gate lists what is missing, with who can close it, and opens when nothing is."""

from __future__ import annotations

from datetime import UTC, date, datetime
from decimal import Decimal

import pytest

from configurator.build_life.entries import (
    AsBuiltRecorded,
    Body,
    ChangeOrdered,
    SignedOff,
    StageReached,
)
from configurator.build_life.freezing import freeze_entries
from configurator.build_life.gate import missing_for_handover
from configurator.build_life.life import Entry, Life
from configurator.build_life.people import Person
from configurator.build_life.required_records import required_records
from configurator.build_life.sections import section_hashes
from configurator.build_life.tolerances import RecordVerdict, record_verdicts
from configurator.build_spec.spec import Finding, Spec
from configurator.catalog.models.as_built import RecordTemplate
from configurator.catalog.models.workshop import SignOff, Stage
from tests.documents.sample_spec import open_spec, sample_spec

ENGINEER = Person(name="Engineer", role="engineer")
SECOND = Person(name="Second", role="second-person")
STAGES = tuple(
    Stage(id=label.lower().replace(" ", "-"), label=label, due_percent=Decimal(percent))
    for label, percent in (("Dry build", 40), ("Final assembly", 60), ("Handover", 0))
)
SIGN_OFF = SignOff.model_validate(
    {
        "id": "design",
        "label": "Design",
        "role": "second-person",
        "covers": ["weights"],
        "statement": "I read it.",
        "source": "common practice, no source",
    }
)


def sound(spec: Spec) -> Spec:
    return spec.model_copy(update={"findings": ()})


def life_of(*bodies: Body) -> Life:
    at = datetime(2026, 11, 26, 9, 30, tzinfo=UTC)
    return Life(
        tuple(
            Entry(n, body, SECOND if isinstance(body, SignedOff) else ENGINEER, at, "a" * 64)
            for n, body in enumerate(bodies, 1)
        )
    )


def everything_done(spec: Spec) -> list[Body]:
    frozen = freeze_entries(Life(()), spec, revision=1, answered=(), because="", stages=STAGES)
    signed = SignedOff(
        letter="A",
        sign_off="design",
        spec_sha256=spec.sha256(),
        section_sha256={"weights": section_hashes(spec)["weights"]},
    )
    reached = [
        StageReached(stage_id=stage, reached_on=date(2026, 11, 26), letter="A")
        for stage in ("dry-build", "final-assembly")
    ]
    return [*frozen, signed, *reached]


def missing(
    life: Life, spec: Spec | None, *records: RecordVerdict, differs: bool = False
) -> list[str]:
    found = missing_for_handover(
        life,
        spec,
        records=records,
        stages=STAGES,
        sign_offs=(SIGN_OFF,),
        draft_differs=differs,
    )
    return [one.what for one in found]


def isolation_of(spec: Spec, kohm: float | None) -> RecordVerdict:
    """Hold what was measured, or nothing, against what is computed."""
    template = RecordTemplate.model_validate(
        {
            "id": "isolation",
            "label": "Isolation",
            "stage": "dry-build",
            "values": [{"id": "least", "label": "Least", "at_least": "isolation-kohm"}],
            "needs_instrument": False,
            "needs_calibration": False,
            "because": "It is invented.",
            "source": "invented for tests",
        }
    )
    made = AsBuiltRecorded(
        record="isolation",
        values={} if kohm is None else {"least": kohm},
        measured_on=date(2026, 11, 26),
        by="Somebody",
    )
    required = required_records(spec, (template,))[:1]
    return record_verdicts(required, () if kohm is None else (made,), spec)[0]


def test_the_gate_opens_when_nothing_is_missing() -> None:
    spec = sound(sample_spec())
    assert [] == missing(life_of(*everything_done(spec)), spec)


def test_before_a_spec_is_issued_that_alone_is_missing() -> None:
    assert ["No spec is issued"] == missing(Life(()), None)


@pytest.mark.parametrize("left_out", [1, 2, 3])
def test_each_missing_signature_or_stage_closes_it(left_out: int) -> None:
    spec = sound(sample_spec())
    bodies = everything_done(spec)
    del bodies[left_out]
    expected = {
        1: "Sign-off: Design",
        2: "Dry build is not reached",
        3: "Final assembly is not reached",
    }
    assert [expected[left_out]] == missing(life_of(*bodies), spec)


def test_a_blocking_finding_a_record_and_a_changed_draft_close_it() -> None:
    spec = sound(sample_spec())
    finding = Finding(
        code="F001",
        severity="blocks",
        subject="axle",
        sentence="The rear axle is beyond its limit.",
        source="measured",
        remedy="Take load out.",
    )
    blocked = spec.model_copy(update={"findings": (finding,)})
    record = isolation_of(spec, None)
    found = missing(life_of(*everything_done(spec)), blocked, record, differs=True)
    assert [
        "The draft was changed after spec A",
        "Isolation",
        "The rear axle is beyond its limit",
    ] == found


def test_what_a_record_says_is_told_once_and_not_again_by_the_check_it_answers() -> None:
    spec = sound(sample_spec())
    warns = [
        Finding(
            code="F031",
            severity="warns",
            subject=subject,
            sentence=f"{subject} is too little.",
            source="measured",
            remedy="Mend it.",
        )
        for subject in ("isolation-dc", "isolation-joined", "bonding")
    ]
    warned = spec.model_copy(update={"findings": tuple(warns)})
    life = life_of(*everything_done(spec))
    record = isolation_of(spec, 0.01)
    assert False is record.in_tolerance
    assert ["Isolation", "bonding is too little"] == missing(life, warned, record)
    assert 3 == len(missing(life, warned, isolation_of(spec, 1e9)))


def test_open_choices_and_a_change_that_waits_close_it() -> None:
    spec = sound(open_spec())
    order = ChangeOrdered(
        number=1,
        from_letter="A",
        from_sha256="0" * 64,
        to_sha256="1" * 64,
        catalog_sha256="2" * 64,
        revision=3,
        stage_id="dry-build",
        price_change_gbp=Decimal(1),
        late_change_gbp=Decimal(0),
        document_sha256="3" * 64,
    )
    found = missing(life_of(*everything_done(spec), order), spec, differs=True)
    assert f"{spec.open_groups[0].group_label} is still open" in found
    assert "Change order C1 waits for a signature" in found
    assert not any("draft" in what for what in found), "the change order is that draft"
