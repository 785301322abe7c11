from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

import pytest

from configurator.app.view_models.tiles import (
    GroupTiles,
    Talk,
    Tile,
    group_tiles,
    refused_tiles,
)
from configurator.app.view_models.ways_out import compared_with, names_in
from configurator.build_spec.standing import GroupState
from tests.app.assessed import CATALOG, assessed, group_of

HOUSE = {group.id: group.house_choice for group in CATALOG.groups_for("clover-float")}


def tiles_of(group_id: str, *, explained: bool = True, **choices: str) -> GroupTiles:
    groups = assessed(**choices).groups
    return group_tiles(
        next(group for group in groups if group.group_id == group_id),
        talk_of(groups),
        house_choice=HOUSE[group_id],
        explained=explained,
    )


def talk_of(groups: Sequence[GroupState], *, opens_reasons: bool = False) -> Talk:
    return Talk("B-0001", 7, names_in(groups), compared_with(groups), opens_reasons)


def tile(tiles: GroupTiles, option_id: str) -> Tile:
    return next(tile for tile in tiles.tiles if tile.id == option_id)


def test_an_open_question_has_no_badge_and_says_until_when():
    tiles = tiles_of("cells")
    assert {tile.badge for tile in tiles.tiles} == {""}
    assert "Still open" in tiles.note
    assert not tiles.can_be_cleared


def test_what_the_customer_chose_says_so_and_can_be_opened_again():
    tiles = tiles_of("cells", cells="few-cells")
    assert tile(tiles, "few-cells").badge == "Chosen"
    assert tile(tiles, "few-cells").price == ""
    assert tiles.can_be_cleared


def test_of_a_stage_that_has_begun_the_talk_says_what_a_change_takes():
    groups = assessed(cells="few-cells").groups
    begun = replace(talk_of(groups), stages_reached=frozenset({"Begin"}))

    def note(group_id: str) -> str:
        group = next(group for group in groups if group.group_id == group_id)
        return group_tiles(group, begun, house_choice=HOUSE[group_id], explained=True).note

    assert "“Begin” has begun" in note("cells")
    assert "change order" in note("cells")
    assert "until" not in note("cells")
    assert "“Begin” has begun" in note("box")
    assert "Still open" in note("box")
    assert "before “Build” begins" in note("livery")


def test_a_refused_tile_stays_with_its_reason_and_its_ways_out():
    refused = tile(tiles_of("springs", cells="many-cells"), "old-springs")
    assert refused.standing == "refused"
    assert "the old springs would sag" in refused.why
    assert ("Cells: Few cells instead of Many cells",) == refused.ways_out[0].lines
    assert (("cells", "few-cells"),) == refused.ways_out[0].changes
    assert refused.no_way_out == ""


def test_a_reason_still_being_worked_out_is_not_guessed():
    waiting = tile(tiles_of("springs", explained=False, cells="many-cells"), "old-springs")
    assert (waiting.standing, waiting.is_explained, waiting.why) == ("refused", False, "")
    assert (waiting.ways_out, waiting.no_way_out) == ((), "")


def test_an_option_whose_answer_is_still_coming_is_being_checked():
    group = group_of(assessed(), "cells")
    options = tuple(option.model_copy(update={"is_available": None}) for option in group.options)
    unknown = group.model_copy(update={"options": options})
    tiles = group_tiles(unknown, talk_of([unknown]), house_choice="few-cells", explained=False)
    assert {tile.standing for tile in tiles.tiles} == {"checking"}
    assert 0 == refused_tiles([unknown], unknown.part_id)


def test_a_possible_tile_has_no_reason_and_no_way_out():
    possible = tile(tiles_of("cells"), "many-cells")
    assert (possible.why, possible.ways_out, possible.no_way_out) == ("", (), "")
    assert possible.is_explained


def test_no_difference_says_compared_with_what():
    group = group_of(assessed(livery="nettle"), "livery")
    level = {"price_difference_gbp": Decimal(0)}
    options = tuple(option.model_copy(update=level) for option in group.options)
    same = group.model_copy(update={"options": options})
    tiles = group_tiles(same, talk_of([same]), house_choice=HOUSE["livery"], explained=True)
    others = [tile for tile in tiles.tiles if not tile.is_chosen]
    assert {"no difference to Nettle"} == {tile.price for tile in others}
    assert all(tile.is_level for tile in others)


def test_while_a_question_is_open_prices_compare_with_the_workshops_choice():
    tiles = tiles_of("cells")
    assert "workshop’s usual choice" == tile(tiles, HOUSE["cells"]).price


def test_a_must_keep_is_marked_and_only_a_customers_choice_can_be():
    group = group_of(assessed(cells="few-cells"), "cells")
    marked = group.model_copy(update={"must_keep": True})
    tiles = group_tiles(
        marked, talk_of([marked]), house_choice=HOUSE["cells"], explained=True, taken="It fits."
    )
    assert (tiles.must_keep, tiles.can_be_kept, tiles.taken) == (True, True, "It fits.")
    assert not tiles_of("cells").can_be_kept


def test_a_withdrawn_option_is_shown_and_nothing_is_chosen_for_it():
    group = group_of(assessed(cells="no-such-cells"), "cells")
    tiles = group_tiles(group, talk_of([group]), house_choice=HOUSE["cells"], explained=True)
    assert "no-such-cells" == tiles.withdrawn
    assert not any(tile.is_chosen for tile in tiles.tiles)


@pytest.mark.parametrize(("choices", "refused"), [({}, 0), ({"cells": "many-cells"}, 1)])
def test_refused_tiles_of_a_part_are_counted(choices: dict[str, str], refused: int):
    groups = assessed(**choices).groups
    assert refused == refused_tiles(groups, group_of(assessed(), "springs").part_id)


def test_the_only_option_left_says_that_it_follows():
    tiles = tiles_of("springs", cells="many-cells")
    follows = tile(tiles, "stiff-springs")
    assert (follows.badge, follows.follows) == ("Follows from the rest", True)
    assert "the old springs would sag" in follows.why
    assert not tiles.can_be_cleared


def test_colours_show_the_body_and_the_second_colour():
    tiles = tiles_of("livery")
    assert tiles.shown_as == "colours"
    assert tile(tiles, "nettle").colour == "#3f5a3c"
    assert (tile(tiles, "sloe").colour, tile(tiles, "sloe").second_colour) == (
        "#2b2a3d",
        "#f2e8c9",
    )


def test_tiles_go_to_the_browser_as_plain_values():
    data = tiles_of("cells").as_data()
    assert json.loads(json.dumps(data))["revision"] == 7
