"""`configurator customers`: give a customer's data out, erase it, list what is past its time."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from configurator.cli.folders import DEFAULT_DATA, CatalogFolder, DatabaseUrl, DataFolder
from configurator.cli.terminal import say, say_apart
from configurator.errors import ConfiguratorError, Fault

if TYPE_CHECKING:
    from configurator.workflow.premises import Premises

app = typer.Typer(
    help="Give out, erase and list what is kept of customers.\n\n"
    "Example: configurator customers past",
    no_args_is_help=True,
    rich_markup_mode=None,
)

Reference = Annotated[str, typer.Argument(metavar="BUILD", help="Such as B-0007.")]
ELSEWHERE = (
    "Backups, printed papers and what was sent by e-mail still hold the name: see to them too."
)


@app.command("past")
def past(
    *, catalog: CatalogFolder, data: DataFolder = DEFAULT_DATA, database: DatabaseUrl = None
) -> None:
    """List enquiries that came to nothing and are past the workshop's time; none is removed.

    Example: configurator customers past --data outputs
    """
    from configurator.workflow.erasure import past_retention  # noqa: PLC0415  only this command needs it; the others start sooner

    premises = _premises(catalog, data, database)
    months = premises.catalog.workshop.retention.enquiry_months
    found = past_retention(premises, datetime.now(UTC).date())
    for one in found:
        say(f"{one.reference}  last changed {one.last_changed.isoformat()}  {one.customer_name}")
    if not found:
        say(f"No enquiry was left alone for {months} months.")
    else:
        say(f"Left alone for {months} months or more. Look at each; erase with `customers erase`.")


@app.command("export")
def export(
    *,
    reference: Reference,
    file: Annotated[Path, typer.Argument(metavar="FILE.zip", help="Where it is written.")],
    catalog: CatalogFolder,
    data: DataFolder = DEFAULT_DATA,
    database: DatabaseUrl = None,
) -> None:
    """Write everything kept of a customer's build into a zip.

    Example: configurator customers export B-0007 for_the_customer.zip
    """
    from configurator.workflow.erasure import customers_data  # noqa: PLC0415  only this command needs it; the others start sooner

    content = customers_data(_premises(catalog, data, database), reference)
    try:
        with file.open("xb") as written:
            written.write(content)
    except OSError as error:
        what = f"it cannot be written ({error.strerror or error})"
        remedy = "Name a new file in a folder that may be written."
        raise ConfiguratorError([Fault("O007", str(file), what, remedy)]) from error
    say(str(file))


@app.command("erase")
def erase(
    *,
    reference: Reference,
    because: Annotated[str, typer.Option(metavar="REASON", help="Why; no names.")],
    by: Annotated[str, typer.Option(metavar="NAME", help="The manager who does it.")],
    catalog: CatalogFolder,
    data: DataFolder = DEFAULT_DATA,
    database: DatabaseUrl = None,
) -> None:
    """Take a customer's name, contact and notes out of everything kept; it cannot be undone.

    The technical record, what was promised and who signed stay provable.

    Example: configurator customers erase B-0007 --because "asked in writing" --by "Ann Sample"
    """
    from configurator.workflow.erasure import erase_customers_data, who_erases  # noqa: PLC0415  only this command needs it; the others start sooner

    premises = _premises(catalog, data, database)
    person, now = who_erases(premises, by), datetime.now(UTC)
    names = erase_customers_data(premises, reference, because=because, by=person, now=now)
    say(f"The customer of {reference} is erased; {len(names)} documents were deleted.")
    say_apart(ELSEWHERE)


def _premises(catalog: Path, data: Path, database: str | None) -> Premises:
    from configurator.workflow.premises import open_premises  # noqa: PLC0415  only this command needs it; the others start sooner

    return open_premises(catalog, data, database)
