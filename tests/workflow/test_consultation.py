from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from configurator.errors import ChoiceError, ConfiguratorError, RecordError, StaleDraftError
from configurator.workflow.builds import Draft, read_draft
from configurator.workflow.consultation import (
    can_undo,
    clear_choice,
    how_options_stand,
    outline_of_draft,
    pick_option,
    set_house_choices,
    take_way_out,
    undo_last_change,
)
from configurator.workflow.premises import Premises, open_premises

Pick = Callable[..., Draft]


@pytest.fixture
def pick(premises: Premises, reference: str, now: datetime) -> Pick:
    """Pick on the newest revision, unless another is given."""

    def pick_it(group_id: str, option_id: str, revision: int | None = None) -> Draft:
        seen = read_draft(premises, reference).revision if revision is None else revision
        return pick_option(
            premises, reference, revision=seen, group_id=group_id, option_id=option_id, now=now
        )

    return pick_it


def codes(error: ConfiguratorError) -> list[str]:
    return [fault.code for fault in error.faults]


def test_a_pick_is_on_disk_when_the_function_returns(
    catalog_folder: Path, data_folder: Path, reference: str, pick: Pick
) -> None:
    picked = pick("livery", "nettle")
    assert {"livery": "nettle"} == picked.build.choices
    assert picked == read_draft(open_premises(catalog_folder, data_folder), reference)


def test_picking_the_same_again_changes_nothing_even_from_an_older_view(pick: Pick) -> None:
    picked = pick("livery", "nettle")
    assert picked == pick("livery", "nettle")
    assert picked == pick("livery", "nettle", revision=1)


@pytest.mark.parametrize(
    ("option", "code"),
    [
        (("hovercraft", "nettle"), "P002"),
        (("livery", "invisible"), "P003"),
        (("box", "cold-box"), "P003"),
        (("<b>", "</b>" * 50), "P002"),
    ],
)
def test_a_pick_of_what_is_not_offered_is_refused(
    premises: Premises, reference: str, pick: Pick, option: tuple[str, str], code: str
) -> None:
    with pytest.raises(ChoiceError) as caught:
        pick(*option)
    assert [code] == codes(caught.value)
    assert 1 == read_draft(premises, reference).revision


def test_an_unknown_build_is_told(premises: Premises, now: datetime) -> None:
    with pytest.raises(RecordError, match='no build "B-9999"'):
        undo_last_change(premises, "B-9999", revision=1, now=now)


def test_a_pick_that_does_not_go_with_the_others_is_refused_with_the_rule_s_reason(
    premises: Premises, reference: str, pick: Pick
) -> None:
    before = pick("cells", "few-cells")
    with pytest.raises(ChoiceError, match="empty a few cells before noon") as caught:
        pick("warmth", "hot-wire")
    assert ["P004"] == codes(caught.value)
    assert before == read_draft(premises, reference)


def test_a_pick_is_possible_exactly_when_its_tile_says_so(
    premises: Premises, reference: str, pick: Pick
) -> None:
    pick("cells", "few-cells")
    for group in how_options_stand(premises, read_draft(premises, reference)):
        for option in group.options:
            draft = read_draft(premises, reference)
            if option.is_available:
                assert (
                    option.option_id
                    == pick(group.group_id, option.option_id).build.choices[group.group_id]
                )
                if draft != read_draft(premises, reference):
                    undo_last_change(
                        premises, reference, revision=draft.revision + 1, now=draft.saved_at
                    )
            else:
                with pytest.raises(ChoiceError):
                    pick(group.group_id, option.option_id)


def test_a_way_out_is_one_change_and_one_undo_takes_it_back_whole(
    premises: Premises, reference: str, pick: Pick, now: datetime
) -> None:
    pick("springs", "old-springs")
    before = pick("cells", "few-cells")
    taken = take_way_out(
        premises,
        reference,
        revision=before.revision,
        group_id="warmth",
        option_id="hot-wire",
        now=now,
    )
    assert {
        "cells": "many-cells",
        "springs": "stiff-springs",
        "warmth": "hot-wire",
    } == taken.build.choices
    assert before.revision + 1 == taken.revision
    undone = undo_last_change(premises, reference, revision=taken.revision, now=now)
    assert before.build == undone.build


def test_a_way_out_of_what_is_possible_is_a_plain_pick(
    premises: Premises, reference: str, now: datetime
) -> None:
    taken = take_way_out(
        premises, reference, revision=1, group_id="livery", option_id="sloe", now=now
    )
    assert ({"livery": "sloe"}, 2) == (taken.build.choices, taken.revision)


def test_the_slower_of_two_people_is_told_in_the_catalog_s_words(
    premises: Premises, reference: str, pick: Pick
) -> None:
    first = pick("livery", "nettle", revision=1)
    labels = {o.id: o.label for o in premises.catalog.group_by_id["livery"].options}
    with pytest.raises(StaleDraftError, match=f"was set to {labels['nettle']}") as caught:
        pick("box", "slatted-box", revision=1)
    assert ["R007"] == codes(caught.value)
    assert first == read_draft(premises, reference)


def test_every_step_on_an_older_revision_is_refused_and_loses_nothing(
    premises: Premises, reference: str, pick: Pick, now: datetime
) -> None:
    draft = pick("livery", "nettle")
    old = {"revision": 1, "now": now}
    with pytest.raises(StaleDraftError):
        clear_choice(premises, reference, group_id="livery", **old)
    with pytest.raises(StaleDraftError):
        take_way_out(premises, reference, group_id="box", option_id="bare-bed", **old)
    with pytest.raises(StaleDraftError):
        set_house_choices(premises, reference, wanted=True, **old)
    with pytest.raises(StaleDraftError):
        undo_last_change(premises, reference, **old)
    assert draft == read_draft(premises, reference)


def test_a_cleared_choice_is_open_again(
    premises: Premises, reference: str, pick: Pick, now: datetime
) -> None:
    draft = pick("livery", "nettle")
    cleared = clear_choice(premises, reference, revision=draft.revision, group_id="livery", now=now)
    assert {} == cleared.build.choices
    again = clear_choice(premises, reference, revision=cleared.revision, group_id="livery", now=now)
    assert cleared == again


def test_house_choices_fill_what_is_open_and_can_be_taken_back(
    premises: Premises, reference: str, now: datetime
) -> None:
    filled = set_house_choices(premises, reference, revision=1, wanted=True, now=now)
    assert outline_of_draft(premises, filled).is_complete
    again = set_house_choices(premises, reference, revision=2, wanted=True, now=now)
    assert filled == again
    undone = undo_last_change(premises, reference, revision=2, now=now)
    assert not undone.build.house_choices_for_the_rest


def test_undoing_goes_back_to_the_start_and_then_says_so(
    premises: Premises, reference: str, pick: Pick, now: datetime
) -> None:
    pick("livery", "nettle")
    pick("livery", "sloe")
    left = []
    while can_undo(premises, reference):
        draft = read_draft(premises, reference)
        undone = undo_last_change(premises, reference, revision=draft.revision, now=now)
        left.append(undone.build.choices)
    assert [{"livery": "nettle"}, {}] == left
    with pytest.raises(ChoiceError) as caught:
        undo_last_change(premises, reference, revision=5, now=now)
    assert ["P006"] == codes(caught.value)


def test_a_pick_after_undoing_is_the_next_to_be_undone(
    premises: Premises, reference: str, pick: Pick, now: datetime
) -> None:
    def undo() -> dict[str, str]:
        revision = read_draft(premises, reference).revision
        return undo_last_change(premises, reference, revision=revision, now=now).build.choices

    pick("livery", "nettle")
    pick("box", "slatted-box")
    assert {"livery": "nettle"} == undo()
    pick("box", "bare-bed")
    assert {"livery": "nettle"} == undo()
    assert {} == undo()


steps = st.lists(
    st.sampled_from(
        ["undo", "clear livery", "livery nettle", "livery sloe", "box slatted-box", "house"]
    ),
    max_size=12,
)


@settings(
    max_examples=25,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(steps=steps)
def test_undo_always_leads_to_the_state_before_the_last_standing_change(
    premises: Premises, enquiry: Callable[..., str], now: datetime, steps: list[str]
) -> None:
    reference = enquiry()
    states = [read_draft(premises, reference).build]
    for step in steps:
        draft = read_draft(premises, reference)
        given = {"revision": draft.revision, "now": now}
        if step == "undo" and len(states) > 1:
            states.pop()
            assert states[-1] == undo_last_change(premises, reference, **given).build
            continue
        if step == "undo":
            assert not can_undo(premises, reference)
            continue
        if step == "house":
            wanted = not draft.build.house_choices_for_the_rest
            after = set_house_choices(premises, reference, wanted=wanted, **given)
        elif step.startswith("clear"):
            after = clear_choice(premises, reference, group_id="livery", **given)
        else:
            group, option = step.split()
            after = pick_option(premises, reference, group_id=group, option_id=option, **given)
        if after.revision != draft.revision:
            states.append(after.build)


def test_the_same_draft_is_not_computed_twice(
    premises: Premises, reference: str, pick: Pick
) -> None:
    draft = read_draft(premises, reference)
    first = outline_of_draft(premises, draft)
    assert first is outline_of_draft(premises, read_draft(premises, reference))
    assert first is not outline_of_draft(premises, pick("livery", "nettle"))
