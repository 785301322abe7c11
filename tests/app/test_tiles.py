from __future__ import annotations

import json

from configurator.app.view_models.tiles import GroupTiles, Tile, group_tiles
from tests.app.assessed import assessed, group_of


def tiles_of(group_id: str, **choices: str) -> GroupTiles:
    return group_tiles(group_of(assessed(**choices), group_id), revision=7)


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


def test_a_refused_tile_stays_with_its_reason_and_its_way_out():
    refused = tile(tiles_of("springs", cells="many-cells"), "old-springs")
    assert not refused.is_available
    assert "the old springs would sag" in refused.reason
    assert refused.way_out != ""


def test_a_possible_tile_has_no_reason_and_no_way_out():
    possible = tile(tiles_of("cells"), "many-cells")
    assert (possible.reason, possible.way_out) == ("", "")


def test_the_only_option_left_says_that_it_follows():
    tiles = tiles_of("springs", cells="many-cells")
    assert tile(tiles, "stiff-springs").badge == "Follows from the rest"
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
