"""Which files a catalog folder holds and what each of them is for."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass
from fnmatch import fnmatchcase
from pathlib import Path

from configurator.catalog.did_you_mean import did_you_mean
from configurator.errors import Fault

_SINGLE_FILES = {
    "workshop.yaml": "workshop",
    "stages.yaml": "stages",
    "driving_cases.yaml": "driving_cases",
    "charging_sources.yaml": "charging_sources",
    "limits.yaml": "limits",
}
_OPTIONAL_FILES = {"as_built.yaml": "as_built"}
_FOLDERS = {
    "vehicles/*.yaml": "vehicles",
    "groups/*.yaml": "groups",
    "components/*.yaml": "components",
    "rules/*.yaml": "rules",
    "survey/*.yaml": "survey_templates",
    "country_rules/*.yaml": "country_rules",
    "texts/**/*.md": "texts",
}
_NEEDED_FOLDERS = ("vehicles/*.yaml", "groups/*.yaml", "components/*.yaml", "survey/*.yaml")
_DEMO_BUILDS = "demo_builds"
_READ_ENDINGS = (".yaml", ".yml", ".md", ".markdown")


@dataclass(frozen=True)
class CatalogFile:
    """A file of a catalog, its path inside the folder with forward slashes."""

    file: str
    kind: str


def list_catalog_files(folder: Path) -> tuple[list[CatalogFile], list[Fault]]:
    """List the files of a catalog in a fixed order.

    Parameters
    ----------
    folder : Path
        The catalog.

    Returns
    -------
    tuple
        The files with their kinds, and faults about missing and needless ones.
    """
    name = folder.name or str(folder)
    try:
        is_folder = folder.is_dir()
    except (OSError, ValueError):
        is_folder = False
    if not is_folder:
        what = f'"{name[:80]}" is not a folder; a catalog is a folder of files'
        return [], [Fault("C001", name[:80], what, "Give the path of the catalog folder.")]
    try:
        paths = sorted(_paths_below(folder))
    except OSError as error:
        what = f"the folder cannot be listed ({error.strerror}); all its files are needed"
        return [], [Fault("C003", name, what, "Check that you may read it.")]
    listed = [CatalogFile(path, kind) for path in paths if (kind := _kind_of(path)) is not None]
    faults = [*_missing(listed), *_unread(path for path in paths if _kind_of(path) is None)]
    return listed, faults


def _refuse(error: OSError) -> None:
    raise error


def _paths_below(folder: Path) -> Iterator[str]:
    for here, folders, names in os.walk(folder, onerror=_refuse):
        folders[:] = sorted(inner for inner in folders if not inner.startswith("."))
        inside = Path(here).relative_to(folder)
        for name in names:
            if not name.startswith("."):
                yield (inside / name).as_posix()
        # A folder where a file is wanted is listed, so that its reading says so.
        yield from ((inside / name).as_posix() for name in folders if _is_file_name(name))


def _is_file_name(name: str) -> bool:
    return name.endswith(_READ_ENDINGS)


def _kind_of(path: str) -> str | None:
    if path in _SINGLE_FILES or path in _OPTIONAL_FILES:
        return _SINGLE_FILES.get(path) or _OPTIONAL_FILES[path]
    if path.startswith("texts/") and path.endswith(".md"):
        return None if path.endswith("/README.md") else "texts"
    for pattern, kind in _FOLDERS.items():
        if path.count("/") == 1 and fnmatchcase(path, pattern):
            return kind
    return None


def _missing(listed: list[CatalogFile]) -> Iterator[Fault]:
    present = {item.file for item in listed}
    kinds = {item.kind for item in listed}
    for file in _SINGLE_FILES:
        if file not in present:
            yield _missing_fault(file)
    for pattern in _NEEDED_FOLDERS:
        if _FOLDERS[pattern] not in kinds:
            yield _missing_fault(pattern)


def _missing_fault(file: str) -> Fault:
    what = "it is missing; nothing can be computed without it"
    return Fault("C002", file, what, "Add it; the tool's own catalog shows how it looks.")


def _unread(paths: Iterator[str]) -> Iterator[Fault]:
    for path in paths:
        if not _is_file_name(path) or path.startswith(f"{_DEMO_BUILDS}/"):
            continue
        if path.rsplit("/", 1)[-1] == "README.md":
            continue
        what = "nobody reads a file of this name at this place; what it says would be lost"
        remedy = f"{_better_name(path)} Otherwise delete it."
        yield Fault("C016", path, what, remedy)


def _better_name(path: str) -> str:
    if path.endswith(".yml"):
        return f'Name it "{path[:-4]}.yaml".'
    places = [*_SINGLE_FILES, *_OPTIONAL_FILES, *(pattern.split("/")[0] for pattern in _FOLDERS)]
    return did_you_mean(path.split("/", maxsplit=1)[0], places)
