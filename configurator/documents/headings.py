"""Headings that fill the outline, and that never stay behind at the foot of a page."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, Paragraph

from configurator.documents.glyphs import markup, printable
from configurator.documents.styles import MINOR, SECTION, SHEET_HEAD, SUBSECTION


class Heading(Paragraph):  # type: ignore[misc]  # ReportLab is untyped
    """A heading with a bookmark; with a level it is also listed in the outline."""

    def __init__(
        self, text: str, style: ParagraphStyle, *, key: str = "", level: int | None = None
    ) -> None:
        super().__init__(markup(text), style)
        self.outline_text = printable(text)
        self.key = key
        self.level = level

    def draw(self) -> None:
        """Draw the heading and mark its place."""
        if self.key:
            self.canv.mark_place(self.key)
        if self.level is not None:
            self.canv.addOutlineEntry(self.outline_text, self.key, self.level, closed=True)
        super().draw()


class Headed(Flowable):  # type: ignore[misc]  # ReportLab is untyped
    """Headings with what follows them: divided only where the follower itself divides."""

    def __init__(self, headings: Sequence[Heading], follower: Flowable) -> None:
        super().__init__()
        self.parts: tuple[Flowable, ...] = (*headings, follower)
        self.keepWithNext = follower.getKeepWithNext()

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Measure; `height` [pt] is what is left on the page."""
        heights = [part.wrapOn(self.canv, width, height)[1] for part in self.parts]
        self.width = width
        self.height = sum(heights) + sum(self._gaps())
        self.heights = heights
        return self.width, self.height

    def split(self, width: float, height: float) -> list[Flowable]:
        """Keep the headings with the first piece of the follower, or divide nothing."""
        self.wrap(width, height)
        room = height - sum(self.heights[:-1]) - sum(self._gaps())
        if room <= 0:
            return []
        pieces = self.parts[-1].splitOn(self.canv, width, room)
        if not pieces:
            return []
        return [Headed(self._headings(), pieces[0]), *pieces[1:]]

    def draw(self) -> None:
        """Draw from the top down."""
        top = self.height
        gaps = (*self._gaps(), 0.0)
        for part, height, gap in zip(self.parts, self.heights, gaps, strict=True):
            part.drawOn(self.canv, 0, top - height)
            top -= height + gap

    def getSpaceBefore(self) -> float:  # noqa: N802  a name of ReportLab
        """Space wanted above [pt]."""
        return float(self.parts[0].getSpaceBefore())

    def getSpaceAfter(self) -> float:  # noqa: N802  a name of ReportLab
        """Space wanted below [pt]."""
        return float(self.parts[-1].getSpaceAfter())

    def _headings(self) -> list[Any]:
        return list(self.parts[:-1])

    def _gaps(self) -> list[float]:
        pairs = zip(self.parts[:-1], self.parts[1:], strict=True)
        return [max(a.getSpaceAfter(), b.getSpaceBefore()) for a, b in pairs]


def section_heading(number: int, title: str, key: str) -> Heading:
    """Make the heading of a numbered section, in the outline."""
    return Heading(f"{number}  {title}", SECTION, key=key, level=0)


def sheet_heading(title: str, key: str) -> Heading:
    """Make the heading of a part of a short document, in the outline."""
    return Heading(title, SHEET_HEAD, key=key, level=0)


def subheading(text: str) -> Heading:
    """Make a heading within a section."""
    return Heading(text, SUBSECTION)


def minor_heading(text: str) -> Heading:
    """Make a heading within a text."""
    return Heading(text, MINOR)


def joined(story: Sequence[Flowable]) -> list[Flowable]:
    """Bind each run of headings to what follows it; a heading with nothing after it is dropped."""
    bound: list[Flowable] = []
    waiting: list[Heading] = []
    for flowable in story:
        if isinstance(flowable, Heading):
            waiting.append(flowable)
        elif waiting:
            bound.append(Headed(waiting, flowable))
            waiting = []
        else:
            bound.append(flowable)
    return bound
