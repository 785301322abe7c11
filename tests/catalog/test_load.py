from __future__ import annotations

import shutil
import time
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from configurator.catalog.load import faults_of_catalog, load_catalog, load_with_lines
from configurator.errors import CatalogError
from tests.catalog.broken_copies import TINY, change, copy_of_tiny

FILES = sorted(path.relative_to(TINY).as_posix() for path in TINY.rglob("*.*") if path.is_file())
READ_FILES = [file for file in FILES if not file.startswith("demo_builds/")]


def test_the_tiny_catalog_loads_with_its_cycles_and_groups_in_the_order_of_the_talk() -> None:
    catalog = load_catalog(TINY)
    assert "wltc-class-1" in [cycle.id for cycle in catalog.cycles]
    order = ["cells", "springs", "warmth", "plug", "box", "livery"]
    assert order == [group.id for group in catalog.groups]
    offered = [group.id for group in catalog.groups_for("clover-float")]
    assert [group for group in order if group != "plug"] == offered


def test_the_lines_lead_to_the_ids_themselves() -> None:
    lines = load_with_lines(TINY).line_of
    for (kind, identifier), where in lines.items():
        file, _, number = where.rpartition(":")
        line = (TINY / file).read_text(encoding="utf-8").split("\n")[int(number) - 1]
        assert f"id: {identifier.rsplit('/', 1)[-1]}" in line, (kind, identifier, where)


def test_faults_of_several_files_are_told_together(tmp_path: Path) -> None:
    catalog = copy_of_tiny(tmp_path)
    change(catalog, "stages.yaml", "stages:", "stages: [")
    change(catalog, "vehicles/clover-float.yaml", "wheelbase_m: 2.1", "wheelbase_m: 2100")
    change(catalog, "groups/box.yaml", "label: Box", "lable: Box")
    change(catalog, "rules/works.yaml", "[stiff-springs]", "[stif-springs]")
    change(catalog, "texts/read-me-first.md", "workshop.name", "workshop.nmae")
    (catalog / "limits.yaml").write_bytes(b"\xff\xfe")
    with pytest.raises(CatalogError) as caught:
        load_catalog(catalog)
    told = {(fault.where.partition(":")[0], fault.code) for fault in caught.value.faults}
    assert {
        ("stages.yaml", "C007"),
        ("vehicles/clover-float.yaml", "C024"),
        ("groups/box.yaml", "C020"),
        ("groups/box.yaml", "C021"),
        ("rules/works.yaml", "C043"),
        ("texts/read-me-first.md", "C080"),
        ("limits.yaml", "C005"),
    } == told


@pytest.mark.parametrize("file", [file for file in READ_FILES if file != "workshop.yaml"])
def test_an_unreadable_file_is_told_once_and_its_names_are_not_missed(
    tmp_path: Path, file: str
) -> None:
    catalog = copy_of_tiny(tmp_path)
    (catalog / file).write_bytes(b"\xff")
    told = [(fault.code, fault.where) for fault in faults_of_catalog(catalog)]
    assert [("C005", f"{file}:1")] == told


def test_a_broken_entry_still_lends_its_name_to_others(tmp_path: Path) -> None:
    catalog = copy_of_tiny(tmp_path)
    change(catalog, "components/power.yaml", "peak_power_kw: 30", "peak_power_kw: -30")
    (fault,) = faults_of_catalog(catalog)
    assert fault.where == "components/power.yaml:47"
    assert fault.code == "C023"


def test_the_hash_is_the_same_for_the_same_bytes_and_another_for_others(tmp_path: Path) -> None:
    catalog = copy_of_tiny(tmp_path)
    expected = load_catalog(TINY).sha256
    assert expected == load_catalog(catalog).sha256
    change(catalog, "texts/read-me-first.md", "made it", "made  it")
    assert expected != load_catalog(catalog).sha256


def test_the_hash_knows_the_name_of_each_file(tmp_path: Path) -> None:
    catalog = copy_of_tiny(tmp_path)
    (catalog / "rules/looks.yaml").rename(catalog / "rules/sights.yaml")
    assert load_catalog(TINY).sha256 != load_catalog(catalog).sha256


def test_files_that_nobody_reads_do_not_change_the_hash(tmp_path: Path) -> None:
    catalog = copy_of_tiny(tmp_path)
    (catalog / "README.md").write_text("Read me.", encoding="utf-8")
    (catalog / ".notes.yaml").write_text("x: [", encoding="utf-8")
    shutil.rmtree(catalog / "demo_builds")
    assert load_catalog(TINY).sha256 == load_catalog(catalog).sha256


@pytest.mark.parametrize(
    "label",
    [
        "Ελιά και μαύρο",
        "青い屋根",
        "سقف قماش",
        "<b>bold</b> & <script>",
        "**bold** [x](y) `z`",
        "🚜",
    ],
)
def test_a_label_in_any_script_or_markup_is_kept_as_it_is(tmp_path: Path, label: str) -> None:
    catalog = copy_of_tiny(tmp_path)
    change(catalog, "groups/box.yaml", "label: Box", f"label: '{label}'")
    assert label == load_catalog(catalog).group_by_id["box"].label


def test_windows_line_ends_and_a_byte_order_mark_are_read(tmp_path: Path) -> None:
    catalog = copy_of_tiny(tmp_path)
    for file in READ_FILES:
        content = (catalog / file).read_bytes().replace(b"\n", b"\r\n")
        (catalog / file).write_bytes(b"\xef\xbb\xbf" + content)
    plain, windows = load_catalog(TINY), load_catalog(catalog)
    assert plain.model_copy(update={"sha256": windows.sha256}) == windows


@settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    file=st.sampled_from(READ_FILES),
    start=st.integers(min_value=0, max_value=2000),
    cut=st.integers(min_value=0, max_value=12),
    put=st.one_of(
        st.binary(max_size=12),
        st.sampled_from(
            [b"- ", b"[", b"{", b"\t", b": ", b"#", b"*a", b"&a ", b"null", b"no", b"'"]
        ),
    ),
)
def test_random_bytes_in_a_file_never_raise_anything_but_a_catalog_error(
    tmp_path_factory: pytest.TempPathFactory, file: str, start: int, cut: int, put: bytes
) -> None:
    catalog = copy_of_tiny(tmp_path_factory.mktemp("mutated"))
    content = (catalog / file).read_bytes()
    start %= len(content)
    (catalog / file).write_bytes(content[:start] + put + content[start + cut :])
    faults = faults_of_catalog(catalog)
    assert all(fault.where and fault.what and fault.remedy for fault in faults)
    if faults:
        with pytest.raises(CatalogError):
            load_catalog(catalog)
    else:
        load_catalog(catalog)
    shutil.rmtree(catalog)


def test_a_thousand_options_load_quickly(tmp_path: Path) -> None:
    catalog = copy_of_tiny(tmp_path)
    group = (catalog / "groups/box.yaml").read_text(encoding="utf-8")
    head, option = group.split("options:\n")[0], group.split("options:\n")[1].split("  - id:")[2]
    for number in range(25):
        options = "".join(
            f"  - id:{option.replace('slatted-box', f'box-{index}')}" for index in range(40)
        )
        text = f"{head.replace('id: box', f'id: box-{number}')}options:\n{options}"
        text = text.replace("house_choice: bare-bed", "house_choice: box-0")
        (catalog / f"groups/box_{number}.yaml").write_text(text, encoding="utf-8")
    begin = time.perf_counter()
    assert len(load_catalog(catalog).groups) == 31
    assert time.perf_counter() - begin < 5
