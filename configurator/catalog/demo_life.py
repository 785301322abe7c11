"""What has happened to a demonstration build, from a file of its own beside it."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from pydantic import TypeAdapter

from configurator.catalog.document import shown
from configurator.catalog.file_text import read_file_text
from configurator.catalog.model_faults import RawEntry
from configurator.catalog.models.demo_life import DemoLife
from configurator.catalog.models_from_yaml import entry_from_raw
from configurator.catalog.yaml_lines import read_yaml
from configurator.errors import BuildFileError, Fault

_ADAPTER = TypeAdapter(DemoLife)


def load_demo_life(path: Path) -> DemoLife:
    """Read what has happened to a demonstration build.

    Raises
    ------
    BuildFileError
        With every fault of the file.
    """
    read = read_file_text(path, path.name)
    faults: list[Fault] = [] if read.fault is None else [read.fault]
    document = read_yaml(read.text, path.name)
    faults += document.faults
    if not faults and not isinstance(document.value, Mapping):
        what = f"the file holds {shown(document.value)}; a life is a mapping"
        faults.append(Fault("B002", document.where(()), what, 'Begin with "until: quoted".'))
    if not faults:
        raw = RawEntry(document, (), document.value)
        entry, wrong = entry_from_raw(raw, DemoLife, _ADAPTER)
        if entry is not None:
            return entry.value
        faults += wrong
    raise BuildFileError(faults)
