from __future__ import annotations

from configurator.app.view_models.talk import (
    current_part,
    lost_group_ids,
    part_after,
    parts_with_questions,
    talk_steps,
)
from tests.app.assessed import CATALOG, assessed

PARTS = CATALOG.workshop.talk


def test_each_step_says_how_many_questions_are_open():
    open_talk = talk_steps(PARTS, assessed().groups, PARTS[0].id)
    assert [step.state for step in open_talk] == ["3 open", "2 open"]
    assert [step.is_current for step in open_talk] == [True, False]


def test_a_step_is_settled_when_nothing_in_it_is_open():
    groups = assessed(box="bare-bed", livery="nettle").groups
    looks = talk_steps(PARTS, groups, PARTS[0].id)[1]
    assert (looks.state, looks.is_settled) == ("settled", True)


def test_a_part_without_questions_is_left_out():
    assert parts_with_questions(PARTS, ["looks"]) == (PARTS[1],)


def test_an_unknown_part_in_the_address_leads_to_the_first():
    assert current_part(PARTS, "nowhere") == PARTS[0]
    assert current_part(PARTS, "looks") == PARTS[1]


def test_nothing_follows_the_last_part():
    assert part_after(PARTS, PARTS[0].id) == PARTS[1]
    assert part_after(PARTS, PARTS[-1].id) is None


def test_choices_that_the_catalog_lost_are_found():
    groups = assessed().groups
    choices = {"cells": "few-cells", "livery": "gone", "hood": "tin"}
    assert lost_group_ids(groups, choices) == ("livery", "hood")
