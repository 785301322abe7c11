from __future__ import annotations

import copy
import shutil
from collections.abc import Iterator
from typing import Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from configurator.catalog.fault_codes import FAULT_CODES
from configurator.catalog.load import faults_of_catalog
from tests.catalog.broken_copies import TINY, copy_of_tiny

Way = tuple[str | int, ...]

FILES = sorted(
    path.relative_to(TINY).as_posix()
    for path in TINY.rglob("*.yaml")
    if path.parent.name != "demo_builds"
)


def _ways(value: object, way: Way = ()) -> Iterator[Way]:
    yield way
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from _ways(inner, (*way, key))
    elif isinstance(value, list):
        for number, inner in enumerate(value):
            yield from _ways(inner, (*way, number))


def _with(value: Any, way: Way, put: object) -> Any:
    if not way:
        return put
    changed = copy.deepcopy(value)
    holder = changed
    for key in way[:-1]:
        holder = holder[key]
    holder[way[-1]] = put
    return changed


CONTENT = {file: yaml.safe_load((TINY / file).read_text(encoding="utf-8")) for file in FILES}
PLACES = [(file, way) for file in FILES for way in _ways(CONTENT[file])]
WRONG = [None, [], {}, -1, 10**15, 2.5, "x", "", True, [[]], {"a": {}}, "2024-01-01", "a" * 700]


@settings(max_examples=60, deadline=None)
@given(place=st.sampled_from(PLACES), put=st.sampled_from(WRONG))
def test_a_value_of_the_wrong_shape_anywhere_is_a_fault_with_a_known_code(
    tmp_path_factory: pytest.TempPathFactory, place: tuple[str, Way], put: object
) -> None:
    file, way = place
    catalog = copy_of_tiny(tmp_path_factory.mktemp("wrong"))
    changed = yaml.safe_dump(_with(CONTENT[file], way, put), allow_unicode=True)
    (catalog / file).write_text(changed, encoding="utf-8")
    faults = faults_of_catalog(catalog)
    assert {fault.code for fault in faults} <= set(FAULT_CODES)
    if way == ():
        assert file in {fault.where.partition(":")[0] for fault in faults}
    shutil.rmtree(catalog)


def test_places_that_are_a_number_hide_no_other_fault(
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    catalog = copy_of_tiny(tmp_path_factory.mktemp("wrong"))
    file = "vehicles/clover-float.yaml"
    changed = yaml.safe_dump(_with(CONTENT[file], ("places",), -1))
    (catalog / file).write_text(changed, encoding="utf-8")
    (fault,) = faults_of_catalog(catalog)
    assert fault.code == "C013"
    assert fault.where.startswith(file)
