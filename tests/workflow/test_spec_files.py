import json
from pathlib import Path

import pytest

from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from configurator.catalog.build_file import load_build
from configurator.errors import DocumentError
from configurator.workflow.premises import Premises
from configurator.workflow.spec_files import write_spec


def written(premises: Premises, file: str, out: Path) -> tuple[Path, ...]:
    build = load_build(premises.catalog_folder / "demo_builds" / file, premises.catalog)
    return write_spec(premises.catalog, build, Engines(), out)


def test_a_complete_build_gets_json_sheet_and_pack(premises: Premises, tmp_path: Path) -> None:
    paths = written(premises, "first.yaml", tmp_path / "out")
    build = load_build(premises.catalog_folder / "demo_builds" / "first.yaml", premises.catalog)
    spec = specify(premises.catalog, build, Engines())
    prefix = spec.sha256()[:8]
    assert [
        f"B-0001-spec-{prefix}.json",
        f"B-0001-spec-sheet-{prefix}.pdf",
        f"B-0001-handover-pack-{prefix}.pdf",
        f"B-0001-calculation-sheet-{prefix}.pdf",
    ] == [path.name for path in paths]
    assert spec.canonical_json() == paths[0].read_text(encoding="utf-8")
    assert "Invented Dairy" == json.loads(paths[0].read_text())["build"]["customer"]["name"]


def test_an_open_build_gets_no_pack(premises: Premises, tmp_path: Path) -> None:
    names = [path.name for path in written(premises, "second.yaml", tmp_path)]
    assert 3 == len(names)
    assert not any("handover-pack" in name for name in names)


def test_the_same_build_gives_the_same_files(premises: Premises, tmp_path: Path) -> None:
    first = written(premises, "first.yaml", tmp_path / "one")
    second = written(premises, "first.yaml", tmp_path / "two")
    again = written(premises, "first.yaml", tmp_path / "one")
    assert [path.read_bytes() for path in first] == [path.read_bytes() for path in second]
    assert first == again


def test_a_file_in_place_of_the_folder_is_told(premises: Premises, tmp_path: Path) -> None:
    (tmp_path / "out").write_text("not a folder")
    with pytest.raises(DocumentError) as caught:
        written(premises, "second.yaml", tmp_path / "out")
    assert [("P009", str(tmp_path / "out"))] == [(f.code, f.where) for f in caught.value.faults]
