"""Ranges as bands: figures, conditions, and a bar that shows where each band lies."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.platypus import Flowable, Paragraph, Table

from configurator.build_spec.range_section import age_in_words
from configurator.build_spec.spec import RangeLine, Spec
from configurator.build_spec.stated_input import BandCause
from configurator.documents.colours import COPPER, INK, LINE, QUIET_INK, rgb
from configurator.documents.figures import span
from configurator.documents.glyphs import markup
from configurator.documents.noted import Noted
from configurator.documents.paragraphs import small
from configurator.documents.styles import CELL
from configurator.documents.tables import headed_table

BAND_WORDS = (
    "Computed. Nine drives in ten are likely to reach the low end of a band, one in ten the high "
    "end. Driving style, wind, hills, load and the age of the battery move you within it."
)
OPEN_WORDS = (
    "While choices are open, the low end is the least and the high end the greatest over every "
    "complete vehicle that can still come of them."
)

OTHERS = (
    "Shown are the cases the workshop puts first, and the hardest one; it tells other roads, "
    "seasons and loads when asked, and the handover pack lists them."
)


class BandBar(Flowable):  # type: ignore[misc]  # ReportLab is untyped
    """A bar from low to high on a scale from nought, with a stroke at the middle."""

    def __init__(self, line: RangeLine, greatest_km: float) -> None:
        super().__init__()
        self.line = line
        self.greatest_km = greatest_km
        self.height = 10.0

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Take the width there is."""
        self.width = width
        return self.width, self.height

    def draw(self) -> None:
        """Draw scale, bar and middle."""
        canvas, line = self.canv, self.line
        scale = self.width / self.greatest_km
        canvas.setStrokeColor(rgb(LINE))
        canvas.setLineWidth(0.8)
        canvas.line(0, 4, self.width, 4)
        canvas.setFillColor(rgb(COPPER))
        length = max((line.high_km - line.low_km) * scale, 1.0)
        canvas.rect(line.low_km * scale, 1.2, length, 5.6, stroke=0, fill=1)
        canvas.setStrokeColor(rgb(INK))
        canvas.setLineWidth(1.1)
        if line.mid_km is not None:
            canvas.line(line.mid_km * scale, 0, line.mid_km * scale, 8)


def range_blocks(spec: Spec) -> list[Flowable]:
    """Show every driving case with its band, or say that none is known."""
    return [*_bands(spec, spec.ranges), *(small(words) for words in _widened(spec))]


def range_brief(spec: Spec) -> list[Flowable]:
    """Show the headline cases and the hardest one."""
    headline = spec.workshop.headline_cases
    hardest = min(spec.ranges, key=lambda line: line.low_km, default=None)
    lines = [line for line in spec.ranges if line.case_id in headline or line is hardest]
    more = [small(OTHERS)] if len(lines) < len(spec.ranges) else []
    return [*_bands(spec, lines), *more]


def _bands(spec: Spec, lines: Sequence[RangeLine]) -> list[Flowable]:
    if not lines:
        return [small("No range is computed: no battery or no motor is chosen yet.")]
    age = age_in_words(spec.workshop.aged)
    said = f"{BAND_WORDS} A battery is counted as aged after {age}."
    return [
        Noted(_table(lines), small(said if spec.is_complete else f"{said} {OPEN_WORDS}")),
    ]


def _widened(spec: Spec) -> list[str]:
    """Say what widens the bands of the headline cases most, and what would narrow them."""
    told: dict[str, list[str]] = {}
    for line in spec.ranges:
        if line.case_id in spec.workshop.headline_cases and line.widened_by:
            causes = "; ".join(
                f"{cause.input.label.lower()}{_guessed(cause)} ({cause.variance_percent:.0f} %, "
                f"{cause.narrowed_by} narrows it)"
                for cause in line.widened_by
            )
            told.setdefault(causes, []).append(line.label)
    return [
        f"What widens the band most, {', '.join(labels)}: {causes}."
        for causes, labels in told.items()
    ]


def _guessed(cause: BandCause) -> str:
    return ", which is guessed" if cause.input.basis == "guessed" else ""


def _table(lines: Sequence[RangeLine]) -> Table:
    greatest = max(1.0, *(line.high_km for line in lines))
    rows = [
        (
            _conditions(line),
            span(line.low_km, line.high_km, unit="km"),
            BandBar(line, greatest),
            _when_settled(line.mid_km, unit="km"),
            _aged(line),
            _when_settled(line.consumption_wh_per_km),
        )
        for line in lines
    ]
    head = ("Driving, with its conditions", "Range band", "", "Middle", "Battery aged", "Wh/km")
    shares = (0.44, 0.14, 0.1, 0.1, 0.13, 0.09)
    return headed_table(head, rows, shares, figures=(1, 3, 4, 5), strong=(1,))


def _aged(line: RangeLine) -> str:
    if line.aged_low_km is None or line.aged_high_km is None:
        return "open"
    return span(line.aged_low_km, line.aged_high_km, unit="km")


def _when_settled(value: float | None, *, unit: str = "") -> str:
    return "open" if value is None else span(value, value, unit=unit)


def _conditions(line: RangeLine) -> Flowable:
    quiet = f'<font size="8" color="{QUIET_INK}">{markup(line.conditions)}</font>'
    return Paragraph(f"{markup(line.label)}<br/>{quiet}", CELL)
