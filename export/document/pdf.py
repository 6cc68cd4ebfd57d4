"""A document as PDF: embedded fonts, text that can be searched, chapters in the outline, pages numbered."""

from io import BytesIO
from typing import Any

from ..drawing.lettering import shown
from ..drawing.pdf import POINT, register_fonts
from .pieces import Document, Size

PAGES: dict[Size, tuple[float, float]] = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
"""Width and height of the paper, mm: ISO 216; North American letter, 8 1/2 by 11 inches."""
MARGIN = 15.0
"""Free edge of a page, mm; wide enough for punched holes."""
FOOT = 7.0
"""Size of the letters at the foot of a page, points."""
NUMBER = 60.0
"""Width at the foot of a page that the page's number takes, points."""


def write_pdf(document: Document) -> bytes:
    """Write a document as PDF; the same document gives the same bytes."""
    from reportlab.platypus.doctemplate import BaseDocTemplate, PageTemplate
    from reportlab.platypus.frames import Frame

    from .pdf_pieces import flow
    from .pdf_styles import styles

    register_fonts()
    out = BytesIO()
    width, height = (side * POINT for side in PAGES[document.size])
    edge = MARGIN * POINT
    looks = styles(document.letters, width - 2 * edge, height - 2 * edge)
    page = BaseDocTemplate(
        out,
        pagesize=(width, height),
        invariant=1,
        pageCompression=1,
        title=shown(f"{document.title}: {document.kind.lower()}"),
        author="",
        subject=shown(document.kind),
        creator="underbag",
        producer="underbag, reportlab",
        initialFontName="Vera",
    )
    frame = Frame(edge, edge, width - 2 * edge, height - 2 * edge, 0, 0, 0, 0)
    page.addPageTemplates(PageTemplate(frames=[frame]))
    page.build(flow(document, looks), canvasmaker=_counted(document, edge))
    return out.getvalue()


def _cut(text: str, width: float) -> str:
    """Text, or as much of its beginning as fits into a width at the foot, with … behind it."""
    from reportlab.pdfbase.pdfmetrics import stringWidth

    if stringWidth(text, "Vera", FOOT) <= width:
        return text
    while stringWidth(f"{text}…", "Vera", FOOT) > width:
        text = text[:-1]
    return f"{text}…"


def _counted(document: Document, edge: float) -> Any:
    """Canvas that writes title, page and number of pages at the foot when all of them are known."""
    from reportlab.pdfgen.canvas import Canvas

    room = PAGES[document.size][0] * POINT - 2.0 * edge - NUMBER
    words = _cut(shown(f"{document.title}: {document.kind.lower()}"), room)

    class Counted(Canvas):  # type: ignore[misc]
        """Keeps its pages until the last is done."""

        def __init__(self, *arguments: Any, **settings: Any) -> None:
            super().__init__(*arguments, **settings)
            self.kept: list[dict[str, Any]] = []

        def showPage(self) -> None:
            """Keep a page."""
            self.kept.append(dict(self.__dict__))
            self._startPage()

        def save(self) -> None:
            """Write the foot of every page, then the file."""
            for number, state in enumerate(self.kept, 1):
                self.__dict__.update(state)
                self.setFont("Vera", FOOT)
                self.drawString(edge, 0.55 * edge, words)
                self.drawRightString(self._pagesize[0] - edge, 0.55 * edge, f"{number} / {len(self.kept)}")
                super().showPage()
            super().save()

    return Counted
