from __future__ import annotations

import re

from configurator.app.view_models.working import (
    figure_label,
    wanted_figure,
    working_address,
    working_page,
)
from configurator.build_spec.derivation import Derivation, DerivationEnd, DerivationStep
from configurator.build_spec.stated_input import StatedInput
from tests.app.conftest import Opener
from tests.app.screens import by_the_papers, start_enquiry, words
from tests.build_spec.tiny_builds import tiny_catalog

KEYS = (("price_gbp", None), ("range_low_km", "lane"), ("range_low_km", "road"))


def test_every_figure_of_the_summary_leads_to_its_working(open_screens: Opener):
    said = words(start_enquiry(open_screens()))
    facts = set(re.findall(r"href=\"working\?build=B-\d+&amp;fact=([a-z_]+)", said))
    assert {
        "price_gbp",
        "range_low_km",
        "kerb_mass_kg",
        "handover_weeks",
        "charging_hours",
        "laden_front_axle_kg",
        "laden_rear_axle_kg",
    } == facts
    assert 'aria-label="How? Kerb mass, worked out"' in said


def test_the_working_tells_inputs_words_steps_and_ends(open_screens: Opener):
    said = words(by_the_papers(start_enquiry(open_screens()), "working"))
    for part in ("In words", "Step by step", "What it rests on", "Sum of the lines", "VAT on"):
        assert part in said
    assert "Choices are still open" in said
    assert "How the ends of the from–to were found" in said
    assert "no approval" in said


def test_another_figure_is_chosen_from_the_list(open_screens: Opener):
    screen = by_the_papers(start_enquiry(open_screens()), "working")
    labels = screen.selectbox[0].options
    wanted = next(label for label in labels if label.startswith("Axles: Rear axle, kerb"))
    screen.selectbox[0].select(wanted).run()
    said = words(screen)
    assert "Sum on this axle" in said
    assert "kerb_rear_axle_kg" in (screen.query_params["fact"], *screen.query_params["fact"])


def test_a_complete_build_has_no_ends_and_no_default(open_screens: Opener):
    screen = start_enquiry(open_screens())
    screen.button(key="house-choices").click().run()
    said = words(by_the_papers(screen, "working"))
    assert "Choices are still open" not in said
    assert "How the ends" not in said


def test_an_address_that_names_nothing_known_falls_back():
    assert KEYS[0] == wanted_figure(KEYS, None, None, "road")
    assert KEYS[0] == wanted_figure(KEYS, "<script>", "x", "road")
    assert KEYS[2] == wanted_figure(KEYS, "range_low_km", "gone", "road")
    assert KEYS[1] == wanted_figure(KEYS, "range_low_km", "lane", "road")


def test_an_address_is_quoted_and_a_label_names_the_case():
    assert "working?build=B-0001&fact=seats" == working_address("B-0001", ("seats", None))
    source = tiny_catalog().charging_sources[0]
    label = figure_label(("charging_hours", source.id), tiny_catalog())
    assert f"Charging: Charging time, {source.label}" == label


def test_values_are_told_with_unit_doubt_and_basis():
    page = working_page(
        Derivation(
            fact="kerb_mass_kg",
            case=None,
            label="Kerb mass",
            formula="a sum",
            inputs=(
                StatedInput(
                    id="a", label="A", value=1799.0, unit="kg", sigma=30.0, basis="guessed",
                    source="<b>",
                ),
                StatedInput(id="b", label="B", value=0.0, unit="kg", sigma=5.0, source="c"),
            ),
            steps=(
                DerivationStep(words="Out", value=-12.5, unit="kg"),
                DerivationStep(words="Sum", value=-0.01, unit="kg"),
            ),
            source="s",
            is_default=True,
            ends=(DerivationEnd(words="Least", value=1.0, choices=("G: o",)),),
        )
    )  # fmt: skip
    first, second = page.inputs
    assert ("1,799\xa0kg", "±\xa030\xa0kg", "Guessed") == (
        first.value,
        first.doubt,
        first.basis_words,
    )
    assert ("", "±\xa05\xa0kg") == (second.value, second.doubt)
    assert ["−12.5\xa0kg"] == [row.value for row in page.steps]
    assert "0.0\xa0kg" == page.result.value
    assert "Least: 1.0\xa0kg" == page.ends[0].words
    assert "Choices are still open" in page.default_note
