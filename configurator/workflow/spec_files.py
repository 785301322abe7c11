"""Write a build's spec and documents into a folder, without a record."""

from __future__ import annotations

from pathlib import Path

from configurator.build_spec.derivations.explain import derive_all
from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.catalog import Catalog
from configurator.documents.calculation_sheet import calculation_sheet_pdf
from configurator.documents.handover_pack.pack import handover_pack_pdf
from configurator.documents.spec_sheet.sheet import spec_sheet_pdf
from configurator.workflow.papers import (
    CALCULATION_SHEET,
    HANDOVER_PACK,
    SPEC_SHEET,
    document_stem,
)
from configurator.workflow.stored_files import write_once


def write_spec(
    catalog: Catalog, build: BuildInput, engines: Engines, out_folder: Path
) -> tuple[Path, ...]:
    """Write the spec as JSON, spec sheet, once all is chosen the pack, and the calculation sheet.

    Parameters
    ----------
    catalog : Catalog
        The workshop's.
    build : BuildInput
        What the spec is computed from.
    engines : Engines
        Compiled builds.
    out_folder : Path
        Made when it is missing.

    Returns
    -------
    tuple of Path
        The files, in that order; an identical file that was there is left as it is.

    Raises
    ------
    ChoiceError
        If the build names what the catalog does not offer.
    DocumentError
        If a document cannot be made or written.
    """
    spec = specify(catalog, build, engines)
    contents = [("spec", ".json", spec.canonical_json().encode())]
    contents.append((SPEC_SHEET, ".pdf", spec_sheet_pdf(spec)))
    if spec.is_complete:
        contents.append((HANDOVER_PACK, ".pdf", handover_pack_pdf(spec)))
    derivations = derive_all(catalog, spec.build, engines)
    contents.append((CALCULATION_SHEET, ".pdf", calculation_sheet_pdf(spec, derivations)))
    return tuple(
        write_once(out_folder, document_stem(spec, kind), suffix, content)
        for kind, suffix, content in contents
    )
