from __future__ import annotations

import dataclasses

from hypothesis import given, settings
from hypothesis import strategies as st

from configurator.drawings.load_bars import AxleBar, load_bars, margin_in_words
from configurator.drawings.scale import scale_for
from configurator.drawings.shapes import Drawing, Polyline, Words, bounds, grown
from configurator.drawings.text_lines import lines_within

LEAST_PT = 10.5

FRONT = AxleBar("Front axle", 612, 655, 820, 890, 905, 905, "axle")
REAR = AxleBar("Rear axle", 700, 700, 955, 955, 900, 900, "tyre")


def texts(drawing: Drawing) -> list[str]:
    return [shape.text for shape in drawing.shapes if isinstance(shape, Words)]


def is_within(drawing: Drawing) -> bool:
    box = grown(drawing.box, 0.01)
    return all(
        box.left <= inner.left
        and inner.right <= box.right
        and box.bottom <= inner.bottom
        and inner.top <= box.top
        for inner in map(bounds, drawing.shapes)
    )


def test_the_chart_holds_all_it_draws_in_letters_that_read() -> None:
    drawing = load_bars([FRONT, REAR])
    assert is_within(drawing)
    sizes = [shape.size for shape in drawing.shapes if isinstance(shape, Words)]
    assert min(sizes) >= LEAST_PT


def test_loads_and_limits_are_written_as_numbers() -> None:
    written = texts(load_bars([FRONT, REAR]))
    assert {"612–655 kg", "820–890 kg", "limit 905 kg (axle)", "955 kg"} <= set(written)


def test_an_overloaded_axle_says_so_in_words() -> None:
    assert "over its limit by 55 kg" in texts(load_bars([REAR]))
    assert "15 kg to spare" in texts(load_bars([FRONT]))
    assert "over its limit by 55 kg" in load_bars([REAR]).description


def test_an_axle_that_open_choices_decide_promises_nothing() -> None:
    undecided = AxleBar("Rear", 600, 700, 850, 950, 900, 900)
    assert margin_in_words(undecided) == "depends on what is open"


def test_a_spare_of_less_than_a_kilogram_is_not_rounded_up() -> None:
    assert margin_in_words(AxleBar("Rear", 600, 600, 899.1, 899.1, 900, 900)) == "0 kg to spare"


def test_open_loads_are_hatched_and_settled_ones_are_not() -> None:
    settled = dataclasses.replace(FRONT, kerb_low_kg=655, laden_low_kg=890)
    lines = [
        sum(isinstance(shape, Polyline) for shape in load_bars([axle]).shapes)
        for axle in (FRONT, settled)
    ]
    assert lines[0] > lines[1]


def test_an_empty_chart_is_still_a_chart() -> None:
    assert load_bars([]).box.height > 0


@settings(max_examples=40)
@given(
    st.tuples(st.floats(0, 3000), st.floats(0, 3000)).map(sorted),
    st.tuples(st.floats(0, 3000), st.floats(0, 3000)).map(sorted),
    st.tuples(st.floats(100, 3000), st.floats(100, 3000)).map(sorted),
)
def test_any_axle_fits_its_chart(kerb: list[float], laden: list[float], limit: list[float]) -> None:
    axle = AxleBar("Front axle", *kerb, *laden, *limit, limited_by="wheel")
    assert is_within(load_bars([axle]))


@given(st.floats(0, 1e5))
def test_a_scale_holds_its_greatest_value_in_few_round_steps(greatest: float) -> None:
    scale = scale_for(greatest, 0.0, 100.0)
    assert scale.last >= greatest * 0.999
    assert len(scale.ticks()) <= 6


@given(st.text(alphabet="abc de", max_size=120), st.floats(20, 300))
def test_broken_lines_lose_no_letter(text: str, width: float) -> None:
    lines = lines_within(text, 10.0, width)
    assert "".join(text.split()) == "".join("".join(lines).split())
