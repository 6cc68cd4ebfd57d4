"""Pieces of a document as what flows down the pages of a PDF."""

from collections.abc import Iterator, Sequence
from html import escape
from typing import Any

from reportlab.lib import colors
from reportlab.platypus.flowables import CondPageBreak, Flowable, HRFlowable, KeepTogether, Spacer
from reportlab.platypus.paragraph import Paragraph
from reportlab.platypus.tables import LongTable, TableStyle

from ..drawing.lettering import shown
from ..page.markup import whole_sizes
from .pdf_picture import PictureFlowable
from .pdf_styles import REGULAR, Styles
from .pieces import (
    Cell,
    Chapter,
    Document,
    Measures,
    Picture,
    Piece,
    Remark,
    Sentences,
    Subtitle,
    Table,
    Working,
)
from .svg_read import read_svg

RULE = colors.HexColor("#999999")
PICTURE_SHARE = 0.75
"""Width of a picture over that of the text."""
TALLEST = 0.88
"""Height of a picture over that of a page, at the most: name and caption stand with it."""
ROOM_BELOW = 12.0
"""Least room for a chapter's heading and what follows, over the size of the letters; less begins a new page."""


class _Entry(Flowable):  # type: ignore[misc]
    """Puts a chapter into the outline of the file; takes no room itself."""

    def __init__(self, key: str, title: str) -> None:
        super().__init__()
        self.key, self.title = key, title
        self.width = self.height = 0.0

    def draw(self) -> None:
        """Mark the place."""
        self.canv.bookmarkHorizontal(self.key, 0, 0)
        self.canv.addOutlineEntry(self.title, self.key)


class _Boxes(Flowable):  # type: ignore[misc]
    """Boxes to tick, in rows."""

    def __init__(self, count: int, side: float, width: float) -> None:
        super().__init__()
        self.side, self.step = side, 1.4 * side
        self.across = max(1, int((width + 0.4 * side) / self.step))
        self.count = count
        self.width, self.height = width, self.step * -(-count // self.across)

    def draw(self) -> None:
        """Draw the boxes from the upper left."""
        self.canv.setLineWidth(0.8)
        for number in range(self.count):
            row, column = divmod(number, self.across)
            x, y = column * self.step, self.height - row * self.step - self.side
            self.canv.rect(x, y, self.side, self.side)


def flow(document: Document, looks: Styles) -> list[Any]:
    """Everything that a document says, downward."""
    head = [
        Paragraph(_text(document.kind), looks.kind),
        Paragraph(_text(document.title), looks.title),
        Paragraph(f"<b>{_text(document.status.upper())}</b>: {_text(document.summary)}", looks.plain),
        HRFlowable(width="100%", color=colors.black, thickness=1.0, spaceBefore=4, spaceAfter=2),
    ]
    return [*head, *(item for one in document.chapters if one.pieces for item in _chapter(one, looks))]


def _text(text: str) -> str:
    """Text for a paragraph: in letters that the font has, never markup, no size torn apart at the end of a line."""
    return escape(whole_sizes(shown(text)), quote=False)


def _chapter(chapter: Chapter, looks: Styles) -> Iterator[Any]:
    """Heading and pieces of a chapter; a first piece that stays whole takes the heading with it."""
    head = [_Entry(chapter.key, shown(chapter.title)), Paragraph(_text(chapter.title), looks.chapter)]
    body = [item for piece in chapter.pieces for item in _piece(piece, looks)]
    if isinstance(body[0], KeepTogether):
        yield KeepTogether([*head, *body.pop(0)._content])
    else:
        yield CondPageBreak(ROOM_BELOW * looks.size)
        yield from head
    yield from body


def _piece(piece: Piece, looks: Styles) -> Iterator[Any]:
    match piece:
        case Subtitle():
            yield CondPageBreak(0.7 * ROOM_BELOW * looks.size)
            yield Paragraph(_text(piece.text), looks.subtitle)
        case Sentences():
            yield from (Paragraph(_text(text), looks.point, bulletText="•") for text in piece.texts)
        case Measures():
            rows = [
                [Paragraph(_text(one.label), looks.plain), Paragraph(_text(one.text), looks.strong)]
                for one in piece.lines
            ]
            yield _ruled(rows, [0.5 * looks.width, 0.5 * looks.width], looks, has_head=False)
        case Table():
            yield from _table(piece, looks)
        case Remark():
            yield _remark(piece, looks)
        case Picture():
            drawing = PictureFlowable(
                read_svg(piece.svg), PICTURE_SHARE * looks.width, TALLEST * looks.height
            )
            parts = [
                Paragraph(_text(piece.name), looks.subtitle),
                drawing,
                Paragraph(_text(piece.caption), looks.quiet),
            ]
            yield KeepTogether(parts)
        case Working():
            yield _working(piece, looks)


def _table(table: Table, looks: Styles) -> Iterator[Any]:
    if table.about:
        yield Paragraph(_text(table.about), looks.quiet)
    total = sum(column.share for column in table.columns)
    widths = [looks.width * column.share / total for column in table.columns]
    head = [Paragraph(_text(column.name), looks.quiet) for column in table.columns]
    rows = [
        [
            _cell(cell, looks, room, place == table.head)
            for place, (cell, room) in enumerate(zip(row, widths, strict=True))
        ]
        for row in table.rows
    ]
    yield _ruled([head, *rows], widths, looks, has_head=True)


def _cell(cell: Cell, looks: Styles, room: float, is_head: bool) -> list[Any]:
    """One cell: boxes, text and the smaller line below it."""
    parts: list[Any] = []
    if cell.boxes:
        parts.append(_Boxes(cell.boxes, 1.05 * looks.size, room - 0.6 * looks.size))
    if cell.text:
        parts.append(Paragraph(_text(cell.text), looks.strong if is_head or cell.strong else looks.plain))
    if cell.below:
        parts.append(Paragraph(_text(cell.below), looks.quiet))
    return parts


def _ruled(rows: Sequence[Sequence[Any]], widths: Sequence[float], looks: Styles, *, has_head: bool) -> Any:
    """Table with a thin rule below each row."""
    pad = 0.3 * looks.size
    look = [
        ("FONTNAME", (0, 0), (-1, -1), REGULAR),
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-1, -1), 0.6 * looks.size),
        ("TOPPADDING", (0, 0), (-1, -1), pad),
        ("BOTTOMPADDING", (0, 0), (-1, -1), pad),
        ("LINEBELOW", (0, 0), (-1, -1), 0.4, RULE),
    ]
    if has_head:
        look.append(("LINEBELOW", (0, 0), (-1, 0), 0.9, colors.black))
    return LongTable(
        [list(row) for row in rows],
        colWidths=list(widths),
        style=TableStyle(look),
        repeatRows=int(has_head),
        hAlign="LEFT",
        spaceAfter=0.6 * looks.size,
    )


def _remark(remark: Remark, looks: Styles) -> Any:
    ground = " ".join(part for part in (remark.why, f"[{remark.source}]") if part)
    parts = [
        Paragraph(f"{_text(remark.status.upper())}: {_text(remark.title)}", looks.strong),
        Paragraph(_text(remark.message), looks.plain),
    ]
    if remark.numbers:
        parts.append(Paragraph(_text(remark.numbers), looks.plain))
    if remark.change:
        parts.append(Paragraph(f"<b>Change:</b> {_text(remark.change)}", looks.plain))
    return KeepTogether([*parts, Paragraph(_text(ground), looks.quiet), Spacer(1, 0.7 * looks.size)])


def _working(working: Working, looks: Styles) -> Any:
    return KeepTogether(
        [
            Paragraph(f"<b>{_text(working.name)}</b>: {_text(working.told)}", looks.plain),
            *(Paragraph(_text(line), looks.plain) for line in working.lines),
            Paragraph(f"{_text(working.key)} [{_text(working.source)}]", looks.quiet),
            Spacer(1, 0.55 * looks.size),
        ]
    )
