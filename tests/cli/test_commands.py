import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest
from typer.testing import CliRunner

from configurator.cli.main import app

Run = Callable[..., subprocess.CompletedProcess[str]]


@pytest.mark.parametrize("command", ["open", "check", "spec", "demo"])
def test_every_command_has_help_with_an_example(command: str) -> None:
    shown = CliRunner().invoke(app, [command, "--help"])
    assert 0 == shown.exit_code
    assert f"Example: configurator {command}" in shown.output


@pytest.mark.parametrize(
    "arguments",
    [
        ["frobnicate"],
        ["spec"],
        ["check", "--colour"],
        ["check", "--on", "yesterday"],
        ["check", "--at-most", "0"],
        ["check", "--replay", "a", "--proofs", "b"],
        ["check", "--replay", "a", "--on", "2026-05-01"],
        ["check", "--replay", "a", "--at-most", "3"],
        ["open", "--port", "70000"],
        [],
    ],
)
def test_wrong_usage_leaves_with_2(arguments: list[str]) -> None:
    assert 2 == CliRunner().invoke(app, arguments).exit_code


def test_check_of_a_good_catalog_leaves_with_0(configurator: Run, catalog_folder: Path) -> None:
    done = configurator("check", "--catalog", catalog_folder, "--on", "2026-03-04")
    assert 0 == done.returncode
    assert "\nRead 2 vehicles, 6 option groups" in done.stdout
    verdict = done.stdout.splitlines()[-1]
    assert verdict.startswith("The catalog can be used: no faults, no warnings, ")


def test_check_of_a_broken_catalog_tells_every_fault_with_file_and_line(
    configurator: Run, catalog_folder: Path
) -> None:
    (catalog_folder / "stages.yaml").write_text("stages: 7\n")
    livery = catalog_folder / "groups" / "livery.yaml"
    livery.write_text(livery.read_text() + "wheels_of_fire: 3\n")
    line = len(livery.read_text().splitlines())
    done = configurator("check", "--catalog", catalog_folder)
    assert 1 == done.returncode
    assert f"fault: groups/livery.yaml:{line}: " in done.stdout
    assert "fault: stages.yaml:1: " in done.stdout
    assert "The catalog cannot be used: " in done.stdout.splitlines()[-1]
    assert "Traceback" not in done.stdout + done.stderr


def test_check_writes_proofs_and_replays_them(
    configurator: Run, catalog_folder: Path, tmp_path: Path
) -> None:
    proofs = tmp_path / "proofs.json"
    done = configurator("check", "--catalog", catalog_folder, "--proofs", proofs)
    assert 0 == done.returncode
    assert f"The proofs are in {proofs}" in done.stdout.splitlines()[-1]
    replayed = configurator("check", "--catalog", catalog_folder, "--replay", proofs)
    assert 0 == replayed.returncode
    assert replayed.stdout.startswith("Proved again: 8 claims hold")


def test_check_says_that_a_catalog_with_faults_in_its_files_has_no_proofs(
    configurator: Run, catalog_folder: Path, tmp_path: Path
) -> None:
    (catalog_folder / "stages.yaml").unlink()
    proofs = tmp_path / "proofs.json"
    done = configurator("check", "--catalog", catalog_folder, "--proofs", proofs)
    assert 1 == done.returncode
    assert done.stdout.splitlines()[-1].startswith(f"No proofs were written to {proofs}: ")
    assert not proofs.exists()


def test_proofs_that_do_not_hold_leave_with_1(
    configurator: Run, catalog_folder: Path, tmp_path: Path
) -> None:
    proofs = tmp_path / "proofs.json"
    configurator("check", "--catalog", catalog_folder, "--proofs", proofs)
    limits = catalog_folder / "limits.yaml"
    limits.write_text(limits.read_text().replace("at_least: 25", "at_least: 24"))
    done = configurator("check", "--catalog", catalog_folder, "--replay", proofs)
    assert 1 == done.returncode
    assert "fault: proofs.json:3: " in done.stdout
    assert "[P032]" in done.stdout
    missing = configurator("check", "--catalog", catalog_folder, "--replay", tmp_path / "no.json")
    assert 1 == missing.returncode
    assert "no.json:1: there is no such file" in missing.stderr
    assert "Traceback" not in done.stderr + missing.stderr


def test_the_catalog_in_the_working_folder_may_be_named_relatively(
    configurator: Run, catalog_folder: Path
) -> None:
    assert catalog_folder.name == "catalog"
    assert 0 == configurator("check", "--catalog", "catalog").returncode


def test_spec_prints_the_paths_of_what_it_wrote(
    configurator: Run, catalog_folder: Path, tmp_path: Path
) -> None:
    file = catalog_folder / "demo_builds" / "first.yaml"
    done = configurator("spec", file, "--catalog", catalog_folder, "--out", "written")
    paths = [tmp_path / line for line in done.stdout.splitlines()]
    assert 0 == done.returncode
    assert [".json", ".pdf", ".pdf", ".pdf"] == [path.suffix for path in paths]
    assert set(paths) == set((tmp_path / "written").iterdir())


def test_spec_of_an_open_build_says_why_there_is_no_pack(
    configurator: Run, catalog_folder: Path
) -> None:
    file = catalog_folder / "demo_builds" / "second.yaml"
    done = configurator("spec", file, "--catalog", catalog_folder, "--out", "written")
    assert (0, 3) == (done.returncode, len(done.stdout.splitlines()))
    assert "Choices are still open" in done.stderr


def test_spec_of_a_bad_build_file_tells_its_faults_and_writes_nothing(
    configurator: Run, catalog_folder: Path, tmp_path: Path
) -> None:
    file = tmp_path / "mine.yaml"
    file.write_text(
        "reference: B-0001\ncustomer: {name: A}\nvehicle: clover-van\npriced_on: 2026-02-01\n"
        "choices:\n  livery: nettel\n  hovercraft: fast\n"
    )
    done = configurator("spec", file, "--catalog", catalog_folder, "--out", "written")
    assert 1 == done.returncode
    assert "nettel" in done.stderr
    assert "hovercraft" in done.stderr
    assert "Traceback" not in done.stderr
    assert not (tmp_path / "written").exists()


@pytest.mark.parametrize("given", ["nowhere.yaml", "catalog"])
def test_spec_of_what_is_no_file_is_told(
    configurator: Run, catalog_folder: Path, given: str
) -> None:
    done = configurator("spec", given, "--catalog", catalog_folder)
    assert 1 == done.returncode
    assert given in done.stderr
    assert "Traceback" not in done.stderr


def test_spec_into_a_file_in_place_of_a_folder_is_told(
    configurator: Run, catalog_folder: Path, tmp_path: Path
) -> None:
    (tmp_path / "written").write_text("not a folder")
    file = catalog_folder / "demo_builds" / "second.yaml"
    done = configurator("spec", file, "--catalog", catalog_folder, "--out", "written")
    assert 1 == done.returncode
    assert "[P009]" in done.stderr


def test_demo_tells_each_build_and_where_the_documents_are(
    configurator: Run, catalog_folder: Path, tmp_path: Path
) -> None:
    first = configurator("demo", "--catalog", catalog_folder, "--data", "mine")
    assert 0 == first.returncode
    assert "B-0001 from first.yaml: B-0001-spec-sheet-" in first.stdout
    assert f"Documents are in {tmp_path / 'mine' / 'documents'}\n" in first.stdout
    assert 3 == len(list((tmp_path / "mine" / "documents").rglob("*.pdf")))
    again = configurator("demo", "--catalog", catalog_folder, "--data", "mine")
    assert "0 of 2 builds are new." in again.stdout


def test_demo_into_a_file_in_place_of_a_folder_is_told(
    configurator: Run, catalog_folder: Path, tmp_path: Path
) -> None:
    (tmp_path / "mine").write_text("not a folder")
    done = configurator("demo", "--catalog", catalog_folder, "--data", "mine")
    assert 1 == done.returncode
    assert "[R001]" in done.stderr
    assert "Traceback" not in done.stderr
