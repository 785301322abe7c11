from __future__ import annotations

import xml.etree.ElementTree as ET

from hypothesis import given, settings
from hypothesis import strategies as st

from configurator.catalog.models.vehicle import Vehicle
from configurator.drawings.look import VehicleLook
from configurator.drawings.shapes import Box, Circle, Drawing, Paint, Polyline, Words
from configurator.drawings.side_view import side_view
from configurator.drawings.svg import to_svg

SVG = "{http://www.w3.org/2000/svg}"


def drawing_with(text: str) -> Drawing:
    words = Words((1.0, 1.0), text, 10.0, "#000000")
    return Drawing(text, text, "pt", Box(0.0, 0.0, 100.0, 20.0), (words,))


def test_markup_in_text_stays_text() -> None:
    hostile = '<script>alert("it\'s")</script>&amp;'
    svg = to_svg(drawing_with(hostile))
    root = ET.fromstring(svg)  # noqa: S314  our own output
    assert "<script" not in svg
    assert [hostile] * 3 == [root.findtext(f"{SVG}{tag}") for tag in ("title", "desc", "text")]
    assert hostile == root.get("aria-label")


@settings(max_examples=60)
@given(st.text(max_size=40))
def test_any_text_gives_well_formed_xml(text: str) -> None:
    svg = to_svg(drawing_with(text))
    root = ET.fromstring(svg.encode())  # noqa: S314  our own output
    assert [element.tag.removeprefix(SVG) for element in root] == ["title", "desc", "text"]


def test_it_is_an_image_with_a_name_and_fetches_nothing(vehicle: Vehicle) -> None:
    svg = to_svg(side_view(vehicle, VehicleLook(body_colour="#335577")))
    root = ET.fromstring(svg)  # noqa: S314  our own output
    assert root.get("role") == "img"
    assert root.findtext(f"{SVG}title") == f"{vehicle.label}, side view"
    plain = {"title", "desc", "polygon", "polyline", "path", "circle", "text"}
    assert plain >= {element.tag.removeprefix(SVG) for element in root}
    assert not [name for element in root for name in element.keys() if "href" in name]  # noqa: SIM118  an element is not a mapping


def test_the_same_drawing_gives_the_same_bytes(vehicle: Vehicle) -> None:
    look = VehicleLook(
        body_colour="#335577", extras=frozenset({"awning", "tow-ball", "roof-rack", "spare-wheel"})
    )
    again = VehicleLook(
        body_colour="#335577", extras=frozenset({"spare-wheel", "roof-rack", "tow-ball", "awning"})
    )
    assert to_svg(side_view(vehicle, look)) == to_svg(side_view(vehicle, again))


def test_up_in_the_drawing_is_up_on_the_screen() -> None:
    low, high = (Circle((0.0, z), 0.1, Paint(fill="#000000")) for z in (0.5, 1.5))
    svg = to_svg(Drawing("Two", "", "m", Box(-1.0, 0.0, 1.0, 2.0), (low, high)))
    root = ET.fromstring(svg)  # noqa: S314  our own output
    assert [circle.get("cy") for circle in root.findall(f"{SVG}circle")] == ["150", "50"]


def test_a_wanted_width_sets_the_height_in_proportion() -> None:
    drawing = Drawing("Wide", "", "m", Box(0.0, 0.0, 4.0, 1.0), ())
    assert 'width="360" height="90"' in to_svg(drawing, width_px=360)


def test_a_dashed_line_is_written_dashed() -> None:
    line = Polyline(((0.0, 0.0), (1.0, 0.0)), Paint(stroke="#000000", stroke_width=1, dash=(2, 1)))
    svg = to_svg(Drawing("Line", "", "pt", Box(0.0, -1.0, 1.0, 1.0), (line,)))
    assert 'stroke-dasharray="2 1"' in svg
