"""Each row that leads to a working leads to that of its very figure."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

from configurator.app.view_models.charging_and_drive import ability_topics, charging_rows
from configurator.app.view_models.electrical_set import electrical_page
from configurator.app.view_models.weights import weights_page
from configurator.app.view_models.worked_figures import (
    ABILITY_FACTS,
    ELECTRICAL_FACTS,
    ability_key,
    check_key,
)
from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from configurator.build_spec.spec import Spec
from configurator.catalog.load import load_catalog
from tests.app.conftest import Opener
from tests.app.screens import by_the_papers, start_enquiry, words
from tests.build_spec.tiny_builds import build_of

CATALOG = Path(__file__).parents[2] / "catalog"


@cache
def specs() -> tuple[Spec, ...]:
    catalog = load_catalog(CATALOG)
    complete = {"house_choices_for_the_rest": True}
    rapid = {
        group.id: option.id
        for group in catalog.groups
        for option in group.options
        if "dc_inlet" in option.fits
    }
    wished = [(vehicle.id, more) for vehicle in catalog.vehicles for more in ({}, rapid)]
    builds = [build_of(vehicle, **more).model_copy(update=complete) for vehicle, more in wished]
    engines = Engines()
    return tuple(specify(catalog, build, engines) for build in builds)


def test_every_linked_check_and_ability_tells_its_fact() -> None:
    linked = set()
    for spec in specs():
        told = [(check_key(c), {c.value, c.margin}) for c in spec.electrical]
        told += [(ability_key(line), {line.value}) for line in spec.performance]
        for key, values in told:
            if key is None:
                continue
            fact = spec.fact(*key)
            assert fact is not None, key
            assert any(
                value is not None and abs(abs(value) - abs(fact.low)) < 0.002 for value in values
            ), (key, values, fact.low)
            linked.add(key[0])
    assert {*ELECTRICAL_FACTS.values(), *ABILITY_FACTS.values()} == linked


def test_every_row_of_charging_and_driving_leads_to_a_fact_of_the_build() -> None:
    for spec in specs():
        keys = [row.worked_out for row in charging_rows(spec.charging)]
        keys += [
            row.worked_out
            for topic in ability_topics(spec.performance)
            for row in topic.rows
            if row.worked_out
        ]
        keys += [
            row.worked_out
            for topic in electrical_page(spec.electrical).topics
            for row in topic.rows
            if row.worked_out
        ]
        keys += [row.worked_out for row in weights_page(spec).checks]
        assert keys
        assert not [key for key in keys if spec.fact(*key) is None]


def test_each_page_of_figures_links_to_workings(open_screens: Opener) -> None:
    talk = start_enquiry(open_screens()).button(key="house-choices").click().run()
    pages = {
        "charging": "charging_hours",
        "electrical": "pack_voltage_over_v",
    }
    for page, fact in pages.items():
        screen = by_the_papers(talk, page)
        said = words(screen)
        assert re.search(rf"working\?build=B-0001&amp;fact={fact}", said), page
        talk = screen.button(key="to-talk").click().run()
    assert "fact=usable_energy_kwh" in words(talk.button(key="to-day").click().run())


def test_the_talk_leads_to_weights_and_charging_and_the_working_names_the_vehicle(
    open_screens: Opener,
) -> None:
    talk = start_enquiry(open_screens())
    for page in ("weights", "charging-and-driving"):
        assert f'href="{page}?build=B-0001"' in words(talk)
    assert "Clover float for Ann Example" in words(by_the_papers(talk, "working"))


def test_no_page_of_figures_says_common_practice_no_source(open_screens: Opener) -> None:
    talk = start_enquiry(open_screens()).button(key="house-choices").click().run()
    for page in ("charging", "weights", "electrical", "working"):
        screen = by_the_papers(talk, page)
        assert "no source" not in words(screen), page
        talk = screen.button(key="to-talk").click().run()
