"""What the pages for people say is true: commands, codes, facts, examples, pictures, links."""

from __future__ import annotations

import importlib
import importlib.util
import re
import shutil
import tomllib
from collections.abc import Iterator
from datetime import date
from functools import cache
from pathlib import Path
from urllib.parse import unquote

import pytest
import typer.main
from PIL import Image

import configurator
from configurator.build_spec.engines import Engines
from configurator.build_spec.fact_names import FACT_LABELS
from configurator.build_spec.finding_codes import FINDING_CODES
from configurator.build_spec.pipeline import specify
from configurator.build_spec.spec import Spec
from configurator.catalog.build_file import load_build
from configurator.catalog.cross_checks.fact_cases import FACT_NAMES, case_kind
from configurator.catalog.load import load_catalog
from configurator.catalog.models.build import BuildInput, Customer
from configurator.catalog.models.catalog import Catalog
from configurator.cli.main import app
from configurator.workflow.check_catalog import check_catalog

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "configurator"
TINY = ROOT / "tests" / "catalogs" / "tiny"
README = (ROOT / "README.md").read_text("utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text("utf-8")
PAGES = ("README.md", "DEVELOPERS.md", "CHANGELOG.md", "catalog/README.md", "outputs/README.md")

SET_UP = (
    "python3 -m venv .venv && .venv/bin/pip install -q {lock} "
    "&& .venv/bin/pip install -q --no-deps -e . && "
)
OPEN = SET_UP.format(lock="-r requirements.lock") + ".venv/bin/configurator open"
TEST = SET_UP.format(lock="--no-compile -r requirements-dev.lock") + ".venv/bin/python -m pytest"

LARGEST_PICTURE_BYTES = 400_000


def blocks(page: str, *languages: str) -> list[str]:
    """Find the fenced blocks of some languages, in order."""
    found = re.findall(r"^```(\w+)\n(.*?)^```$", page, re.MULTILINE | re.DOTALL)
    return [content for language, content in found if language in languages]


def table_rows(page: str, first_cell: str) -> dict[str, list[str]]:
    """Find the table rows whose first cell matches: that cell → the other cells."""
    rows = re.findall(rf"^\| ({first_cell}) \|(.*)\|$", page, re.MULTILINE)
    found = {first: [cell.strip() for cell in rest.split(" | ")] for first, rest in rows}
    assert len(found) == len(rows), "a row stands twice"
    return found


def error_codes() -> dict[str, str]:
    """Gather the codes of every room, each with its title."""
    found: dict[str, str] = {}
    for path in sorted(PACKAGE.glob("*/fault_codes.py")):
        codes = importlib.import_module(f"configurator.{path.parent.name}.fault_codes").FAULT_CODES
        assert not found.keys() & codes.keys(), "two rooms use one code"
        found |= codes
    return found


def test_the_readme_begins_with_the_job_and_the_two_commands() -> None:
    assert [OPEN, TEST] == [block.rstrip("\n") for block in blocks(README, "sh")[:2]]
    title, first_paragraph = README.split("\n\n")[:2]
    assert title.startswith("# ")
    assert re.match(r"[A-Z][^`\[]+$", first_paragraph), "the job is told in plain words"


def test_ci_runs_the_test_command_word_for_word() -> None:
    lines = (ROOT / ".ci" / "run").read_text("utf-8").splitlines()
    assert TEST == lines[-1]


def test_the_lock_files_name_a_hash_for_every_package() -> None:
    for lock in ("requirements.lock", "requirements-dev.lock"):
        pinned = re.split(r"\n(?=\S)", (ROOT / lock).read_text("utf-8").strip())
        packages = [entry for entry in pinned if "==" in entry.splitlines()[0]]
        assert len(packages) > 20
        assert [] == [entry.splitlines()[0] for entry in packages if "--hash=sha256:" not in entry]


def test_every_command_and_option_is_in_the_readme_and_the_reverse() -> None:
    commands = typer.main.get_command(app).commands
    assert set(commands) == set(re.findall(r"\*\*`configurator (\w+)`\*\*", README))
    examples = " ".join(blocks(README, "sh"))
    groups = {name: command.commands for name, command in commands.items() if not command.params}
    parts = [(f"{name} {part}", c) for name, group in groups.items() for part, c in group.items()]
    commands = {**{n: c for n, c in commands.items() if n not in groups}, **dict(parts)}
    for name, command in commands.items():
        assert f".venv/bin/configurator {name}" in examples, name
        for parameter in command.params:
            for option in (*parameter.opts, *parameter.secondary_opts):
                if option not in {"--help", "--browser"} and option.startswith("--"):
                    assert f"{option}" in README, f"{name} {option}"
    known = {option for c in commands.values() for p in c.params for option in p.opts}
    known |= {option for c in commands.values() for p in c.params for option in p.secondary_opts}
    told = set(re.findall(r"`(--[a-z-]+)", README)) - {"--help"}
    assert set() == told - known


def test_the_build_file_of_the_readme_can_be_used(tmp_path: Path) -> None:
    path = tmp_path / "build.yaml"
    path.write_text(blocks(README, "yaml")[0], encoding="utf-8")
    catalog = load_catalog(ROOT / "catalog")
    assert specify(catalog, load_build(path, catalog), Engines()).is_complete


def test_every_finding_has_a_heading_with_its_title_and_the_reverse() -> None:
    told = dict(re.findall(r"^### (F\d{3})\n\n\*\*(.+?)\.\*\*", DEVELOPERS, re.MULTILINE))
    assert told == FINDING_CODES


def test_every_error_code_is_told_with_its_title_and_what_to_do_and_the_reverse() -> None:
    rows = table_rows(DEVELOPERS, r"[A-Z]\d{3}")
    assert error_codes() == {code: cells[0] for code, cells in rows.items()}
    assert [] == [code for code, cells in rows.items() if len(cells) != 2 or len(cells[1]) < 8]


def test_every_code_in_the_program_is_listed() -> None:
    known = error_codes().keys() | FINDING_CODES.keys()
    for path in PACKAGE.rglob("*.py"):
        used = set(re.findall(r'"([BCDFMOPRSVW]\d{3})"', path.read_text("utf-8")))
        assert used <= known, path.name


def test_every_fact_is_told_with_unit_and_case_and_the_reverse() -> None:
    rows = table_rows(DEVELOPERS, r"`[a-z_0-9]+`")
    facts = {name.strip("`"): cells for name, cells in rows.items() if len(cells) == 3}
    assert set(facts) == FACT_NAMES
    for name, label in FACT_LABELS.items():
        unit, case, meaning = facts[name]
        assert label.unit or "—" == unit
        assert case_kind(name) or "—" == case
        assert len(meaning) > 10


def test_the_map_is_the_one_that_the_imports_are_held_to() -> None:
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    layers = settings["tool"]["importlinter"]["contracts"][0]["layers"]
    assert [layer for layer in layers if layer != "__main__"] == (
        blocks(DEVELOPERS, "text")[0].splitlines()
    )
    rooms = {room for layer in layers for room in layer.split(" | ")} - {"__main__"}
    rows = table_rows(DEVELOPERS, r"`[a-z_]+`")
    assert rooms == {name.strip("`") for name, cells in rows.items() if len(cells) == 2}


def examples_in_a_copy(folder: Path) -> Path:
    """Put every YAML and Markdown example of DEVELOPERS.md into a copy of the tiny catalog."""
    catalog = Path(shutil.copytree(TINY, folder / "catalog"))
    for block in blocks(DEVELOPERS, "yaml", "markdown"):
        first, content = block.split("\n", 1)
        named = re.fullmatch(r"(?:# |<!-- )(\S+)(?: -->)?", first)
        assert named is not None, first
        path = catalog / named[1]
        before = path.read_text("utf-8") if path.exists() else ""
        path.write_text(before + content, encoding="utf-8")
    return catalog


def test_the_examples_make_a_catalog_without_fault(tmp_path: Path) -> None:
    tiny, changed = check_catalog(TINY), check_catalog(examples_in_a_copy(tmp_path))
    assert [] == [str(fault) for fault in changed.faults]
    others_untested = {"W017"}  # The record of the example tests the battery alone.
    warned = {fault.code for fault in tiny.warnings} | others_untested
    assert {fault.code for fault in changed.warnings} <= warned
    grown = {what: changed.counts[what] - number for what, number in tiny.counts.items()}
    expected = {
        "vehicles": 1, "option groups": 1, "options": 4, "components": 1, "rules": 1, "limits": 1,
        "texts": 1,
    }  # fmt: skip
    assert expected == {what: number for what, number in grown.items() if number}


def spec_of_an_example(catalog: Catalog) -> Spec:
    """Compute a build with the new vehicle, the new option and what follows from them."""
    build = BuildInput(
        reference="B-0001",
        customer=Customer(name="Invented Person"),
        vehicle="clover-barrow",
        priced_on=date(2026, 2, 1),
        choices={"livery": "duck-egg", "bell": "gong", "warmth": "warm-brick"},
        house_choices_for_the_rest=True,
    )
    return specify(catalog, build, Engines())


def test_the_examples_are_priced_ruled_and_driven(tmp_path: Path) -> None:
    spec = spec_of_an_example(load_catalog(examples_in_a_copy(tmp_path)))
    assert spec.is_complete
    assert [] == [finding for finding in spec.findings if finding.severity == "blocks"]
    chosen = {choice.group_id: (choice.option_id, choice.origin) for choice in spec.choices}
    assert ("stiff-springs", "follows") == chosen["springs"]
    assert "market-day" in {line.case_id for line in spec.ranges}
    assert "warm-brick-care" in {text.id for text in spec.texts}


def test_the_document_of_the_example_is_written_and_is_the_same_twice(tmp_path: Path) -> None:
    path = tmp_path / "parts_list.py"
    path.write_text(blocks(DEVELOPERS, "python")[0], encoding="utf-8")
    found = importlib.util.spec_from_file_location("parts_list", path)
    assert found is not None
    assert found.loader is not None
    module = importlib.util.module_from_spec(found)
    found.loader.exec_module(module)
    spec = spec_of_an_example(load_catalog(examples_in_a_copy(tmp_path)))
    written = module.parts_list_pdf(spec)
    assert written.startswith(b"%PDF")
    assert written == module.parts_list_pdf(spec)


@cache
def anchors(path: Path) -> frozenset[str]:
    """Name the headings of a page as links do."""
    headings = re.findall(r"^#+ (.+)$", path.read_text("utf-8"), re.MULTILINE)
    plain = (re.sub(r"[^\w\- ]", "", heading.lower()) for heading in headings)
    return frozenset(heading.strip().replace(" ", "-") for heading in plain)


@pytest.mark.parametrize("page", PAGES)
def test_every_link_leads_somewhere(page: str) -> None:
    here = ROOT / page
    for link in re.findall(r"\]\(([^)\s]+)\)", here.read_text("utf-8")):
        assert "://" not in link, "the pages stand on their own"
        file, _, anchor = unquote(link).partition("#")
        target = (here.parent / file).resolve() if file else here
        assert target.exists(), link
        assert not anchor or anchor in anchors(target), link


def test_every_file_that_the_pages_name_exists() -> None:
    for page in ("README.md", "DEVELOPERS.md"):
        text = (ROOT / page).read_text("utf-8")
        named = re.findall(r"`((?:configurator|tests|catalog|\.ci)/[\w./-]*)`", text)
        assert named
        assert [] == [name for name in named if not (ROOT / name).exists()]
    for module in re.findall(r"-m (tests\.\S+)", DEVELOPERS):
        assert (ROOT / f"{module.replace('.', '/')}.py").is_file()


def test_the_pictures_are_shown_small_and_described() -> None:
    shown = dict(re.findall(r"!\[([^\]]+)\]\(([^)]+)\)", README))
    assert {path.name for path in (ROOT / "docs" / "pictures").iterdir()} == {
        Path(file).name for file in shown.values()
    }
    for description, file in shown.items():
        assert len(description) > 40
        assert (ROOT / file).stat().st_size < LARGEST_PICTURE_BYTES
        with Image.open(ROOT / file) as picture:
            assert min(picture.size) > 500


def test_the_version_is_the_one_the_changelog_begins_with() -> None:
    newest = re.findall(r"^## (\S+)", (ROOT / "CHANGELOG.md").read_text("utf-8"), re.MULTILINE)[0]
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    assert configurator.__version__ == newest == settings["project"]["version"]


TEXT_ENDINGS = {
    ".md", ".py", ".toml", ".lock", ".yaml", ".css", ".js", ".svg", ".csv", ".txt", ".mako", "",
}  # fmt: skip
# Licences of fonts speak of where their makers keep them.
FONT_LICENCE = re.compile(r"(LICENCE-|-OFL)[\w-]*\.txt$|-OFL\.txt$")


def kept_text_files() -> Iterator[Path]:
    """Walk over the text files that belong to the project."""
    ignored = {".git", "outputs", "build", "dist", "__pycache__", ".venv", ".hypothesis"}
    folders = [ROOT]
    while folders:
        for path in folders.pop().iterdir():
            if path.is_dir():
                if path.name not in ignored and not path.name.endswith(("_cache", ".egg-info")):
                    folders.append(path)
            elif path.suffix in TEXT_ENDINGS and not FONT_LICENCE.search(path.name):
                yield path


def test_no_file_names_a_machine_or_a_registry() -> None:
    # Written in pieces, so that this file does not find itself.
    machine = r"(?<![\w./])/(?:" + "|".join(["home", "root", "work", "Users", "opt"]) + r")/\w"
    registry = "|".join(
        "".join(pieces)
        for pieces in [
            ("py", r"pi\.org"),
            ("python", "hosted"),
            ("githubuser", "content"),
            ("npm", r"js\."),
            ("--index", "-url"),
            ("--extra", "-index"),
            ("--find", "-links"),
        ]
    )
    files = list(kept_text_files())
    assert len(files) > 300
    found = [
        (path.relative_to(ROOT).as_posix(), match[0])
        for path in files
        for match in re.finditer(f"{machine}|{registry}", path.read_text("utf-8"))
    ]
    assert [] == found
