"""Own convention and reference: every difference by itself, and all of them together."""

# Source: FASTSim 3.1.0, run here; the table in DEVELOPERS.md.

from __future__ import annotations

import re
from dataclasses import fields
from itertools import pairwise
from pathlib import Path

import pytest

from configurator.physics.convention import OWN, REFERENCE, Convention
from configurator.physics.road_vehicle import RoadVehicle
from tests.reference.convention_steps import (
    FILE_NUMBER,
    STEPS,
    reference_wh_per_km,
    sizes_wh_per_km,
    walk,
)
from tests.reference.fastsim_runs import as_ours, electric_files

DEVELOPERS = Path(__file__).parents[2] / "DEVELOPERS.md"
ROW = re.compile(r"\| ([^|]+) \| [^|]+ \| [^|]+ \| [^|]+ \| (-?\d+\.\d\d) \|")


def test_the_steps_add_up_from_our_consumption_to_that_of_the_reference() -> None:
    assert reference_wh_per_km() == pytest.approx(sum(sizes_wh_per_km().values()), rel=1e-9)


def test_the_table_of_the_developers_tells_each_step_with_its_size() -> None:
    section = DEVELOPERS.read_text("utf-8").split("## The road load and its reference")[1]
    told = {name: float(size) for name, size in ROW.findall(section.split("\n## ")[0])}
    sizes = sizes_wh_per_km()
    del sizes["Own"]
    assert [*sizes] == [*told]
    assert sizes == pytest.approx(told, abs=0.0051)


def test_after_the_last_step_nothing_of_our_convention_is_left() -> None:
    file = electric_files()[FILE_NUMBER - 1]
    *_, (_, reached) = walk(file)
    assert as_ours(file) == reached


def test_each_step_changes_something_and_no_other_step_changes_it_again() -> None:
    changed: list[str] = []
    walked = [state for _, state in walk(electric_files()[FILE_NUMBER - 1])]
    for before, after in pairwise(walked):
        moved = [
            field.name
            for kind, old, new in zip((RoadVehicle, Convention), before, after, strict=True)
            for field in fields(kind)
            if getattr(old, field.name) != getattr(new, field.name)
        ]
        assert moved
        changed += moved
    assert len(set(changed)) == len(changed)
    assert len(STEPS) == len(walked) - 1


def test_every_agreement_of_the_reference_is_a_step() -> None:
    file = electric_files()[FILE_NUMBER - 1]
    reference = as_ours(file)[1]
    differing = {
        field.name
        for field in fields(Convention)
        if getattr(OWN, field.name) != getattr(reference, field.name)
    }
    assert {field.name for field in fields(Convention)} == differing
    assert (None, None) == (REFERENCE.motor_map, REFERENCE.battery_map)
