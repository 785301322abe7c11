"""The whole spec sheet, from its parts."""

from __future__ import annotations

from reportlab.platypus import Flowable

from configurator.build_spec.spec import Spec
from configurator.documents.charging_table import charging_brief
from configurator.documents.finding_blocks import finding_blocks
from configurator.documents.headings import joined, sheet_heading
from configurator.documents.page_frame import frame_words
from configurator.documents.paged_document import pdf_bytes
from configurator.documents.performance_table import performance_brief
from configurator.documents.range_table import range_brief
from configurator.documents.spec_sheet.carrying import carrying_limits
from configurator.documents.spec_sheet.choices import choice_blocks, open_group_blocks
from configurator.documents.spec_sheet.closing import closing_blocks
from configurator.documents.spec_sheet.customers_day import day_blocks
from configurator.documents.spec_sheet.opening import opening_blocks
from configurator.documents.spec_sheet.plan import plan_blocks
from configurator.documents.spec_sheet.price import price_blocks
from configurator.documents.weight_tables import axle_blocks

TITLE = "Spec sheet"


def spec_sheet_pdf(spec: Spec, issued: str = "") -> bytes:
    """Write the spec sheet of a build, with choices open or closed.

    Parameters
    ----------
    spec : Spec
        Of any build.
    issued : str
        Begins with `ISSUED_AS`, tells the letter and how it was ordered, and is no offer; for a
        draft how it stands beside what is issued, or empty.

    Returns
    -------
    bytes
        A PDF; the same arguments give the same bytes.

    Raises
    ------
    DocumentError
        D003 when something has no room on a page.
    """
    return pdf_bytes(joined(_story(spec, issued)), frame_words(spec, TITLE))


def _story(spec: Spec, issued: str) -> list[Flowable]:
    return [
        *opening_blocks(spec, issued),
        sheet_heading("What is chosen", "choices"),
        *choice_blocks(spec),
        *open_group_blocks(spec),
        sheet_heading("Price", "price"),
        *price_blocks(spec),
        sheet_heading("Weights and axle loads", "weights"),
        *axle_blocks(spec.weights),
        *carrying_limits(spec),
        sheet_heading("Range", "range"),
        *range_brief(spec),
        *_day(spec),
        sheet_heading("Charging", "charging"),
        *charging_brief(spec.charging),
        *_performance(spec),
        sheet_heading("Plan", "plan"),
        *plan_blocks(spec.plan),
        sheet_heading("What the checks found", "findings"),
        *finding_blocks(spec.findings),
        *closing_blocks(spec),
    ]


def _day(spec: Spec) -> list[Flowable]:
    blocks = day_blocks(spec)
    return [sheet_heading("Your day", "day"), *blocks] if blocks else []


def _performance(spec: Spec) -> list[Flowable]:
    blocks = performance_brief(spec.performance)
    return [sheet_heading("What the drive can do", "performance"), *blocks] if blocks else []
