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
PAGES_IN_ALL = "pages"
"""Name of the piece of a page that tells how many pages there are."""
TOTAL = 16.0
"""Width that it takes at the right end of the foot, points."""
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
    page.addPageTemplates(PageTemplate(frames=[frame], onPage=_foot(document, edge)))
    page.build(flow(document, looks), canvasmaker=_counting())
    return out.getvalue()


def _cut(text: str, width: float) -> str:
    """Text, or as much of its beginning as fits into a width at the foot, with … behind it."""
    from reportlab.pdfbase.pdfmetrics import stringWidth

    if stringWidth(text, "Vera", FOOT) <= width:
        return text
    while stringWidth(f"{text}…", "Vera", FOOT) > width:
        text = text[:-1]
    return f"{text}…"


def _foot(document: Document, edge: float) -> Any:
    """Writer of the foot of every page: title, page, and the number of pages, which is filled in at the end."""
    room = PAGES[document.size][0] * POINT - 2.0 * edge - NUMBER
    words = _cut(shown(f"{document.title}: {document.kind.lower()}"), room)

    def write(canvas: Any, _: Any) -> None:
        right = PAGES[document.size][0] * POINT - edge
        canvas.saveState()
        canvas.setFont("Vera", FOOT)
        canvas.drawString(edge, 0.55 * edge, words)
        canvas.drawRightString(right - TOTAL, 0.55 * edge, f"{canvas.getPageNumber()} /")
        canvas.translate(right - TOTAL, 0.55 * edge)
        canvas.doForm(PAGES_IN_ALL)
        canvas.restoreState()

    return write


def _counting() -> Any:
    """Kind of canvas that knows the number of its pages when the last of them is done."""
    from reportlab.pdfgen.canvas import Canvas

    class Counting(Canvas):  # type: ignore[misc]
        """Fills in the number of pages where every foot refers to it."""

        def save(self) -> None:
            """Tell the number of pages, then write the file."""
            self.beginForm(PAGES_IN_ALL)
            self.setFont("Vera", FOOT)
            self.drawString(0.3 * FOOT, 0, str(self.getPageNumber() - 1))
            self.endForm()
            super().save()

    return Counting
