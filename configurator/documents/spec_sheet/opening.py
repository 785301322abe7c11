"""The top of the spec sheet: whose vehicle it is, how it looks, the few figures that matter."""

from __future__ import annotations

from reportlab.platypus import Flowable, Paragraph, Table
from reportlab.platypus.tables import TableStyle

from configurator.build_spec.measured_words import ON_THE_ROAD
from configurator.build_spec.spec import RangeLine, Spec
from configurator.build_spec.survey import second_donor_words
from configurator.documents.colours import COPPER, PAPER, rgb
from configurator.documents.figures import day, days_span, pounds_span, span
from configurator.documents.glyphs import markup
from configurator.documents.paragraphs import cell, words
from configurator.documents.styles import LEAD, STRIP_FIGURE, STRIP_WORDS, TEXT_WIDTH, TITLE
from configurator.documents.tables import pairs_table
from configurator.documents.typeface import BODY
from configurator.documents.vehicle_picture import vehicle_picture

Figure = tuple[str, str, str]
"""Label, figure, and how it is known."""
ISSUED_AS = "Issued as spec"
"""Begins what is told of an issued spec; a note on a draft begins otherwise."""


def opening_blocks(spec: Spec, issued: str = "") -> list[Flowable]:
    """Title, picture, headline figures, and who, what, when."""
    vehicle = spec.vehicle
    return [
        words(f"{vehicle.label}, {vehicle.year}", TITLE),
        words(f"Electric conversion for {spec.build.customer.name}", LEAD),
        *([words(issued)] if issued else []),
        vehicle_picture(spec, height=96),
        headline_strip(headline_figures(spec)),
        _who_what_when(spec, is_offer=not issued.startswith(ISSUED_AS)),
    ]


def headline_figures(spec: Spec) -> tuple[Figure, ...]:
    """Pick the figures of the strip: price, ranges, kerb mass, handover."""
    price, weights, plan = spec.price, spec.weights, spec.plan
    return (
        ("Price with VAT", pounds_span(price.total_low_gbp, price.total_high_gbp), "computed"),
        *(_range_figure(line) for line in _headline_ranges(spec)),
        _mass_figure(spec, span(weights.kerb_low_kg, weights.kerb_high_kg, unit="kg")),
        ("Handover", days_span(plan.earliest_handover, plan.latest_handover), "computed"),
    )


def headline_strip(figures: tuple[Figure, ...]) -> Table:
    """Set figures side by side on a tinted ground."""
    cells = [
        [
            cell(label, STRIP_WORDS),
            Paragraph(markup(figure), _figure_style(figure)),
            cell(known, STRIP_WORDS),
        ]
        for label, figure, known in figures
    ]
    width = TEXT_WIDTH / len(figures)
    style = TableStyle([
        ("FONTNAME", (0, 0), (-1, -1), BODY),
        ("BACKGROUND", (0, 0), (-1, -1), rgb(PAPER)),
        ("LINEABOVE", (0, 0), (-1, 0), 1.2, rgb(COPPER)),
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("TOPPADDING", (0, 0), (-1, -1), 6),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 7),
        ("LEFTPADDING", (0, 0), (-1, -1), 7),
        ("RIGHTPADDING", (0, 0), (-1, -1), 4),
    ])  # fmt: skip
    return Table([cells], colWidths=[width] * len(figures), style=style, spaceAfter=8)


def _figure_style(figure: str) -> object:
    long = len(figure) > 14
    return STRIP_FIGURE.clone("strip-long", fontSize=10.5, leading=13) if long else STRIP_FIGURE


def _headline_ranges(spec: Spec) -> list[RangeLine]:
    by_case = {line.case_id: line for line in spec.ranges}
    return [by_case[case] for case in spec.workshop.headline_cases[:2] if case in by_case]


def _range_figure(line: RangeLine) -> Figure:
    label = f"{line.label[:1].lower()}{line.label[1:]}"
    about = "band, measured on the road" if ON_THE_ROAD in line.conditions else "computed band"
    return (f"Range, {label}", span(line.low_km, line.high_km, unit="km"), about)


def _mass_figure(spec: Spec, computed: str) -> Figure:
    measured = spec.weights.measured_kerb_kg
    if measured is None:
        return ("Kerb mass", computed, "computed, without driver")
    return ("Kerb mass", span(measured, measured, unit="kg"), "measured, without driver")


def _who_what_when(spec: Spec, *, is_offer: bool) -> Table:
    build, donor = spec.build, spec.build.donor
    valid = f", valid {spec.workshop.quotation_valid_days} days" if is_offer else ""
    rows: list[tuple[str, str]] = [
        ("Contact", build.customer.contact),
        ("Donor vehicle", donor.description),
        ("Identity mark of the donor", donor.identity_mark),
        ("Second donor, for parts", second_donor_words(build.second_donor)),
        ("Prices as of", f"{day(build.priced_on)}{valid}"),
        ("Workshop", f"{spec.workshop.name}, {spec.workshop.place}. {spec.workshop.contact}"),
    ]
    return pairs_table([(label, text) for label, text in rows if text])
