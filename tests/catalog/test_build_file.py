from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from configurator.catalog.build_file import load_build
from configurator.catalog.fault_codes import FAULT_CODES
from configurator.catalog.load import load_catalog
from configurator.catalog.models.build import BuildInput
from configurator.errors import BuildFileError, Fault
from tests.catalog.broken_copies import TINY

CATALOG = load_catalog(TINY)
FIRST = (TINY / "demo_builds" / "first.yaml").read_text(encoding="utf-8")


def _faults(path: Path) -> tuple[Fault, ...]:
    with pytest.raises(BuildFileError) as caught:
        load_build(path, CATALOG)
    return caught.value.faults


def _written(folder: Path, text: str, name: str = "build.yaml") -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def test_the_builds_of_the_tiny_catalog_can_be_read() -> None:
    for path in sorted((TINY / "demo_builds").glob("*.yaml")):
        assert load_build(path, CATALOG).reference.startswith("B-")


def test_the_same_build_is_read_from_json_with_its_escapes(tmp_path: Path) -> None:
    build = load_build(TINY / "demo_builds" / "first.yaml", CATALOG)
    expected = build.model_copy(update={"notes": "🚜 tab\tslash / Ελιά \\ud83d\\ude9c"})
    for ensure_ascii in (True, False):
        text = json.dumps(expected.model_dump(mode="json"), ensure_ascii=ensure_ascii, indent="\t")
        assert expected == load_build(_written(tmp_path, text, "build.json"), CATALOG)


# what stands there, what is put there, code, line, words of the remedy
CASES = [
    ("vehicle:", "   vehicle:", "B002", 5, "indentation"),
    ("vehicle: clover-float", "vehicle: clover-float\nvehicle: clover-van", "B002", 6, "line 5"),
    ("priced_on:", "prised_on:", "B003", 6, 'Did you mean "priced_on"?'),
    ("priced_on: 2026-02-01\n", "", "B004", 1, "priced_on"),
    ("priced_on: 2026-02-01", "priced_on: soon", "B005", 6, "2026-05-01"),
    ("name: Invented Dairy", f"name: {'Long ' * 50}", "B005", 3, "at most 200"),
    ("name: Invented Dairy", "name: ''", "B005", 3, "Fill it"),
    ("reference: B-0001", "reference: B-1", "B005", 1, "B-0007"),
    ("'50.00'", "50.00", "B005", 14, 'Write "50.00"'),
    ("'50.00'", "'-50.00'", "B005", 14, "at least 0"),
    ("vehicle: clover-float", "vehicle: clover-boat", "B006", 5, 'Did you mean "clover-float"?'),
    ("  cells: many", "  sells: many", "B007", 8, 'Did you mean "cells"?'),
    ("many-cells", "manny-cells", "B008", 8, 'Did you mean "many-cells"?'),
    ("vehicle: clover-float", "vehicle: clover-van", "B009", 9, "bare-bed, slatted-box"),
    ("  livery: nettle", "  plug: slow-plug", "B009", 10, "Take the line out"),
    ("part: bed-planks", "part: bed-blanks", "B010", 13, 'Did you mean "bed-planks"?'),
    ("part: bed-planks", "from_second_donor: true, part: bed-planks", "B018", 13, "second_donor"),
    (
        "survey:\n",
        "survey:\n  - {part: bed-planks, verdict: keep}\n",
        "B011",
        14,
        "Keep one",
    ),
    (
        "survey:\n",
        "as_built: {serial_numbers: {motr: X1}}\nsurvey:\n",
        "B012",
        12,
        'Did you mean "motor"?',
    ),
]


@pytest.mark.parametrize("case", CASES, ids=[f"{case[2]}-{case[1][:20]}" for case in CASES])
def test_a_broken_build_is_told_with_code_line_and_remedy(
    tmp_path: Path, case: tuple[str, str, str, int, str]
) -> None:
    old, new, code, line, remedy = case
    assert old in FIRST
    faults = _faults(_written(tmp_path, FIRST.replace(old, new, 1)))
    told = {(fault.code, fault.where): fault for fault in faults}
    assert (code, f"build.yaml:{line}") in told, [str(fault) for fault in faults]
    assert remedy in told[code, f"build.yaml:{line}"].remedy


def test_all_faults_of_a_build_are_told_together(tmp_path: Path) -> None:
    text = FIRST.replace("cells: many", "sells: many").replace("nettle", "kettle")
    text = text.replace("bed-planks", "red-planks").replace("notes", "nodes")
    text = text.replace("priced_on: 2026-02-01", "priced_on: soon")
    codes = [fault.code for fault in _faults(_written(tmp_path, text))]
    assert sorted(codes) == ["B005", "B007", "B008", "B010"]


WISHES = """
must_keep: [livery, sells]
wishes:
  - {fact: prize_gbp, at_most: 3}
  - {fact: price_gbp, case: lane, at_most: 3}
  - {fact: range_low_km, case: lanes, at_least: 3}
  - {fact: range_low_km, at_least: 3}
  - {fact: price_gbp, at_most: .inf}
  - {fact: price_gbp, at_most: 3, at_least: 2}
preferences:
  - {group: liveri, option: nettle}
  - {group: livery, option: nettel}
  - {group: plug, option: slow-plug}
"""


def test_wishes_and_marks_that_name_nothing_are_told_with_their_lines(tmp_path: Path) -> None:
    text = FIRST.rstrip("\n") + WISHES
    first = text.splitlines().index("must_keep: [livery, sells]") + 1
    expected = [
        *(("B013", 0), ("B005", 2), ("B014", 3), ("B014", 4), ("B014", 5), ("B005", 6)),
        *(("B005", 7), ("B007", 9), ("B008", 10), ("B009", 11)),
    ]
    faults = _faults(_written(tmp_path, text))
    assert [(code, f"build.yaml:{first + line}") for code, line in expected] == [
        (fault.code, fault.where) for fault in faults
    ]
    assert 'Did you mean "lane"?' in faults[3].remedy


def test_a_wish_or_preference_that_stands_twice_is_told(tmp_path: Path) -> None:
    text = (
        FIRST.rstrip("\n")
        + """
wishes:
  - {fact: price_gbp, at_most: 30000}
  - {fact: price_gbp, at_least: 3}
  - {fact: price_gbp, at_most: 40000}
preferences: [{group: box, option: bare-bed}, {group: box, option: bare-bed}]
"""
    )
    faults = _faults(_written(tmp_path, text))
    assert ["B015", "B015"] == [fault.code for fault in faults]
    assert "line 3 is about the same as line 1" in faults[0].what


def test_a_build_may_carry_wishes_marks_and_preferences(tmp_path: Path) -> None:
    text = (
        FIRST.rstrip("\n")
        + """
must_keep: [livery]
wishes: [{fact: range_low_km, case: lane, at_least: 30}, {fact: price_gbp, at_most: 30000}]
preferences: [{group: box, option: bare-bed}]
"""
    )
    build = load_build(_written(tmp_path, text), CATALOG)
    assert (("livery",), 2, "bare-bed") == (
        build.must_keep,
        len(build.wishes),
        build.preferences[0].option,
    )


def test_a_name_of_two_hundred_characters_is_kept_and_one_more_is_refused(tmp_path: Path) -> None:
    name = "木" * 200
    path = _written(tmp_path, FIRST.replace("Invented Dairy", name))
    assert name == load_build(path, CATALOG).customer.name
    path = _written(tmp_path, FIRST.replace("Invented Dairy", f"{name}木"))
    (fault,) = _faults(path)
    assert fault.code == "B005"
    assert "201 characters" in fault.what


@pytest.mark.parametrize("name", ["Ελιά", "مخبز", "<img src=x>", "**Baker** & [Sons](x)", "'; --"])
def test_a_name_in_any_script_or_markup_is_kept_as_it_is(tmp_path: Path, name: str) -> None:
    text = FIRST.replace("name: Invented Dairy", f"name: {json.dumps(name, ensure_ascii=False)}")
    assert name == load_build(_written(tmp_path, text), CATALOG).customer.name


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"", "B001"),
        (b"\xff\xfe", "B001"),
        (b"x" * (2 * 1024 * 1024 + 1), "B001"),
        (b"- a\n- b\n", "B002"),
        (b"only words", "B002"),
        (b"a: &x 1\nb: *x\n", "B002"),
        (b"a: " + b"[" * 5000, "B002"),
    ],
)
@pytest.mark.parametrize("ending", ["yaml", "json"])
def test_a_file_that_is_no_build_is_told(
    tmp_path: Path, content: bytes, code: str, ending: str
) -> None:
    path = tmp_path / f"build.{ending}"
    path.write_bytes(content)
    assert {code} == {fault.code for fault in _faults(path)}


def test_a_folder_or_nothing_in_the_place_of_the_file_is_told(tmp_path: Path) -> None:
    for path in (tmp_path, tmp_path / "gone.yaml", tmp_path / ("long" * 200), Path("bad\0name")):
        (fault,) = _faults(path)
        assert fault.code == "B001"


@settings(max_examples=80, deadline=None)
@given(
    start=st.integers(min_value=0, max_value=len(FIRST) - 1),
    cut=st.integers(min_value=0, max_value=10),
    put=st.text(max_size=8),
    ending=st.sampled_from(["yaml", "json"]),
)
def test_random_text_in_a_build_never_raises_anything_but_a_build_file_error(
    tmp_path_factory: pytest.TempPathFactory, start: int, cut: int, put: str, ending: str
) -> None:
    build = load_build(TINY / "demo_builds" / "first.yaml", CATALOG)
    text = FIRST if ending == "yaml" else build.model_dump_json()
    changed = text[:start] + put + text[start + cut :]
    path = tmp_path_factory.mktemp("mutated") / f"build.{ending}"
    path.write_bytes(changed.encode("utf-8", "surrogatepass"))
    try:
        read = load_build(path, CATALOG)
    except BuildFileError as error:
        read = None
        texts = [(fault.where, fault.what, fault.remedy) for fault in error.faults]
        known = {fault.code for fault in error.faults} <= set(FAULT_CODES)
    if read is None:
        assert texts
        assert known
        assert all(all(text) for text in texts)
    else:
        assert isinstance(read, BuildInput)


MEASURED = """
measurements:
  trips:
    - {driven_on: 2026-06-01, case: lain, km: 40, energy_kwh: 6.1}
    - {driven_on: 2026-06-02, case: lane, km: 0, energy_kwh: 6.1}
  coast_down:
    measured_on: 2026-05-04
    vehicle_was: donor
    mass_kg: 1200
    temperature_c: 12
    runs:
      - {time_s: [0, 2, 4, 6], speed_km_h: [80, 70, 60]}
      - {time_s: [0, 2, 4, 6], speed_km_h: [80, 70, 60, 50]}
"""


def test_what_was_measured_on_the_road_is_checked_with_its_lines(tmp_path: Path) -> None:
    text = FIRST.rstrip("\n") + MEASURED
    first = text.splitlines().index("measurements:") + 1
    faults = {fault.where: fault for fault in _faults(_written(tmp_path, text))}
    assert faults[f"build.yaml:{first + 2}"].code == "B017"
    assert 'Did you mean "lane"?' in faults[f"build.yaml:{first + 2}"].remedy
    assert faults[f"build.yaml:{first + 3}"].code == "B005"
    # The run of three speeds is short before it fails to pair up.
    assert faults[f"build.yaml:{first + 10}"].code == "B005"
