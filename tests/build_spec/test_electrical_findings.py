"""What of the electrical set becomes a finding, and whether it says the hazard that there is."""

from typing import get_args

import pytest

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.electrical_check import ElectricalCheck, Verdict, asked_for
from configurator.build_spec.electrical_findings import (
    CONSEQUENCES,
    HOLDS_BACK,
    electrical_findings,
)
from configurator.build_spec.electrical_section import electrical_checks
from configurator.build_spec.spec import Finding
from configurator.catalog.models.component import Pack
from tests.build_spec.electrical_builds import choices_of, electrical_catalog, limit
from tests.build_spec.tiny_builds import changed, compiled_of, tiny_catalog, with_limits

VAN = "clover-van"


def check(topic: str, verdict: Verdict = "beyond") -> ElectricalCheck:
    return ElectricalCheck(
        id="a",
        topic=topic,
        label="Label",
        value=2.0,
        unit="V",
        decimals=0,
        bound=1.0,
        bound_is="at most",
        margin=-1.0,
        verdict=verdict,
        formula="as stated",
        source="invented for tests",
    )


def test_each_topic_that_may_be_broken_has_its_own_consequence() -> None:
    compiled = compiled_of(electrical_catalog(), VAN)
    checks = electrical_checks(compiled, choices_of(compiled, plug="quick-plug"))
    judged = [c for c in checks if c.bound_is is not None and c.verdict != "to measure"]
    bounded = {c.topic for c in judged if c.id not in HOLDS_BACK}
    assert bounded <= set(CONSEQUENCES)
    assert len(CONSEQUENCES) == len(set(CONSEQUENCES.values()))


@pytest.mark.parametrize(
    ("topic", "word"),
    [
        ("Battery", "burn"),
        ("High-voltage cables", "burn"),
        ("Main contactors", "weld"),
        ("After switching off", "kill"),
    ],
)
def test_a_finding_says_what_happens_where_its_check_is_not_kept(topic: str, word: str) -> None:
    [finding] = electrical_findings([check(topic)], set())
    assert word in finding.sentence
    assert "competent person" in finding.remedy


@pytest.mark.parametrize("verdict", sorted(set(get_args(Verdict)) - {"beyond", "not stated"}))
def test_what_is_kept_or_only_told_is_no_finding(verdict: Verdict) -> None:
    assert [] == list(electrical_findings([check("Battery", verdict)], set()))


@pytest.mark.parametrize(
    ("extra", "words"),
    [
        (10.0, "; the catalog asks for 10 A more"),
        (-10.0, "; the catalog allows 10 A less"),
        (0.0, ""),
    ],
)
def test_room_that_the_catalog_asks_for_or_gives_is_told(extra: float, words: str) -> None:
    assert words == asked_for(extra, "A")


def findings(compiled: Compiled, **picks: str) -> dict[str, list[Finding]]:
    checked = electrical_checks(compiled, choices_of(compiled, **picks))
    by_code: dict[str, list[Finding]] = {}
    for finding in electrical_findings(checked, {f.limit.limit for f in compiled.limits}):
        by_code.setdefault(finding.code, []).append(finding)
    return by_code


def test_a_check_beyond_its_bound_warns_unless_a_limit_tells_it() -> None:
    free = compiled_of(electrical_catalog(), VAN)
    told = findings(free, cells="few-cells", warmth="scarf")["F031"]
    assert "fuse-current" in {finding.subject for finding in told}
    assert "fuse-breaking" in {finding.subject for finding in told}
    bounded = compiled_of(
        with_limits(electrical_catalog(), limit("fuse_margin_a", at_least=0)), VAN
    )
    left = findings(bounded, cells="few-cells", warmth="scarf")["F031"]
    assert {f.subject for f in told} - {f.subject for f in left} == {"fuse-current"}


def test_what_the_inverter_holds_back_and_what_is_missing_is_noted_once() -> None:
    found = findings(compiled_of(tiny_catalog(), VAN), cells="few-cells")
    assert {"F032", "F033"} == set(found)
    [missing] = found["F033"]
    assert "the main fuse that is fitted" in missing.sentence
    [weak] = found["F032"]
    assert "notes" == weak.severity == missing.severity


@pytest.mark.parametrize(("for_long_kw", "verdict"), [(5.0, "beyond"), (300.0, "kept")])
def test_more_than_the_battery_gives_for_long_is_told(for_long_kw: float, verdict: str) -> None:
    catalog = electrical_catalog()
    parts = tuple(
        part.model_copy(update={"continuous_discharge_kw": for_long_kw})
        if isinstance(part, Pack)
        else part
        for part in catalog.components
    )
    compiled = compiled_of(changed(catalog, f"{for_long_kw} kW", components=parts), VAN)
    checks = electrical_checks(compiled, choices_of(compiled))
    check = next(check for check in checks if check.id == "continuous-power")
    assert (verdict, for_long_kw) == (check.verdict, check.bound)
    weak = [f.sentence for f in findings(compiled).get("F032", [])]
    assert any("continuous power at the battery" in sentence for sentence in weak) == (
        verdict == "beyond"
    )
