"""A build file, YAML or JSON, to a build whose every name the catalog knows."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from pydantic import TypeAdapter

from configurator.catalog.build_names import build_name_faults
from configurator.catalog.document import Document, shown
from configurator.catalog.file_text import read_file_text
from configurator.catalog.json_text import json_as_yaml
from configurator.catalog.model_faults import RawEntry
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models_from_yaml import entry_from_raw
from configurator.catalog.yaml_lines import read_yaml
from configurator.errors import BuildFileError, Fault

_BUILD_CODES = {
    **dict.fromkeys(("C003", "C004", "C005", "C006"), "B001"),
    **dict.fromkeys(("C007", "C008", "C009", "C010", "C011"), "B002"),
    "C020": "B003",
    "C021": "B004",
    "C053": "B012",
}
_ADAPTER = TypeAdapter(BuildInput)


def load_build(path: Path, catalog: Catalog) -> BuildInput:
    """Read a build file.

    Parameters
    ----------
    path : Path
        A file of YAML, or of JSON if its name ends in `.json`.
    catalog : Catalog
        What the build chooses from.

    Returns
    -------
    BuildInput
        The build.

    Raises
    ------
    BuildFileError
        With every fault of the file.
    """
    document = _document(path)
    faults = [*document.faults]
    if not isinstance(document.value, Mapping):
        if not faults:
            what = f"the file holds {shown(document.value)}; a build is a mapping"
            faults.append(
                Fault("B002", document.where(()), what, 'Begin with "reference: B-0001".')
            )
        raise BuildFileError(_as_build_faults(faults))
    raw = RawEntry(document, (), document.value)
    entry, model_faults = entry_from_raw(raw, BuildInput, _ADAPTER)
    faults += [*model_faults, *build_name_faults(raw, document.value, catalog)]
    if entry is None or faults:
        raise BuildFileError(_as_build_faults(faults))
    return entry.value


def _document(path: Path) -> Document:
    file = path.name[:80] or str(path)[:80]
    read = read_file_text(path, file)
    if read.fault is not None:
        return Document(file, None, {(): 1}, (read.fault,))
    if path.suffix.lower() != ".json":
        return read_yaml(read.text, file)
    text, fault = json_as_yaml(read.text, file)
    return read_yaml(text, file) if fault is None else Document(file, None, {(): 1}, (fault,))


def _as_build_faults(faults: list[Fault]) -> list[Fault]:
    return sorted(
        (
            Fault(_build_code(fault.code), fault.where, fault.what, fault.remedy)
            for fault in dict.fromkeys(faults)
        ),
        key=lambda fault: (int(fault.where.rpartition(":")[2]), fault.code, fault.what),
    )


def _build_code(code: str) -> str:
    return code if code.startswith("B") else _BUILD_CODES.get(code, "B005")
