"""What is issued stays: lettered, whole, and computed with the catalog of its day."""

from __future__ import annotations

from datetime import datetime

import pytest

from configurator.build_life.entries import SignedOff
from configurator.build_life.people import Person
from configurator.build_life.sections import section_hashes
from configurator.build_life.sign_off_state import (
    sign_off_states,
    voided_signatures,
    why_not_signed,
)
from configurator.build_spec.pipeline import specify
from configurator.catalog.models.workshop import SignOff
from configurator.errors import LifeError, StaleDraftError
from configurator.record.book import read_life, write_entries
from configurator.workflow.builds import read_draft
from configurator.workflow.consultation import pick_option, set_house_choices, undo_last_change
from configurator.workflow.issued_catalogs import catalog_of
from configurator.workflow.issuing import freeze, issued_spec
from configurator.workflow.papers import spec_of_draft
from configurator.workflow.premises import Premises, open_premises
from tests.workflow.led_through_life import freeze_it

ENGINEER = Person(name="Invented Engineer", role="engineer")
SECOND = Person(name="Invented Second", role="second-person")
DESIGN = SignOff(
    id="design",
    label="Design",
    role="engineer",
    covers=("weights", "electrical"),
    statement="I checked the design.",
    source="common practice, no source",
)


@pytest.fixture
def chosen(premises: Premises, reference: str, now: datetime) -> str:
    set_house_choices(premises, reference, revision=1, wanted=True, now=now)
    return reference


def test_an_issued_spec_is_read_as_it_was_freeze_it(
    premises: Premises, chosen: str, now: datetime
) -> None:
    spec = spec_of_draft(premises, chosen)
    issued = freeze_it(premises, chosen, now)
    assert "A" == issued.letter
    assert spec == issued_spec(premises, chosen)
    assert issued.spec_sha256 == issued_spec(premises, chosen, "A").sha256()


def test_what_is_issued_outlives_an_edited_catalog(
    premises: Premises, chosen: str, now: datetime
) -> None:
    issued = freeze_it(premises, chosen, now)
    before = issued_spec(premises, chosen)
    workshop = premises.catalog_folder / "workshop.yaml"
    workshop.write_text(workshop.read_text().replace("queue_weeks:", "# edited\nqueue_weeks:"))
    later = open_premises(premises.catalog_folder, premises.data_folder)
    assert issued.catalog_sha256 != later.catalog.sha256
    assert before == issued_spec(later, chosen)
    kept = catalog_of(later, issued.catalog_sha256)
    assert before.sha256() == specify(kept, before.build, later.engines).sha256()
    later.record.engine.dispose()


def test_a_catalog_edited_since_it_was_read_issues_nothing(
    premises: Premises, chosen: str, now: datetime
) -> None:
    workshop = premises.catalog_folder / "workshop.yaml"
    workshop.write_text(workshop.read_text() + "# edited\n")
    with pytest.raises(LifeError) as refused:
        freeze_it(premises, chosen, now)
    assert ["P076"] == [fault.code for fault in refused.value.faults]
    assert () == read_life(premises.record, chosen).entries


def test_a_manager_writes_no_reason_beside_a_warning(
    premises: Premises, chosen: str, now: datetime
) -> None:
    manager, reasons = Person(name="Invented Manager", role="manager"), {("W001", "x"): "a"}
    with pytest.raises(LifeError) as refused:
        freeze(premises, chosen, revision=2, answers=reasons, by=manager, now=now)
    assert ["P078", "P130"] == sorted(fault.code for fault in refused.value.faults)


def test_nothing_new_is_not_issued_again(premises: Premises, chosen: str, now: datetime) -> None:
    freeze_it(premises, chosen, now)
    with pytest.raises(LifeError) as refused:
        freeze_it(premises, chosen, now)
    assert ["L004", "L006"] == sorted(fault.code for fault in refused.value.faults)


def test_a_stale_view_issues_nothing(premises: Premises, chosen: str, now: datetime) -> None:
    with pytest.raises(StaleDraftError):
        freeze(premises, chosen, revision=1, answers={}, by=ENGINEER, now=now)


def other_pick(premises: Premises, reference: str) -> tuple[str, str]:
    """Find another option of some group that is possible and changes the weights."""
    spec = spec_of_draft(premises, reference)
    weights = section_hashes(spec)["weights"]
    build = spec.build
    for group in premises.catalog.groups_for(build.vehicle):
        chosen = spec.chosen(group.id)
        for option in group.options:
            if chosen is not None and option.id == chosen.option_id:
                continue
            picked = build.model_copy(update={"choices": {**build.choices, group.id: option.id}})
            other = specify(premises.catalog, picked, premises.engines)
            blocked = any(finding.severity == "blocks" for finding in other.findings)
            if not blocked and weights != section_hashes(other)["weights"]:
                return group.id, option.id
    raise AssertionError


def test_a_new_letter_voids_just_the_sign_offs_whose_content_changed(
    premises: Premises, chosen: str, now: datetime
) -> None:
    issued = freeze_it(premises, chosen, now)
    price_only = DESIGN.model_copy(update={"id": "words", "covers": ("customer",)})
    bodies = [
        SignedOff(
            letter="A",
            sign_off=sign_off.id,
            spec_sha256=issued.spec_sha256,
            section_sha256={name: issued.section_sha256[name] for name in sign_off.covers},
        )
        for sign_off in (DESIGN, price_only)
    ]
    write_entries(premises.record, chosen, bodies, by=SECOND, now=now)
    both = (DESIGN, price_only)
    assert () == why_not_signed(read_life(premises.record, chosen), both)
    group, option = other_pick(premises, chosen)
    revision = read_draft(premises, chosen).revision
    pick_option(premises, chosen, revision=revision, group_id=group, option_id=option, now=now)
    assert "B" == freeze_it(premises, chosen, now, "The customer changed their mind").letter
    life = read_life(premises.record, chosen)
    design, words = sign_off_states(life, both)
    assert design.signed is None
    assert ("weights and axle loads",) == design.voided_because[:1]
    assert "A" == words.letter
    assert design.voided is not None
    assert SECOND.name == design.voided.signed.by.name
    (told,) = [void.in_words for void in voided_signatures(life, both)]
    assert (
        "Design was signed on spec A by Invented Second, second person, on 4 March 2026. It is void"
        " since spec B, which changed weights and axle loads"
    ) in told.replace("“", "").replace("”", "")
    (missing,) = why_not_signed(life, both)
    assert "“Design” is to be signed again (engineer)" in missing
    assert "weights and axle loads" in missing


def test_who_issued_a_spec_cannot_be_its_only_signer(
    premises: Premises, chosen: str, now: datetime
) -> None:
    issued = freeze_it(premises, chosen, now)
    signed = SignedOff(
        letter="A",
        sign_off="design",
        spec_sha256=issued.spec_sha256,
        section_sha256={name: issued.section_sha256[name] for name in DESIGN.covers},
    )
    write_entries(premises.record, chosen, [signed], by=ENGINEER, now=now)
    missing = why_not_signed(read_life(premises.record, chosen), (DESIGN,))
    assert 1 == len(missing)
    assert "somebody else" in missing[0]


def test_a_change_taken_back_gives_the_same_spec_again(
    premises: Premises, chosen: str, now: datetime
) -> None:
    before = spec_of_draft(premises, chosen).sha256()
    group, option = other_pick(premises, chosen)
    revision = read_draft(premises, chosen).revision
    pick_option(premises, chosen, revision=revision, group_id=group, option_id=option, now=now)
    assert before != spec_of_draft(premises, chosen).sha256()
    undo_last_change(premises, chosen, revision=revision + 1, now=now)
    assert before == spec_of_draft(premises, chosen).sha256()
