from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pytest

from configurator.errors import ChoiceError, ConfiguratorError, StaleDraftError
from configurator.record.changes import list_changes
from configurator.workflow.builds import Draft, read_draft
from configurator.workflow.consultation import (
    clear_choice,
    how_options_stand,
    pick_option,
    take_way_out,
    undo_last_change,
)
from configurator.workflow.must_keeps import keep_choice
from configurator.workflow.premises import Premises, open_premises

Step = Callable[..., Draft]


@pytest.fixture
def do(premises: Premises, reference: str, now: datetime) -> Step:
    """Take a step on the newest revision."""

    def take(step: Callable[..., Draft], place: Premises = premises, **what: object) -> Draft:
        seen = read_draft(place, reference).revision
        return step(place, reference, revision=seen, now=now, **what)

    return take


def codes(error: ConfiguratorError) -> list[str]:
    return [fault.code for fault in error.faults]


def test_a_mark_is_on_disk_and_one_undo_takes_it_away(
    premises: Premises, reference: str, do: Step
) -> None:
    picked = do(pick_option, group_id="livery", option_id="nettle")
    marked = do(keep_choice, group_id="livery", wanted=True)
    assert ("livery",) == marked.build.must_keep
    assert marked == read_draft(premises, reference)
    assert "must-keep" == list_changes(premises.record, reference)[-1].kind
    states = {group.group_id: group for group in how_options_stand(premises, marked)}
    assert (True, False) == (states["livery"].must_keep, states["box"].must_keep)
    assert picked.build == do(undo_last_change).build


def test_marking_again_or_unmarking_what_is_not_marked_changes_nothing(
    premises: Premises, reference: str, do: Step, now: datetime
) -> None:
    do(pick_option, group_id="livery", option_id="nettle")
    marked = do(keep_choice, group_id="livery", wanted=True)
    old = {"revision": 1, "now": now}
    assert marked == keep_choice(premises, reference, group_id="livery", wanted=True, **old)
    assert marked == keep_choice(premises, reference, group_id="box", wanted=False, **old)
    with pytest.raises(StaleDraftError, match="was marked as must keep"):
        keep_choice(premises, reference, group_id="livery", wanted=False, revision=2, now=now)
    assert () == do(keep_choice, group_id="livery", wanted=False).build.must_keep


def test_marks_stand_in_the_order_of_the_talk(premises: Premises, do: Step) -> None:
    groups = [group.id for group in premises.catalog.groups_for("clover-van")]
    late, early = groups[-1], groups[0]
    for group_id in (late, early):
        options = premises.catalog.groups_for("clover-van")[groups.index(group_id)].options
        do(pick_option, group_id=group_id, option_id=options[0].id)
        last = do(keep_choice, group_id=group_id, wanted=True)
    assert (early, late) == last.build.must_keep


@pytest.mark.parametrize(("group_id", "code"), [("livery", "P013"), ("hovercraft", "P002")])
def test_only_a_choice_can_be_kept(
    premises: Premises, reference: str, do: Step, group_id: str, code: str
) -> None:
    with pytest.raises(ChoiceError) as caught:
        do(keep_choice, group_id=group_id, wanted=True)
    assert [code] == codes(caught.value)
    assert 1 == read_draft(premises, reference).revision


def test_leaving_a_kept_group_open_takes_its_mark_away_and_undo_brings_both_back(
    do: Step,
) -> None:
    do(pick_option, group_id="livery", option_id="nettle")
    marked = do(keep_choice, group_id="livery", wanted=True)
    cleared = do(clear_choice, group_id="livery")
    assert ({}, ()) == (cleared.build.choices, cleared.build.must_keep)
    assert marked.build == do(undo_last_change).build


def test_another_pick_of_a_person_keeps_the_mark(do: Step) -> None:
    do(pick_option, group_id="livery", option_id="nettle")
    do(keep_choice, group_id="livery", wanted=True)
    swapped = do(pick_option, group_id="livery", option_id="sloe")
    assert ({"livery": "sloe"}, ("livery",)) == (swapped.build.choices, swapped.build.must_keep)


def test_no_way_out_is_taken_against_what_must_be_kept(
    premises: Premises, reference: str, do: Step
) -> None:
    do(pick_option, group_id="cells", option_id="few-cells")
    marked = do(keep_choice, group_id="cells", wanted=True)
    with pytest.raises(ChoiceError, match="is marked as must keep") as caught:
        do(take_way_out, group_id="warmth", option_id="hot-wire")
    assert ["P005"] == codes(caught.value)
    assert marked == read_draft(premises, reference)
    do(keep_choice, group_id="cells", wanted=False)
    taken = do(take_way_out, group_id="warmth", option_id="hot-wire")
    assert {"cells": "many-cells", "warmth": "hot-wire"} == taken.build.choices


def test_the_way_out_that_was_seen_is_the_one_that_is_taken(
    premises: Premises, reference: str, do: Step
) -> None:
    before = do(pick_option, group_id="cells", option_id="few-cells")
    groups = how_options_stand(premises, before, {group.part for group in premises.catalog.groups})
    heater = next(o for group in groups for o in group.options if o.option_id == "hot-wire")
    with pytest.raises(ChoiceError, match="nothing was changed") as caught:
        do(take_way_out, group_id="warmth", option_id="hot-wire", changes=(("livery", "sloe"),))
    assert ["P012"] == codes(caught.value)
    assert heater.ways_out[0].sentence in caught.value.faults[0].remedy
    assert before == read_draft(premises, reference)
    seen = heater.ways_out[-1].changes
    taken = do(take_way_out, group_id="warmth", option_id="hot-wire", changes=seen)
    assert {**before.build.choices, **dict(seen), "warmth": "hot-wire"} == taken.build.choices


@pytest.fixture
def later(premises: Premises, catalog_folder: Path, data_folder: Path, do: Step) -> Premises:
    """The same record after the catalog has lost a colour that must be kept."""
    do(pick_option, group_id="livery", option_id="nettle")
    do(keep_choice, group_id="livery", wanted=True)
    do(pick_option, group_id="cells", option_id="few-cells")
    for file in catalog_folder.rglob("*.yaml"):
        file.write_text(file.read_text().replace("nettle", "thistle"))
    return open_premises(catalog_folder, data_folder)


def test_a_kept_choice_that_the_catalog_lost_is_shown_and_binds_nobody(
    later: Premises, reference: str, do: Step
) -> None:
    draft = read_draft(later, reference)
    states = {group.group_id: group for group in how_options_stand(later, draft)}
    livery = states["livery"]
    assert ("nettle", None, True) == (
        livery.withdrawn_option_id,
        livery.chosen_option_id,
        livery.must_keep,
    )
    taken = do(take_way_out, later, group_id="warmth", option_id="hot-wire")
    assert ("nettle", "many-cells") == (
        taken.build.choices["livery"],
        taken.build.choices["cells"],
    )


def test_the_mark_of_a_lost_choice_can_be_taken_away_and_not_put_back(
    later: Premises, do: Step
) -> None:
    assert () == do(keep_choice, later, group_id="livery", wanted=False).build.must_keep
    with pytest.raises(ChoiceError, match="is not offered any more") as caught:
        do(keep_choice, later, group_id="livery", wanted=True)
    assert ["P013"] == codes(caught.value)


def test_choices_that_came_to_contradict_each_other_cannot_all_be_kept(
    premises: Premises, catalog_folder: Path, data_folder: Path, reference: str, do: Step
) -> None:
    do(pick_option, group_id="cells", option_id="many-cells")
    do(pick_option, group_id="warmth", option_id="hot-wire")
    do(keep_choice, group_id="cells", wanted=True)
    file = catalog_folder / "rules" / "works.yaml"
    # The heater does not go with many cells any more.
    file.write_text(
        file.read_text().replace(
            "then_not: {cells: [few-cells]}", "then_not: {cells: [many-cells]}"
        )
    )
    later = open_premises(catalog_folder, data_folder)
    with pytest.raises(ChoiceError, match="cannot stand together") as caught:
        do(keep_choice, later, group_id="warmth", wanted=True)
    assert ["P014"] == codes(caught.value)
    parts = {group.part for group in later.catalog.groups}
    states = how_options_stand(later, read_draft(later, reference), parts)
    options = {option.option_id: option for group in states for option in group.options}
    assert options["few-cells"].is_available
    assert "whatever is chosen here" in options["sloe"].reason.sentence
    assert [(("warmth", "scarf"),)] == [way.changes for way in options["sloe"].ways_out]


def test_marks_that_contradict_each_other_leave_no_way_out_and_are_named(
    premises: Premises, catalog_folder: Path, data_folder: Path, reference: str, do: Step
) -> None:
    do(pick_option, group_id="cells", option_id="many-cells")
    do(pick_option, group_id="warmth", option_id="hot-wire")
    do(keep_choice, group_id="cells", wanted=True)
    do(keep_choice, group_id="warmth", wanted=True)
    file = catalog_folder / "rules" / "works.yaml"
    file.write_text(
        file.read_text().replace(
            "then_not: {cells: [few-cells]}", "then_not: {cells: [many-cells]}"
        )
    )
    later = open_premises(catalog_folder, data_folder)
    parts = {group.part for group in later.catalog.groups}
    states = how_options_stand(later, read_draft(later, reference), parts)
    options = {option.option_id: option for group in states for option in group.options}
    assert () == options["sloe"].ways_out
    for label in ("Many cells", "Hot wire"):
        assert label.lower() in options["sloe"].no_way_out.lower()
    assert "are marked as must keep" in options["sloe"].no_way_out
