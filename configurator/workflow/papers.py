"""Make the documents of a build, keep them, and find them again."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime
from functools import partial
from pathlib import Path

from configurator.build_spec.derivations.explain import derive_all
from configurator.build_spec.pipeline import specify
from configurator.build_spec.spec import Spec
from configurator.catalog.models.build import BuildInput
from configurator.documents.calculation_sheet import calculation_sheet_pdf
from configurator.documents.handover_pack.pack import handover_pack_pdf
from configurator.documents.spec_sheet.sheet import spec_sheet_pdf
from configurator.errors import ChoiceError, DocumentError, ErasedMeanwhileError
from configurator.record.documents import DocumentEntry, add_document, list_entries
from configurator.workflow import stored_files
from configurator.workflow.builds import read_draft
from configurator.workflow.offered import lost_choices
from configurator.workflow.premises import Premises
from configurator.workflow.stored_document import StoredDocument, stored_document
from configurator.workflow.stored_files import write_once

SPEC_SHEET = "spec-sheet"
HANDOVER_PACK = "handover-pack"
CALCULATION_SHEET = "calculation-sheet"


def make_spec_sheet(
    premises: Premises, reference: str, now: datetime, told: str = ""
) -> StoredDocument:
    """Make and keep the spec sheet of the draft; for the same spec, return the one made before.

    Parameters
    ----------
    premises, reference
        Of the build.
    now : datetime
        Aware, UTC.
    told : str
        How the draft stands beside what is issued; the sheet says it at its top.

    Raises
    ------
    ChoiceError
        If a choice of the draft is not in the catalog any more.
    DocumentError
        If it cannot be made or stored.
    RecordError
        If the build cannot be read or the document not noted.
    """
    pdf = partial(spec_sheet_pdf, issued=told) if told else spec_sheet_pdf
    return _make(premises, reference, SPEC_SHEET, pdf, now, is_new=bool(told))


def make_handover_pack(premises: Premises, reference: str, now: datetime) -> StoredDocument:
    """Make and keep the handover pack; for the same spec, return the one made before.

    Raises
    ------
    ChoiceError
        If a choice of the draft is not in the catalog any more.
    DocumentError
        If choices are still open, or it cannot be made or stored.
    RecordError
        If the build cannot be read or the document not noted.
    """
    return _make(premises, reference, HANDOVER_PACK, handover_pack_pdf, now)


def make_calculation_sheet(premises: Premises, reference: str, now: datetime) -> StoredDocument:
    """Make and keep the workshop's calculation sheet; for the same spec, return the one before.

    Raises
    ------
    ChoiceError
        If a choice of the draft is not in the catalog any more.
    DocumentError
        If it cannot be made or stored.
    RecordError
        If the build cannot be read or the document not noted.
    """

    def pdf(spec: Spec) -> bytes:
        derivations = derive_all(premises.catalog, spec.build, premises.engines)
        return calculation_sheet_pdf(spec, derivations)

    return _make(premises, reference, CALCULATION_SHEET, pdf, now)


def keep_document(
    premises: Premises,
    spec: Spec,
    kind: str,
    content: bytes,
    *,
    now: datetime,
    stem: str | None = None,
    revision: int | None = None,
) -> StoredDocument:
    """Store a document of a spec and note it; the same content is kept once.

    Parameters
    ----------
    premises : Premises
        Where it is kept.
    spec : Spec
        What it was made from.
    kind : str
        Such as `spec-sheet`.
    content : bytes
        The document.
    now : datetime
        Aware, UTC.
    stem : str, optional
        Its file name; otherwise one after build, kind and spec.
    revision : int, optional
        Of the draft that was read before it was made.

    Raises
    ------
    DocumentError
        If it cannot be stored.
    ErasedMeanwhileError
        If the customer was erased since that revision; its file is gone again.
    RecordError
        If it cannot be noted.
    """
    reference = spec.build.reference
    entry = store_file(premises, spec, kind, content, now=now, stem=stem)
    with taken_back_if_erased(premises, reference, entry):
        noted = add_document(premises.record, reference, entry, revision=revision)
    return stored_document(documents_folder(premises, reference), noted)


@contextmanager
def taken_back_if_erased(
    premises: Premises, reference: str, entry: DocumentEntry
) -> Iterator[None]:
    """Delete a stored file again if its entry is refused because its customer was erased."""
    try:
        yield
    except ErasedMeanwhileError:
        (documents_folder(premises, reference) / entry.name).unlink(missing_ok=True)
        raise


def store_file(
    premises: Premises,
    spec: Spec,
    kind: str,
    content: bytes,
    *,
    now: datetime,
    stem: str | None = None,
) -> DocumentEntry:
    """Store a document's file, to be noted together with the entries that point to it.

    It takes no name under which another document was noted, also one whose file was erased.

    Raises
    ------
    DocumentError
        If it cannot be stored.
    """
    reference, sha256 = spec.build.reference, hashlib.sha256(content).hexdigest()
    noted = list_entries(premises.record, reference)
    path = write_once(
        documents_folder(premises, reference),
        stem or document_stem(spec, kind),
        ".pdf",
        content,
        taken={entry.name for entry in noted if entry.sha256 != sha256},
    )
    return DocumentEntry(kind, path.name, sha256, spec.sha256(), now)


def list_documents(premises: Premises, reference: str) -> tuple[StoredDocument, ...]:
    """List the documents of a build, the last made first."""
    folder = documents_folder(premises, reference)
    return tuple(
        stored_document(folder, entry) for entry in list_entries(premises.record, reference)
    )


def documents_folder(premises: Premises, reference: str) -> Path:
    """Name the folder that holds a build's documents."""
    return stored_files.documents_folder(premises.data_folder, reference)


def document_stem(spec: Spec, kind: str) -> str:
    """Name a document after its build and spec.

    Parameters
    ----------
    spec : Spec
        What it is made from.
    kind : str
        Such as `spec-sheet`.
    """
    return f"{spec.build.reference}-{kind}-{spec.sha256()[:8]}"


def spec_of_draft(premises: Premises, reference: str) -> Spec:
    """Compute the spec of a draft as it is on disk now.

    Raises
    ------
    ChoiceError
        If the vehicle or a choice is not in the catalog any more; all of them together.
    """
    return spec_of(premises, read_draft(premises, reference).build)


def spec_of(premises: Premises, build: BuildInput) -> Spec:
    """Compute the spec of a build with the catalog at work.

    Raises
    ------
    ChoiceError
        If the vehicle or a choice is not in the catalog any more; all of them together.
    """
    if lost := lost_choices(premises.catalog, build):
        raise ChoiceError(lost)
    return specify(premises.catalog, build, premises.engines)


def _make(
    premises: Premises,
    reference: str,
    kind: str,
    make_pdf: Callable[[Spec], bytes],
    now: datetime,
    *,
    is_new: bool = False,
) -> StoredDocument:
    """Make a document of the draft, unless it was made before of the same spec."""
    draft = read_draft(premises, reference)
    spec = spec_of(premises, draft.build)
    made_before = None if is_new else _made_before(premises, reference, kind, spec.sha256())
    if made_before is not None:
        return made_before
    content, revision = make_pdf(spec), draft.revision
    return keep_document(premises, spec, kind, content, now=now, revision=revision)


def _made_before(
    premises: Premises, reference: str, kind: str, spec_sha256: str
) -> StoredDocument | None:
    for document in list_documents(premises, reference):
        if (document.kind, document.spec_sha256) == (kind, spec_sha256) and _is_intact(document):
            return document
    return None


def _is_intact(document: StoredDocument) -> bool:
    try:
        return bool(document.content)
    except DocumentError:
        return False
