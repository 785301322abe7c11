"""What of a drive's numbers becomes a finding, and in which words."""

import pytest

from configurator.build_spec.performance_findings import performance_findings
from configurator.build_spec.performance_result import PerformanceLine


def line(topic: str, margin: float | None) -> PerformanceLine:
    return PerformanceLine.model_validate(
        {
            "id": "a",
            "topic": topic,
            "label": "Label",
            "value": 14.0,
            "unit": "%",
            "decimals": 0,
            "margin": margin,
            "note": "Note.",
            "how": "how",
            "source": "invented for tests",
        }
    )


@pytest.mark.parametrize(
    ("topic", "margin", "codes"),
    [
        ("Fast road", -3.0, ["F051"]),
        ("Fast road", 0.0, []),
        ("Restart on a hill", -4.0, ["F052"]),
        ("Restart on a hill", None, []),
        ("Top speed", -1.0, []),
    ],
)
def test_what_lacks_room_is_found(topic: str, margin: float | None, codes: list[str]) -> None:
    assert codes == [finding.code for finding in performance_findings([line(topic, margin)])]


def test_a_finding_compares_what_is_with_what_is_asked() -> None:
    [slips] = performance_findings([line("Restart on a hill", -4.0)])
    [warm] = performance_findings([line("Fast road", -3.0)])
    assert (14.0, 18.0) == (slips.value, slips.bound)
    assert (14.0, 11.0) == (warm.value, warm.bound)


def test_tyres_that_slip_on_the_level_are_not_told_a_slope_below_it() -> None:
    [slips] = performance_findings(
        [line("Restart on a hill", -20.0).model_copy(update={"value": -2.3})]
    )
    assert "slip above 0 %" in slips.sentence


def test_a_slope_on_which_the_tyres_slip_is_never_rounded_up() -> None:
    [slips] = performance_findings(
        [line("Restart on a hill", -4.0).model_copy(update={"value": 14.7})]
    )
    assert "slip above 14 %" in slips.sentence
