"""Verify the whole record with its files, or one PDF against it."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from configurator.documents.embedded_spec import embedded_spec
from configurator.errors import Fault
from configurator.record.database import Record
from configurator.record.verify import NotedDocument, Verified, verify_record
from configurator.record.verify_rows import placed
from configurator.workflow.stored_files import documents_folder

Tell = Callable[[str], None]
READ_AT_ONCE_BYTES = 1 << 20


@dataclass(frozen=True)
class Verification:
    """What was found in record and files."""

    faults: tuple[Fault, ...]
    counts: Mapping[str, int]
    """What → how many were looked at."""
    unnoted: tuple[Path, ...]
    """Files beside the documents that the record does not know; no fault in themselves."""
    last_number: int
    last_sha256: str
    """Where the book ends; noted elsewhere, it proves later that nothing was rewritten."""


@dataclass(frozen=True)
class PdfProof:
    """What a PDF was found to be."""

    faults: tuple[Fault, ...]
    lines: tuple[str, ...]
    """What was proved, in words."""


def verify_all(
    record: Record,
    data_folder: Path,
    *,
    holds: str | None = None,
    tell: Tell = lambda _step: None,
) -> Verification:
    """Go through every row, hash, pointer and stored file.

    Parameters
    ----------
    record : Record
        The open record; work may go on meanwhile.
    data_folder : Path
        Holds the documents.
    holds : str, optional
        How the hash of an entry begins that was noted earlier, outside the record: it must still
        be in the book. Only this finds a book that somebody wrote anew as a whole.
    tell : callable
        Told of each step.

    Raises
    ------
    RecordError
        If the database cannot be read any further.
    """
    verified = verify_record(record, tell)
    tell("Reading the stored documents")
    faults = [*verified.faults, *_file_faults(data_folder, verified)]
    if holds is not None and not any(sha.startswith(holds) for sha in verified.entry_hashes):
        faults.append(_rewritten(holds))
    unnoted = tuple(_unnoted(data_folder, verified.documents))
    return Verification(
        faults=tuple(faults),
        counts={**verified.counts, "files": len(verified.documents)},
        unnoted=unnoted,
        last_number=verified.last_number,
        last_sha256=verified.last_sha256,
    )


def verify_pdf(record: Record, path: Path, tell: Tell = lambda _step: None) -> PdfProof:
    """Prove that a PDF is a stored one, and the spec embedded in it an issued one.

    Parameters
    ----------
    record : Record
        The open record.
    path : Path
        The PDF, from wherever it came.
    tell : callable
        Told of each step.

    Returns
    -------
    PdfProof
        With faults if it is not, or if the record itself has a flaw: then it proves nothing.
    """
    try:
        content = path.read_bytes()
    except OSError as error:
        what = f"the file cannot be read ({error.strerror or error})"
        return PdfProof((Fault("P041", str(path), what, "Name a PDF that can be read."),), ())
    verified = verify_record(record, tell)
    sha256 = hashlib.sha256(content).hexdigest()
    stored = [document for document in verified.documents if document.sha256 == sha256]
    lines = [f"{path.name} has the SHA-256 {sha256}."]
    lines += [
        f"It is byte for byte the {document.kind} {document.name} of build {document.reference}."
        for document in stored
    ]
    faults = [*verified.faults, *([] if stored else [_strange(path)])]
    spec = embedded_spec(content)
    if spec is not None:
        words = _issued_words(spec, verified)
        lines += [words] if words else []
        faults += [] if words else [_not_issued(path, spec)]
    elif stored:
        lines.append("No spec is embedded in a document of this kind; its own bytes are the proof.")
    return PdfProof(tuple(faults), tuple(lines))


def _issued_words(spec: bytes, verified: Verified) -> str | None:
    sha256 = hashlib.sha256(spec).hexdigest()
    if sha256 not in verified.issued:
        return None
    reference, what = verified.issued[sha256]
    return f"The spec inside it is {what} of build {reference}, SHA-256 {sha256}."


def _file_faults(data_folder: Path, verified: Verified) -> Iterator[Fault]:
    for document in verified.documents:
        path = documents_folder(data_folder, document.reference) / document.name
        found, is_erased = sha256_of(path), document.sha256 in verified.erased
        if is_erased == (found != document.sha256):
            continue
        where = f"{placed('documents', document.row, document.reference)}, file {path}"
        if is_erased:
            what = "the paper was erased with its customer, and its file is still there"
            yield Fault("P113", where, what, "Delete the file; it may name the customer.")
            continue
        state = "is missing or cannot be read" if found is None else "was altered since it was made"
        remedy = "Put it back from a backup; the record says what it must hold."
        yield Fault("P010", where, f"the stored document {state}", remedy)


def sha256_of(path: Path) -> str | None:
    """Hash a file piece by piece; None for one that cannot be read."""
    digest = hashlib.sha256()
    try:
        with path.open("rb") as file:
            while piece := file.read(READ_AT_ONCE_BYTES):
                digest.update(piece)
    except (OSError, ValueError):
        return None
    return digest.hexdigest()


def _unnoted(data_folder: Path, documents: Iterable[NotedDocument]) -> Iterator[Path]:
    noted = {
        documents_folder(data_folder, document.reference) / document.name for document in documents
    }
    for path in sorted((data_folder / "documents").glob("*/*")):
        if path not in noted:
            yield path


def _rewritten(holds: str) -> Fault:
    what = f"no entry has a hash that begins with {holds[:64]}: the book is not the one it was"
    remedy = "Check what you noted; restore a backup of that time elsewhere and compare."
    return Fault("P040", "the book", what, remedy)


def _strange(path: Path) -> Fault:
    what = "it is none of the stored documents of this record: altered since, or from elsewhere"
    return Fault("P041", str(path), what, "Do not rely on it; print the stored one again.")


def _not_issued(path: Path, spec: bytes) -> Fault:
    sha256 = hashlib.sha256(spec).hexdigest()
    what = f"the spec inside it ({sha256[:12]}) was never issued: it is a draft"
    return Fault("P042", str(path), what, "Take the document of an issued spec.")
