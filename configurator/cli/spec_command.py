"""`configurator spec`: a build file in, its spec and documents out."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from configurator.catalog.build_file import load_build
from configurator.catalog.load import load_catalog
from configurator.cli.folders import CatalogFolder
from configurator.cli.terminal import say, say_apart


def spec(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="A build file in YAML.")],
    catalog: CatalogFolder,
    out: Annotated[
        Path, typer.Option("--out", metavar="DIR", help="Where the files are written.")
    ] = Path("outputs"),
) -> None:
    """Write a build's spec as JSON, spec sheet, handover pack and calculation sheet.

    The pack is written once all is chosen; the calculation sheet is for the workshop.

    The paths of the files are printed, one a line.

    Example: configurator spec my_build.yaml --out outputs
    """
    from configurator.build_spec.engines import Engines  # noqa: PLC0415  only this command needs it; the others start sooner
    from configurator.workflow.spec_files import write_spec  # noqa: PLC0415  only this command needs it; the others start sooner

    workshop = load_catalog(catalog)
    build = load_build(file, workshop)
    say_apart(f"Computing {build.reference} …")
    paths = write_spec(workshop, build, Engines(), out)
    for path in paths:
        say(str(path))
    if len(paths) == 3:
        say_apart("Choices are still open, so there is no handover pack yet.")
