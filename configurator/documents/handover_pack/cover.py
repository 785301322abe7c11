"""Cover: whose vehicle this is, what it is, and what the pack may not yet be used for."""

from __future__ import annotations

from reportlab.platypus import Flowable, Spacer

from configurator.build_spec.spec import Spec
from configurator.build_spec.survey import second_donor_words
from configurator.documents.character_note import character_note
from configurator.documents.figures import day
from configurator.documents.handover_pack.pack_issue import PackIssue
from configurator.documents.headings import Heading
from configurator.documents.paragraphs import words
from configurator.documents.spec_sheet.opening import headline_figures, headline_strip
from configurator.documents.styles import LEAD, SMALL, SUBSECTION, TITLE
from configurator.documents.tables import pairs_table
from configurator.documents.vehicle_picture import vehicle_picture

DRAFT = (
    "No person has signed for this pack. Its figures are computed unless they are marked "
    "measured. It must not be handed over, and nothing in it approves the vehicle for the "
    "road. Follow local codes; work on the vehicle is for trained and licensed persons."
)
ISSUED = (
    "Measured values are marked; the others are computed. The workshop's signatures stand under "
    "Revisions. Nothing in this pack is an approval for the road: the authority of your country "
    "decides. Work on the vehicle is for trained and licensed persons."
)


def cover_blocks(spec: Spec, issue: PackIssue | None = None) -> list[Flowable]:
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
        *_standing(issue),
        *character_note(spec),
    ]


def _standing(issue: PackIssue | None) -> list[Flowable]:
    if issue is None:
        return [Heading("This is a draft", SUBSECTION), words(DRAFT)]
    title = f"Revision {issue.revision}, issued on {day(issue.issued_on)}"
    by = f"Issued by {issue.issued_by} for spec {issue.letter}. "
    return [Heading(title, SUBSECTION), words(by + ISSUED)]


def _identity(spec: Spec) -> list[tuple[str, str]]:
    build, vehicle = spec.build, spec.vehicle
    rows = (
        ("Owner", build.customer.name),
        ("Build", build.reference),
        ("Vehicle", f"{vehicle.label}, {vehicle.kind}, {vehicle.year}"),
        ("Identity mark of the donor", build.donor.identity_mark),
        ("Donor as it came", build.donor.description),
        ("Second donor, for parts", second_donor_words(build.second_donor)),
        ("Workshop", f"{spec.workshop.name}, {spec.workshop.place}"),
        ("Contact", spec.workshop.contact),
        ("In an emergency", spec.workshop.emergency_contact),
        ("Priced on", day(build.priced_on)),
    )
    return [(label, text) for label, text in rows if text]
