"""A canvas that knows page numbers only at the end, and needs no second pass for them.

Numbers are drawn as forms (PDF form XObjects) that are filled in when the last page is done.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFStream, PDFString, PDFZCompress
from reportlab.pdfgen.canvas import Canvas

from configurator.documents.colours import rgb
from configurator.documents.styles import LineStyle

FORM_WIDTH = 160.0


class NumberedCanvas(Canvas):  # type: ignore[misc]  # ReportLab is untyped
    """A canvas with late text: drawn as a place now, with its words at the end."""

    def __init__(self, *arguments: Any, **settings: Any) -> None:
        super().__init__(*arguments, **settings)
        self.page_of: dict[str, int] = {}
        self._late: dict[str, tuple[Callable[[], str], LineStyle]] = {}

    def mark_place(self, key: str) -> None:
        """Make this place a target of links, and remember its page."""
        self.page_of.setdefault(key, self.getPageNumber())
        self.bookmarkHorizontal(key, 0, 40)

    def draw_late(self, x: float, y: float, say: Callable[[], str], style: LineStyle) -> None:
        """Draw words ending at `x` that only `say` knows, once all pages are drawn."""
        name = f"late-{len(self._late)}"
        self._late[name] = (say, style)
        self.saveState()
        self.translate(x, y)
        self.doForm(name)
        self.restoreState()

    def attach(self, name: str, content: bytes, description: str) -> None:
        """Embed a file in the document."""
        stream = PDFStream(
            content=content,
            dictionary=PDFDictionary({"Type": "/EmbeddedFile"}),
            filters=[PDFZCompress],
        )
        stream.dictionary["Params"] = PDFDictionary({"Size": len(content)})
        reference = self._doc.Reference(stream)
        file = PDFDictionary({
            "Type": "/Filespec",
            "F": PDFString(name),
            "UF": PDFString(name),
            "Desc": PDFString(description),
            "EF": PDFDictionary({"F": reference}),
        })  # fmt: skip
        tree = PDFDictionary({"Names": PDFArray([PDFString(name), self._doc.Reference(file)])})
        self._doc.Catalog.Names = PDFDictionary({"EmbeddedFiles": tree})

    def save(self) -> None:
        """Fill in the late words, then write the document."""
        if len(self._code):
            self.showPage()
        for name, (say, style) in self._late.items():
            self.beginForm(name, -FORM_WIDTH, -0.3 * style.size, 0, style.size)
            self.setFillColor(rgb(style.colour))
            self.setFont(style.font, style.size)
            self.drawRightString(0, 0, say())
            self.endForm()
        super().save()
