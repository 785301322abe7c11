"""Cover: whose vehicle this is, what it is, and what the pack may not yet be used for."""

from __future__ import annotations

from reportlab.platypus import Flowable, Spacer

from configurator.build_spec.spec import Spec
from configurator.documents.character_note import character_note
from configurator.documents.figures import day
from configurator.documents.headings import Heading
from configurator.documents.paragraphs import words
from configurator.documents.spec_sheet.opening import headline_figures, headline_strip
from configurator.documents.styles import LEAD, SMALL, SUBSECTION, TITLE
from configurator.documents.tables import pairs_table
from configurator.documents.vehicle_picture import vehicle_picture


def cover_blocks(spec: Spec) -> list[Flowable]:
    """Print title, picture and identity."""
    workshop, vehicle = spec.workshop, spec.vehicle
    return [
        Spacer(1, 10),
        words(workshop.strapline, SMALL),
        Heading("Handover pack", TITLE, key="cover", level=0),
        words(f"{vehicle.label}, {vehicle.year}, converted to battery-electric drive", LEAD),
        vehicle_picture(spec, height=190),
        headline_strip(headline_figures(spec)[1:-1]),
        Heading("Identity", SUBSECTION),
        pairs_table(_identity(spec)),
        Heading("This is a draft", SUBSECTION),
        words(
            "No person has signed for this pack. Its figures are computed unless they are marked "
            "measured. It must not be handed over, and nothing in it approves the vehicle for the "
            "road. Follow local codes; work on the vehicle is for trained and licensed persons."
        ),
        *character_note(spec),
    ]


def _identity(spec: Spec) -> list[tuple[str, str]]:
    build, vehicle = spec.build, spec.vehicle
    rows = (
        ("Owner", build.customer.name),
        ("Build", build.reference),
        ("Vehicle", f"{vehicle.label}, {vehicle.kind}, {vehicle.year}"),
        ("Identity mark of the donor", build.donor.identity_mark),
        ("Donor as it came", build.donor.description),
        ("Workshop", f"{spec.workshop.name}, {spec.workshop.place}"),
        ("Contact", spec.workshop.contact),
        ("In an emergency", spec.workshop.emergency_contact),
        ("Priced on", day(build.priced_on)),
    )
    return [(label, text) for label, text in rows if text]
