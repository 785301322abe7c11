"""Write proofs into a file and read them back, with every fault of the file told."""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from pydantic import TypeAdapter

from configurator.catalog.document import Document, shown
from configurator.catalog.file_text import read_file_text
from configurator.catalog.json_text import json_as_yaml
from configurator.catalog.model_faults import RawEntry
from configurator.catalog.models_from_yaml import Entry, entry_from_raw
from configurator.catalog.yaml_lines import read_yaml
from configurator.errors import ConfiguratorError, Fault
from configurator.workflow.catalog_proofs.claims import ProofFile

WRITE_AGAIN = "Write the proofs again with check --proofs."

_ADAPTER = TypeAdapter(ProofFile)
_UNREADABLE = frozenset({"C003", "C004", "C005", "C006"})


@dataclass(frozen=True)
class ReadProofs:
    """Proofs with the place of each in its file."""

    proofs: ProofFile
    entry: Entry[ProofFile]


def proofs_text(proofs: ProofFile) -> str:
    """Write proofs as JSON that a person can read: one question or build to a line.

    Examples
    --------
    >>> print(proofs_text(ProofFile(catalog_sha256="ab", findings=())))
    {
     "format": "catalog proofs, version 1",
     "catalog_sha256": "ab",
     "findings": []
    }
    <BLANKLINE>
    """
    return f"{_json(proofs.model_dump(mode='json', exclude_none=True), 0)}\n"


def write_proofs(path: Path, proofs: ProofFile) -> None:
    """Write proofs whole or not at all; earlier proofs of that name are replaced.

    Raises
    ------
    ConfiguratorError
        If the file cannot be written, or something else stands there.
    """
    try:
        if path.exists() and not _holds_proofs(path):
            what = "something else of that name is there, and it is left as it is"
            raise ConfiguratorError([Fault("P009", str(path), what, "Name another file.")])
        unfinished = path.with_name(f".unfinished-{os.getpid()}-{path.name}")
        try:
            unfinished.write_text(proofs_text(proofs), encoding="utf-8")
            unfinished.replace(path)
        finally:
            unfinished.unlink(missing_ok=True)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "the name is not usable"
        what = f"the proofs cannot be written ({reason})"
        remedy = "Name a file in a folder that exists, may be written and has space."
        raise ConfiguratorError([Fault("P009", str(path), what, remedy)]) from error


def read_proofs(path: Path) -> ReadProofs:
    """Read a file of proofs.

    Parameters
    ----------
    path : Path
        A file that `write_proofs` wrote.

    Raises
    ------
    ConfiguratorError
        With every fault of the file.
    """
    document = _document(path)
    faults = [*document.faults]
    if not faults and not isinstance(document.value, Mapping):
        what = f"the file holds {shown(document.value)}; proofs are an object of JSON"
        faults.append(Fault("P031", document.where(()), what, WRITE_AGAIN))
    raw = RawEntry(document, (), document.value)
    entry, model_faults = (None, ()) if faults else entry_from_raw(raw, ProofFile, _ADAPTER)
    faults += model_faults
    if entry is None or faults:
        raise ConfiguratorError([_as_fault_of_proofs(fault) for fault in dict.fromkeys(faults)])
    return ReadProofs(entry.value, entry)


def _holds_proofs(path: Path) -> bool:
    read = read_file_text(path, path.name)
    return read.fault is None and '"format": "catalog proofs' in read.text[:100]


def _document(path: Path) -> Document:
    file = path.name[:80] or str(path)[:80]
    read = read_file_text(path, file)
    if read.fault is not None:
        return Document(file, None, {(): 1}, (read.fault,))
    text, fault = json_as_yaml(read.text, file)
    return read_yaml(text, file) if fault is None else Document(file, None, {(): 1}, (fault,))


def _as_fault_of_proofs(fault: Fault) -> Fault:
    if fault.code in _UNREADABLE:
        remedy = "Name the file that check --proofs wrote."
        return Fault("P030", fault.where, fault.what, remedy)
    return Fault(
        "P031", fault.where, fault.what, fault.remedy if fault.code == "P031" else WRITE_AGAIN
    )


def _json(value: object, depth: int) -> str:
    """Break lines down to the claims; what lies deeper stays on one line."""
    margin = " " * (depth + 1)
    if isinstance(value, Mapping) and value and depth < 6:
        members = (f"{json.dumps(key)}: {_json(v, depth + 1)}" for key, v in value.items())
        return "{\n" + ",\n".join(f"{margin}{member}" for member in members) + f"\n{margin[1:]}}}"
    if isinstance(value, list) and value and depth < 6:
        members = (_json(each, depth + 1) for each in value)
        return "[\n" + ",\n".join(f"{margin}{member}" for member in members) + f"\n{margin[1:]}]"
    return json.dumps(value, ensure_ascii=False)
