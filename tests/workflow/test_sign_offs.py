"""Sign-offs name a person, a role and one exact spec; stages wait for them and for open choices."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from configurator.build_life.entries import SignedOff, SpecIssued
from configurator.build_life.people import Person
from configurator.errors import LifeError, OvertakenError
from configurator.record.book import read_life
from configurator.workflow.builds import read_draft
from configurator.workflow.consultation import set_house_choices
from configurator.workflow.issuing import freeze
from configurator.workflow.papers import spec_of_draft
from configurator.workflow.premises import Premises, open_premises
from configurator.workflow.quotations import accept_quotation, give_quotation
from configurator.workflow.sign_offs import how_sign_offs_stand, sign
from configurator.workflow.stages import reach_stage

ENGINEER = Person(name="Invented Engineer", role="engineer")
CONSULTANT = Person(name="Invented Consultant", role="consultant")


def freeze_now(
    premises: Premises, reference: str, now: datetime, by: Person = ENGINEER
) -> SpecIssued:
    findings = spec_of_draft(premises, reference).findings
    return freeze(
        premises,
        reference,
        revision=read_draft(premises, reference).revision,
        answers={(f.code, f.subject): "Seen" for f in findings if f.severity == "warns"},
        by=by,
        now=now,
    )


@pytest.fixture
def issued(premises: Premises, reference: str, now: datetime) -> SpecIssued:
    set_house_choices(premises, reference, revision=1, wanted=True, now=now)
    return freeze_now(premises, reference, now)


def codes(error: pytest.ExceptionInfo[LifeError]) -> list[str]:
    return sorted(fault.code for fault in error.value.faults)


def test_a_sign_off_names_person_role_time_and_the_exact_spec(
    premises: Premises, reference: str, issued: SpecIssued, now: datetime
) -> None:
    sha256 = issued.spec_sha256
    entry = sign(premises, reference, "sums", spec_sha256=sha256, by=ENGINEER, now=now)
    assert (ENGINEER, now) == (entry.by, entry.made_at)
    assert isinstance(entry.body, SignedOff)
    assert (sha256, "A") == (entry.body.spec_sha256, entry.body.letter)
    states, missing = how_sign_offs_stand(premises, reference)
    assert entry == states[0].signed
    assert 2 == len(missing), "the other one, and that only the preparer has signed"


def test_another_role_cannot_sign(
    premises: Premises, reference: str, issued: SpecIssued, now: datetime
) -> None:
    with pytest.raises(LifeError) as refused:
        sign(premises, reference, "sums", spec_sha256=issued.spec_sha256, by=CONSULTANT, now=now)
    assert ["P085"] == codes(refused)


def test_one_person_alone_signs_everything_and_that_stands_beside_it(
    premises: Premises, reference: str, issued: SpecIssued, now: datetime
) -> None:
    alone = Person(name="Invented Person", role="manager", is_solo=True)
    for sign_off in ("sums", "promise"):
        entry = sign(
            premises, reference, sign_off, spec_sha256=issued.spec_sha256, by=alone, now=now
        )
        assert "alone in this workshop" in entry.by.in_words


def test_what_was_read_must_be_what_counts(
    premises: Premises, reference: str, issued: SpecIssued, now: datetime
) -> None:
    with pytest.raises(LifeError) as refused:
        sign(premises, reference, "sums", spec_sha256="0" * 64, by=ENGINEER, now=now)
    assert ["P086"] == codes(refused)


@pytest.mark.parametrize("name", ["Invented Engineer", "INVENTED  engineer"])
def test_the_preparer_cannot_give_every_signature_in_several_roles(
    premises: Premises, reference: str, issued: SpecIssued, now: datetime, name: str
) -> None:
    sha256 = issued.spec_sha256
    sign(premises, reference, "sums", spec_sha256=sha256, by=ENGINEER, now=now)
    in_another_hat = Person(name=name, role="consultant")
    with pytest.raises(LifeError) as refused:
        sign(premises, reference, "promise", spec_sha256=sha256, by=in_another_hat, now=now)
    assert ["P084"] == codes(refused)
    sign(premises, reference, "promise", spec_sha256=sha256, by=CONSULTANT, now=now)
    assert () == how_sign_offs_stand(premises, reference)[1]


def test_who_wrote_the_quotation_prepared_the_spec_though_another_noted_the_acceptance(
    premises: Premises, reference: str, now: datetime
) -> None:
    set_house_choices(premises, reference, revision=1, wanted=True, now=now)
    both_hats = CONSULTANT.name
    give_quotation(premises, reference, revision=2, by=CONSULTANT, now=now)
    findings = spec_of_draft(premises, reference).findings
    issued = accept_quotation(
        premises,
        reference,
        1,
        how="On paper",
        accepted_on=now.date(),
        answers={(f.code, f.subject): "Seen" for f in findings if f.severity == "warns"},
        by=ENGINEER,
        now=now,
    )
    sha256 = issued.spec_sha256
    sign(premises, reference, "promise", spec_sha256=sha256, by=CONSULTANT, now=now)
    other_hat = Person(name=both_hats, role="engineer")
    with pytest.raises(LifeError) as refused:
        sign(premises, reference, "sums", spec_sha256=sha256, by=other_hat, now=now)
    assert ["P084"] == codes(refused)


def test_the_preparer_is_no_second_person(
    premises: Premises, reference: str, issued: SpecIssued, now: datetime
) -> None:
    workshop = premises.catalog.workshop
    read = workshop.sign_offs[0].model_copy(update={"id": "read", "role": "second-person"})
    catalog = premises.catalog.model_copy(
        update={"workshop": workshop.model_copy(update={"sign_offs": (*workshop.sign_offs, read)})}
    )
    there = replace(premises, catalog=catalog)
    second = Person(name=ENGINEER.name, role="second-person")
    with pytest.raises(LifeError) as refused:
        sign(there, reference, "read", spec_sha256=issued.spec_sha256, by=second, now=now)
    assert ["P084"] == codes(refused)


def test_who_prepared_a_spec_alone_is_no_second_person_once_others_have_accounts(
    premises: Premises, reference: str, now: datetime
) -> None:
    set_house_choices(premises, reference, revision=1, wanted=True, now=now)
    alone = Person(name=ENGINEER.name, role="engineer", is_solo=True)
    sha256 = freeze_now(premises, reference, now, by=alone).spec_sha256
    sign(premises, reference, "sums", spec_sha256=sha256, by=alone, now=now)
    with_an_account = Person(name=ENGINEER.name, role="consultant")
    with pytest.raises(LifeError) as refused:
        sign(premises, reference, "promise", spec_sha256=sha256, by=with_an_account, now=now)
    assert ["P084"] == codes(refused)
    sign(premises, reference, "promise", spec_sha256=sha256, by=CONSULTANT, now=now)
    assert () == how_sign_offs_stand(premises, reference)[1]


def test_an_unknown_sign_off_is_told(premises: Premises, reference: str, now: datetime) -> None:
    with pytest.raises(LifeError, match="Did you mean"):
        sign(premises, reference, "sum", spec_sha256="0" * 64, by=ENGINEER, now=now)


def test_of_two_who_sign_at_once_one_wins_and_the_other_is_told(
    premises: Premises, reference: str, issued: SpecIssued, now: datetime
) -> None:
    def attempt(number: int) -> bool:
        by = Person(name=f"Engineer {number}", role="engineer")
        try:
            sign(premises, reference, "sums", spec_sha256=issued.spec_sha256, by=by, now=now)
        except (LifeError, OvertakenError):
            return False
        return True

    with ThreadPoolExecutor(8) as pool:
        assert 1 == sum(pool.map(attempt, range(16)))
    assert 1 == len(read_life(premises.record, reference).of(SignedOff))


def test_stages_are_reached_in_order_and_the_work_waits_for_the_sign_offs(
    premises: Premises, reference: str, issued: SpecIssued, now: datetime
) -> None:
    today = now.date()

    def reach(stage: str) -> None:
        reach_stage(premises, reference, stage, reached_on=today, by=ENGINEER, now=now)

    with pytest.raises(LifeError) as too_early:
        reach("build")
    assert "L008" in codes(too_early)
    with pytest.raises(LifeError) as unsigned:
        reach("begin")
    assert {"L010"} == set(codes(unsigned)), "a spec that is not signed is no order yet"
    sha256 = issued.spec_sha256
    sign(premises, reference, "sums", spec_sha256=sha256, by=ENGINEER, now=now)
    sign(premises, reference, "promise", spec_sha256=sha256, by=CONSULTANT, now=now)
    reach("begin")
    reach("build")
    stage = read_life(premises.record, reference).stage
    assert stage is not None
    assert "build" == stage.stage_id


def test_a_stage_waits_for_the_choice_that_it_closes(
    premises: Premises, reference: str, now: datetime
) -> None:
    issued = freeze_now(premises, reference, now)
    assert {"begin", "build", "give-back"} >= {choice.closes_at for choice in issued.open_choices}
    assert issued.open_choices
    first = min(
        issued.open_choices, key=lambda choice: premises.catalog.stage_order[choice.closes_at]
    )
    sha256, today = issued.spec_sha256, now.date()
    sign(premises, reference, "sums", spec_sha256=sha256, by=ENGINEER, now=now)
    sign(premises, reference, "promise", spec_sha256=sha256, by=CONSULTANT, now=now)
    for stage in premises.catalog.stages:
        if stage.id == first.closes_at:
            with pytest.raises(LifeError) as refused:
                reach_stage(premises, reference, stage.id, reached_on=today, by=ENGINEER, now=now)
            assert {"L009"} == set(codes(refused))
            label = premises.catalog.group_by_id[first.group_id].label
            assert f"the choice “{label}” is still open" in str(refused.value)
            return
        reach_stage(premises, reference, stage.id, reached_on=today, by=ENGINEER, now=now)


def test_a_stage_is_not_noted_before_its_day(
    premises: Premises, reference: str, issued: SpecIssued, now: datetime
) -> None:
    tomorrow = now.date() + timedelta(days=1)
    with pytest.raises(LifeError) as refused:
        reach_stage(premises, reference, "begin", reached_on=tomorrow, by=ENGINEER, now=now)
    assert ["P089"] == codes(refused)


def test_a_consultant_issues_no_spec_and_notes_no_stage(
    premises: Premises, reference: str, issued: SpecIssued, now: datetime
) -> None:
    with pytest.raises(LifeError) as refused:
        freeze(premises, reference, revision=2, answers={}, by=CONSULTANT, now=now)
    assert ["P130"] == codes(refused)
    with pytest.raises(LifeError) as refused:
        reach_stage(premises, reference, "begin", reached_on=now.date(), by=CONSULTANT, now=now)
    assert ["P130"] == codes(refused)


def test_a_stage_is_not_reached_before_what_precedes_it(
    premises: Premises, reference: str, issued: SpecIssued, now: datetime
) -> None:
    before = now.date() - timedelta(days=1)
    with pytest.raises(LifeError) as refused:
        reach_stage(premises, reference, "begin", reached_on=before, by=ENGINEER, now=now)
    assert "P131" in codes(refused)


def test_a_note_that_has_no_room_is_refused_not_cut(
    premises: Premises, reference: str, issued: SpecIssued, now: datetime
) -> None:
    sha256 = issued.spec_sha256
    with pytest.raises(LifeError) as refused:
        sign(premises, reference, "sums", spec_sha256=sha256, note="x" * 201, by=ENGINEER, now=now)
    assert ["P082"] == codes(refused)


def test_a_sign_off_taken_out_of_the_catalog_is_still_asked_of_what_was_issued(
    premises: Premises, reference: str, issued: SpecIssued, now: datetime
) -> None:
    workshop = premises.catalog_folder / "workshop.yaml"
    kept = [line for line in workshop.read_text().splitlines() if "id: promise" not in line]
    workshop.write_text("\n".join(kept) + "\n")
    later = open_premises(premises.catalog_folder, premises.data_folder)
    assert ["sums"] == [sign_off.id for sign_off in later.catalog.workshop.sign_offs]
    states, missing = how_sign_offs_stand(later, reference)
    assert ["sums", "promise"] == [state.sign_off.id for state in states]
    assert any("The promise" in sentence for sentence in missing)
    later.record.engine.dispose()
