from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.drawings import load_bars
from configurator.drawings.colour import (
    INK,
    LEAST_TEXT_CONTRAST,
    PAPER,
    QUIET_INK,
    contrast_ratio,
    darker,
    lighter,
    line_colour_on,
    relative_luminance,
    text_colour_on,
)
from configurator.drawings.emblem import DRAWN, FIELDS

colours = st.integers(0, 0xFFFFFF).map(lambda number: f"#{number:06x}")


# Source: W3C WCAG 2.2, definitions of relative luminance and contrast ratio; worked by hand:
# pure channels have the luminance of their coefficients.
@pytest.mark.parametrize(
    ("luminance", "colour"),
    [(0.2126, "#ff0000"), (0.7152, "#00ff00"), (0.0722, "#0000ff"), (0.215861, "#808080")],
)
def test_luminance_follows_the_published_formula(luminance: float, colour: str) -> None:
    assert relative_luminance(colour) == pytest.approx(luminance, abs=1e-6)


# Source: W3C WCAG 2.2, contrast ratio; #767676 is the usual example of the darkest-needed grey
# on white, (1.05) / (0.18116 + 0.05) = 4.54.
def test_contrast_of_a_known_grey_on_white() -> None:
    assert contrast_ratio("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


@given(colours, colours)
def test_contrast_is_symmetric_and_within_its_range(one: str, other: str) -> None:
    assert contrast_ratio(one, other) == contrast_ratio(other, one)
    assert 1.0 <= contrast_ratio(one, other) <= 21.0


@given(colours)
def test_shades_darken_and_tints_lighten(colour: str) -> None:
    assert relative_luminance(lighter(colour, 0.5)) >= relative_luminance(colour)
    assert relative_luminance(darker("#ffffff", 0.5)) < 1.0


@given(colours)
def test_text_reads_on_any_colour(colour: str) -> None:
    # Source: the lighter of ink and paper reaches at least sqrt(contrast(ink, paper)).
    assert (
        contrast_ratio(text_colour_on(colour), colour) >= contrast_ratio(INK, PAPER) ** 0.5 - 1e-9
    )


@given(colours)
def test_seams_show_on_any_body_colour(colour: str) -> None:
    assert contrast_ratio(line_colour_on(colour), colour) >= 1.4


@pytest.mark.parametrize("text", [INK, QUIET_INK, load_bars.OVER])
def test_text_colours_of_the_charts_read_on_paper(text: str) -> None:
    assert contrast_ratio(text, PAPER) >= LEAST_TEXT_CONTRAST


@pytest.mark.parametrize("field", sorted(set(FIELDS.values())))
def test_symbols_read_on_their_fields(field: str) -> None:
    assert contrast_ratio(DRAWN, field) >= LEAST_TEXT_CONTRAST


# Source: W3C WCAG 2.2, success criterion 1.4.11: 3:1 for what is needed to understand a graphic.
@pytest.mark.parametrize(
    "colour",
    [load_bars.KERB, load_bars.LADEN, load_bars.OVER],
)
def test_marks_stand_out_from_paper(colour: str) -> None:
    assert contrast_ratio(colour, PAPER) >= 3.0
