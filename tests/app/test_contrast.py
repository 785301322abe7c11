from __future__ import annotations

import re
from pathlib import Path

import pytest

from configurator.drawings.colour import PAPER
from configurator.drawings.price_range_front import BUILD

APP = Path(__file__).parents[2] / "configurator" / "app"
PALETTE = dict(re.findall(r"--([a-z-]+): (#[0-9a-f]{6})", (APP / "look.css").read_text("utf-8")))
TEXT_ON = [
    ("ink", "paper"), ("ink", "card"), ("ink", "amber"), ("ink", "leaf"), ("ink", "red"),
    ("ink-soft", "paper"), ("ink-soft", "card"), ("copper-dark", "card"), ("leaf-ink", "leaf"),
    ("leaf-ink", "card"), ("amber-ink", "amber"), ("red-ink", "red"), ("paper", "ink"),
    ("card", "copper"),
]  # fmt: skip


def luminance(colour: str) -> float:
    channels = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (
        value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4
        for value in channels
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


# Source: WCAG 2.2, success criterion 1.4.3: contrast of text is 4.5:1 or more.
@pytest.mark.parametrize(("words", "ground"), TEXT_ON)
def test_text_stands_out_from_its_ground(words: str, ground: str):
    lighter, darker = sorted((luminance(PALETTE[words]), luminance(PALETTE[ground])), reverse=True)
    assert (lighter + 0.05) / (darker + 0.05) >= 4.5


# Source: WCAG 2.2, success criterion 1.4.11: the edge of a field is 3:1 or more against its ground.
@pytest.mark.parametrize("ground", ["paper", "card"])
def test_the_edge_of_a_field_stands_out_from_its_ground(ground: str):
    ratio = (luminance(PALETTE[ground]) + 0.05) / (luminance(PALETTE["edge"]) + 0.05)
    assert ratio >= 3
    assert "border-color: var(--edge)" in (APP / "fields.css").read_text("utf-8")


def test_the_tiles_use_the_palette_of_the_page():
    tiles = (APP / "components/option_tiles/assets/option_tiles.css").read_text("utf-8")
    own = dict(re.findall(r"--([a-z-]+): (#[0-9a-f]{6})", tiles))
    shared = own.keys() & PALETTE.keys()
    assert len(shared) >= 8
    assert {name: own[name] for name in shared} == {name: PALETTE[name] for name in shared}


def test_soft_ink_stands_out_on_a_refused_tile():
    tiles = (APP / "components/option_tiles/assets/option_tiles.css").read_text("utf-8")
    shade = re.search(r"--shade: (#[0-9a-f]{6})", tiles)
    assert shade is not None
    ratio = (luminance(shade[1]) + 0.05) / (luminance(PALETTE["ink-soft"]) + 0.05)
    assert ratio >= 4.5


def test_the_discs_of_the_list_are_those_of_the_chart_and_can_be_read():
    wishes = (APP / "wishes.css").read_text("utf-8")
    disc = re.search(r"\.disc \{[^}]*background: (#[0-9a-f]{6}); color: (#[0-9a-f]{6})", wishes)
    assert disc is not None
    assert (BUILD, PAPER) == disc.groups()
    lighter, darker = luminance(PAPER), luminance(BUILD)
    assert (lighter + 0.05) / (darker + 0.05) >= 4.5


def test_words_about_wishes_stand_on_grounds_that_are_known_to_bear_them():
    wishes = (APP / "wishes.css").read_text("utf-8")
    pairs = re.findall(r"background: var\(--([a-z-]+)\); color: var\(--([a-z-]+)\)", wishes)
    assert pairs
    assert {(words, ground) for ground, words in pairs} <= set(TEXT_ON)
