"""What the Spec says of charging sources that the control pilot cannot speak for."""

import pytest

from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from tests.build_spec.tiny_builds import build_of, changed, tiny_catalog


# Source: IEC 61851-1 annex A: the duty cycle says 6 to 80 A.
@pytest.mark.parametrize(
    ("current_a", "expected_percent"),
    [(5.0, None), (6.0, 10.0), (80.0, 96.0), (100.0, None)],
)
def test_a_current_that_the_pilot_cannot_say_has_no_duty_cycle(
    current_a: float, expected_percent: float | None
) -> None:
    catalog = tiny_catalog()
    first, *others = catalog.charging_sources
    sources = (first.model_copy(update={"current_a": current_a}), *others)
    other_current = changed(catalog, f"{current_a} A", charging_sources=sources)
    spec = specify(other_current, build_of(catalog.vehicles[0].id), Engines())
    line = next(line for line in spec.charging if line.source_id == first.id)
    assert expected_percent == line.pilot_duty_percent
