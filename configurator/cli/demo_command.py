"""`configurator demo`: fill a record with the demonstration builds."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING

from configurator.cli.folders import DEFAULT_DATA, CatalogFolder, DatabaseUrl, DataFolder
from configurator.cli.terminal import say

if TYPE_CHECKING:
    from configurator.workflow.demo import DemoBuild


def demo(
    catalog: CatalogFolder, data: DataFolder = DEFAULT_DATA, database: DatabaseUrl = None
) -> None:
    """Put the demonstration builds in the record and write their documents.

    A build that is there already is left as it is.

    Example: configurator demo --data outputs
    """
    from configurator.workflow.demo import fill_demo  # noqa: PLC0415  only this command needs it; the others start sooner
    from configurator.workflow.premises import open_premises  # noqa: PLC0415  only this command needs it; the others start sooner

    premises = open_premises(catalog, data, database)
    say(f"Filling {premises.record.where}")
    filled = fill_demo(premises, datetime.now(UTC), progress=_tell)
    new = sum(not build.was_there for build in filled)
    say(f"{new} of {len(filled)} builds are new.")
    say(f"Documents are in {premises.data_folder / 'documents'}")


def _tell(build: DemoBuild) -> None:
    if build.was_there:
        say(f"{build.reference} from {build.file}: there already, left as it is")
    else:
        documents = ", ".join(document.name for document in build.documents)
        say(f"{build.reference} from {build.file}: {documents}")
