from __future__ import annotations

from itertools import product
from typing import get_args

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from configurator.catalog.models.vehicle import Vehicle
from configurator.drawings.look import Extra, RoofShape, VehicleLook, WheelStyle
from configurator.drawings.shapes import Drawing, Polygon, bounds, bounds_of_all
from configurator.drawings.side.silhouette import silhouette_of
from configurator.drawings.side_view import look_in_words, side_view
from configurator.drawings.svg import to_svg

ROOFS: tuple[RoofShape | None, ...] = (*get_args(RoofShape), None)
WHEELS: tuple[WheelStyle | None, ...] = (*get_args(WheelStyle), None)
EXTRAS: tuple[Extra, ...] = get_args(Extra)

coordinate = st.floats(-3, 6, allow_nan=False).map(lambda value: round(value, 3))
height = st.floats(0, 2.6, allow_nan=False).map(lambda value: round(value, 3))
points = st.lists(st.tuples(coordinate, height), min_size=0, max_size=9)


def colours_of(drawing: Drawing) -> set[str | None]:
    return {shape.paint.fill for shape in drawing.shapes if isinstance(shape, Polygon)}


def holds_all(drawing: Drawing) -> bool:
    box = drawing.box
    return all(
        box.left <= inner.left
        and inner.right <= box.right
        and box.bottom <= inner.bottom
        and inner.top <= box.top
        for inner in map(bounds, drawing.shapes)
    )


@pytest.mark.parametrize(("roof", "wheels"), list(product(ROOFS, WHEELS)))
def test_the_box_holds_every_look(
    vehicle: Vehicle, roof: RoofShape | None, wheels: WheelStyle | None
) -> None:
    look = VehicleLook("#7b1e28", "#efe6d2", roof, wheels, frozenset(EXTRAS))
    assert holds_all(side_view(vehicle, look))


def test_the_body_takes_the_chosen_colour(vehicle: Vehicle) -> None:
    assert "#7b1e28" in colours_of(side_view(vehicle, VehicleLook("#7b1e28")))
    assert "#7b1e28" not in colours_of(side_view(vehicle, VehicleLook()))


def test_every_roof_shape_looks_different(vehicle: Vehicle) -> None:
    pictures = {to_svg(side_view(vehicle, VehicleLook("#335577", None, roof))) for roof in ROOFS}
    assert len(ROOFS) == len(pictures)


def test_every_wheel_style_looks_different(vehicle: Vehicle) -> None:
    looks = (VehicleLook(wheel_style=style) for style in WHEELS)
    assert len(WHEELS) == len({to_svg(side_view(vehicle, look)) for look in looks})


@pytest.mark.parametrize("extra", EXTRAS)
def test_every_extra_shows_on_the_pickup(pickup: Vehicle, extra: Extra) -> None:
    bare = side_view(pickup, VehicleLook())
    dressed = side_view(pickup, VehicleLook(extras=frozenset({extra})))
    assert len(dressed.shapes) > len(bare.shapes)


def test_an_open_look_is_dashed_and_the_decided_one_is_not(vehicle: Vehicle) -> None:
    decided = VehicleLook("#335577", None, "fixed", "steel")
    assert "stroke-dasharray" in to_svg(side_view(vehicle, VehicleLook()))
    assert "stroke-dasharray" not in to_svg(side_view(vehicle, decided))


def test_the_frame_stays_while_colours_and_wheels_change(vehicle: Vehicle) -> None:
    looks = [VehicleLook(), VehicleLook("#335577", None, "fixed", "spoked")]
    assert len({side_view(vehicle, look).box for look in looks}) == 1


def test_a_raised_roof_stands_above_a_fixed_one(van: Vehicle) -> None:
    fixed, raised = (
        bounds_of_all(side_view(van, VehicleLook(roof_shape=roof)).shapes).top
        for roof in ROOFS
        if roof in {"fixed", "raised"}
    )
    assert raised > fixed + 0.3


def test_a_roof_far_above_the_body_is_a_whole_top(van: Vehicle, tourer: Vehicle) -> None:
    assert [silhouette_of(vehicle).is_tall_top for vehicle in (van, tourer)] == [False, True]


def test_the_words_name_what_is_chosen_and_what_is_open() -> None:
    words = look_in_words(VehicleLook("#335577", "#ffffff", None, "spoked", frozenset({"awning"})))
    expected = (
        "Front to the left. Body in the chosen colour; second colour on the lower band; "
        "roof still open; spoked wheels; rolled awning."
    )
    assert expected == words


@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    body=st.lists(st.tuples(coordinate, height), min_size=4, max_size=14),
    roof=st.lists(st.tuples(coordinate, height), min_size=2, max_size=8),
    areas=st.tuples(points, points, points, points),
    shape=st.sampled_from(ROOFS),
)
def test_no_outline_is_too_odd_to_draw(
    van: Vehicle,
    body: list[tuple[float, float]],
    roof: list[tuple[float, float]],
    areas: tuple[list[tuple[float, float]], ...],
    shape: RoofShape | None,
) -> None:
    band, window, door, bed = (tuple(area) for area in areas)
    changes = {
        "body": tuple(body), "roof": tuple(roof), "lower_band": band, "windows": (window,),
        "doors": (door,), "bumpers": (door,), "load_bed": bed,
    }  # fmt: skip
    outline = van.outline.model_copy(update=changes)
    odd = van.model_copy(update={"outline": outline})
    look = VehicleLook("#335577", "#efe6d2", shape, "steel", frozenset(EXTRAS))
    drawing = side_view(odd, look)
    assert holds_all(drawing)
    assert "nan" not in to_svg(drawing)


def test_a_roof_with_a_peak_over_the_windscreen_stays_a_lid(van: Vehicle) -> None:
    peak = ((-0.8, 1.8), *van.outline.roof)
    outline = van.outline.model_copy(update={"roof": peak})
    form = silhouette_of(van.model_copy(update={"outline": outline}))
    assert not form.is_tall_top
    assert min(z for _, z in form.top) >= 1.8 - 1e-9


def test_a_spare_wheel_leans_on_a_low_tail_and_never_floats_above_it(tourer: Vehicle) -> None:
    spare = VehicleLook(extras=frozenset({"spare-wheel"}))
    bare, dressed = (side_view(tourer, look).shapes for look in (VehicleLook(), spare))
    added = bounds_of_all(dressed[len(bare) :])
    tail = max(x for x, _ in tourer.outline.body)
    assert added.bottom < 0.6
    assert added.left <= tail + 0.02
