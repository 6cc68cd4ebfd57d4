"""Sheets as one PDF document, at true size, with embedded fonts and text as text."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import Any

import numpy as np

from .curves import Arc, Array, Circle, Curve, Line, Polyline, Spline, arc_beziers, bezier_pieces, start_of
from .explode import all_exploded
from .lettering import CAPITAL, CONDENSED, Face, font_file, shown, text_width
from .paper import Paper
from .patterns import hatch_lines, pattern_of
from .pens import HATCHING, Pen
from .primitives import Hatch, Item, Plain, Stroke, Text
from .sheet import Sheet, on_paper

POINT = 72.0 / 25.4
"""Points per mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """A page with whatever stands on it, in mm from its lower left corner, without frame and title block.

    Parameters
    ----------
    name
        What the reader's list of pages calls it.
    """

    name: str
    paper: Paper
    items: tuple[Item, ...]


def write_pdf(sheets: Sequence[Sheet]) -> bytes:
    """Write sheets as the pages of one PDF document; the same sheets give the same bytes."""
    pages = [
        Page(name=f"{sheet.title.title}: {sheet.name}", paper=sheet.paper, items=on_paper(sheet))
        for sheet in sheets
    ]
    if not sheets:
        return write_pages(pages)
    title = sheets[0].title
    return write_pages(pages, title.title, title.creator or title.owner, title.document)


def write_pages(pages: Sequence[Page], title: str = "", author: str = "", subject: str = "") -> bytes:
    """Write pages as one PDF document; the same pages give the same bytes."""
    from reportlab.pdfgen.canvas import Canvas

    register_fonts()
    out = BytesIO()
    canvas = Canvas(out, invariant=1, pageCompression=1, initialFontName="Vera")
    canvas.setTitle(shown(title))
    canvas.setAuthor(shown(author))
    canvas.setSubject(shown(subject))
    canvas.setCreator("underbag")
    canvas.setProducer("underbag, reportlab")
    for page in pages:
        _page(canvas, page)
    canvas.save()
    return out.getvalue()


def register_fonts() -> None:
    """Make the two faces known to reportlab, to be embedded."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    for face in Face:
        if face.font not in pdfmetrics.getRegisteredFontNames():
            pdfmetrics.registerFont(TTFont(face.font, str(font_file(face))))
    regular, bold = (face.font for face in Face)
    pdfmetrics.registerFontFamily(regular, normal=regular, bold=bold, italic=regular, boldItalic=bold)


def _page(canvas: Any, page: Page) -> None:
    canvas.setPageSize((page.paper.width * POINT, page.paper.height * POINT))
    key = f"sheet-{canvas.getPageNumber()}"
    canvas.bookmarkPage(key)
    canvas.addOutlineEntry(shown(page.name), key)
    canvas.setLineJoin(1)
    pen: Pen | None = None
    for plain in all_exploded(page.items):
        wanted = _pen_of(plain)
        if wanted is not None and wanted is not pen:
            canvas.setLineWidth(wanted.width * POINT)
            canvas.setDash([length * POINT for length in wanted.dashes])
            pen = wanted
        _draw(canvas, plain)
    canvas.showPage()


def _pen_of(plain: Plain) -> Pen | None:
    if isinstance(plain, Stroke):
        return plain.pen
    return HATCHING if isinstance(plain, Hatch) else None


def _draw(canvas: Any, plain: Plain) -> None:
    match plain:
        case Stroke():
            canvas.drawPath(_path(canvas, [[plain.curve]]), stroke=1, fill=0)
        case Hatch() if pattern_of(plain).is_solid:
            canvas.drawPath(_path(canvas, plain.loops), stroke=0, fill=1, fillMode=0)
        case Hatch():
            canvas.lines((hatch_lines(plain) * POINT).tolist())
        case Text():
            _text(canvas, plain)


def _path(canvas: Any, loops: Iterable[Iterable[Curve]]) -> Any:
    path = canvas.beginPath()
    for loop in loops:
        open_path = False
        for curve in loop:
            whole = (
                Arc(centre=curve.centre, radius=curve.radius, start=0.0, sweep=2 * math.pi)
                if isinstance(curve, Circle)
                else curve
            )
            if not open_path:
                path.moveTo(*(coordinate * POINT for coordinate in start_of(whole)))
                open_path = True
            _append(path, whole)
            if isinstance(curve, Circle):
                path.close()
    return path


def _append(path: Any, curve: Line | Polyline | Arc | Spline) -> None:
    match curve:
        case Line():
            path.lineTo(curve.end[0] * POINT, curve.end[1] * POINT)
        case Polyline():
            for x, y in curve.points[1 : -1 if curve.is_closed else None]:
                path.lineTo(x * POINT, y * POINT)
            if curve.is_closed:
                path.close()
        case Arc():
            _curves(path, arc_beziers(curve))
        case Spline():
            _curves(path, bezier_pieces(curve))


def _curves(path: Any, pieces: Iterable[Array]) -> None:
    for piece in pieces:
        path.curveTo(*(np.asarray(piece[1:]) * POINT).ravel().tolist())


def _text(canvas: Any, text: Text) -> None:
    letters = shown(text.text)
    if not letters:
        return
    width = text_width(text.text, text.height, text.face)
    c, s = math.cos(text.turn), math.sin(text.turn)
    along, up = -text.align.value * width, -text.level.value * text.height
    x, y = text.position[0] + c * along - s * up, text.position[1] + s * along + c * up
    writer = canvas.beginText()
    writer.setTextTransform(c, s, -s, c, x * POINT, y * POINT)
    writer.setFont(text.face.font, text.height / CAPITAL * POINT)
    writer.setHorizScale(100.0 * CONDENSED)
    writer.textOut(letters)
    canvas.drawText(writer)
