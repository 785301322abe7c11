"""A disc's area is its mass, nothing rests on colour alone, and no word lies on another."""

import itertools
import math
from datetime import date
from functools import cache
from pathlib import Path

import pytest

from configurator.build_spec.engines import Engines
from configurator.build_spec.mass_marks import mass_marks, views_of_masses
from configurator.build_spec.pipeline import specify
from configurator.build_spec.spec import Spec
from configurator.catalog.load import load_catalog
from configurator.catalog.models.build import BuildInput, Customer
from configurator.drawings.mass_view import FLOW_WORDS, disc_radius_m, mass_key
from configurator.drawings.shapes import Circle, Drawing, Words, bounds

VEHICLES = ["fennick-linnet", "marnock-estuary", "tarrow-furlong"]


@cache
def spec_of(vehicle: str) -> Spec:
    build = BuildInput(
        reference="B-0001",
        customer=Customer(name="A sample customer"),
        vehicle=vehicle,
        priced_on=date(2026, 11, 25),
        house_choices_for_the_rest=True,
    )
    return specify(load_catalog(Path("catalog")), build, Engines())


def views(vehicle: str) -> tuple[Drawing, Drawing]:
    found = views_of_masses(spec_of(vehicle))
    assert found is not None
    return found


@pytest.mark.parametrize("mass_kg", [1.0, 75.0, 320.0])
def test_the_area_of_a_disc_is_its_mass(mass_kg: float) -> None:
    per_kg = math.pi * disc_radius_m(1.0) ** 2
    assert mass_kg == pytest.approx(math.pi * disc_radius_m(mass_kg) ** 2 / per_kg)


@pytest.mark.parametrize("vehicle", VEHICLES)
def test_the_marks_weigh_what_the_ledger_does(vehicle: str) -> None:
    spec = spec_of(vehicle)
    signs = {"out": -1, "in": 1, "carried": 1}
    expected = sum(line.mass_kg for line in spec.ledger)
    marks = mass_marks(spec.ledger)
    assert expected == pytest.approx(sum(signs[m.flow] * m.mass_kg for m in marks))


@pytest.mark.parametrize("vehicle", VEHICLES)
@pytest.mark.parametrize("number", [0, 1])
def test_no_word_of_a_view_lies_on_another_or_outside(vehicle: str, number: int) -> None:
    drawing = views(vehicle)[number]
    boxes = [bounds(shape) for shape in drawing.shapes if isinstance(shape, Words)]
    assert boxes
    for one, other in itertools.combinations(boxes, 2):
        is_apart = (
            one.right <= other.left
            or other.right <= one.left
            or one.top <= other.bottom
            or other.top <= one.bottom
        )
        assert is_apart, (one, other)
    for box in boxes:
        assert drawing.box.left <= box.left
        assert box.right <= drawing.box.right


@pytest.mark.parametrize("vehicle", VEHICLES)
def test_what_goes_out_is_dashed_and_open_and_what_goes_in_is_filled(vehicle: str) -> None:
    radii = {mark.flow: disc_radius_m(mark.mass_kg) for mark in mass_marks(spec_of(vehicle).ledger)}
    circles = [shape for shape in views(vehicle)[0].shapes if isinstance(shape, Circle)]
    out = [c.paint for c in circles if c.radius == radii["out"]]
    assert all(paint.fill is None and paint.dash for paint in out)
    assert any(c.paint.fill and not c.paint.dash for c in circles if c.radius == radii["in"])


@pytest.mark.parametrize("vehicle", VEHICLES)
def test_both_views_tell_the_masses_in_words(vehicle: str) -> None:
    for drawing in views(vehicle):
        for words in FLOW_WORDS.values():
            assert words in drawing.description


@pytest.mark.parametrize("vehicle", VEHICLES)
def test_both_views_have_one_scale(vehicle: str) -> None:
    side, top = views(vehicle)
    assert side.box.width == pytest.approx(top.box.width)


def test_the_key_tells_each_kind_of_disc_and_both_centres() -> None:
    said = " ".join(shape.text for shape in mass_key().shapes if isinstance(shape, Words))
    for word in ("put in", "taken out", "carried", "empty build", "empty donor", "mass"):
        assert word in said


def test_an_open_build_has_no_drawing_of_masses() -> None:
    spec = spec_of(VEHICLES[0])
    bare = spec.weights.model_copy(update={"loadings": ()})
    assert views_of_masses(spec.model_copy(update={"weights": bare})) is None
