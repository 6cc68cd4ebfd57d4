"""A sheet as SVG, in true millimetres, with its text as text.

The page is ``width`` × ``height`` mm and one unit of the picture is one millimetre on paper. Letters are set in the
font that the widths were measured with or in one of the same widths, and ``textLength`` holds the measured width
with any other.
"""

import math
from collections.abc import Iterable, Iterator
from xml.sax.saxutils import escape, quoteattr

from .curves import Arc, Circle, Curve, Line, Point, Polyline, Spline, bezier_pieces, end_of, start_of
from .explode import all_exploded
from .lettering import CAPITAL, CONDENSED, Face, shown, text_width
from .patterns import Rows, hatch_rows, pattern_of
from .pens import HATCHING, PENS, Pen
from .primitives import Hatch, Item, Stroke, Text
from .sheet import Sheet, furniture, view_on_paper

FONTS = "Bitstream Vera Sans, DejaVu Sans, Verdana, sans-serif"
"""The font that the widths were measured with, and fonts of nearly the same widths."""


def write_svg(sheet: Sheet) -> bytes:
    """Write a sheet as SVG; the same sheet gives the same bytes.

    Returns
    -------
    bytes
        UTF-8; each view is a group with ``data-view`` and ``data-scale``, each named part has ``data-part``.
    """
    writer = _Writer(sheet)
    width, height = _number(sheet.paper.width), _number(sheet.paper.height)
    title = " – ".join(shown(part) for part in (sheet.title.title, sheet.title.subtitle, sheet.name) if part)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}" role="img" fill="none" stroke="#000" stroke-linejoin="round" '
        f'font-family="{FONTS}">'
    )
    lines = [
        head,
        f"<title>{escape(title)}</title>",
        f'<rect width="{width}" height="{height}" fill="#fff" stroke="none"/>',
        f"<g data-sheet={quoteattr(sheet.name)}>",
        *writer.drawn((*furniture(sheet), *sheet.items)),
        "</g>",
    ]
    for view in sheet.views:
        lines.append(f'<g data-view={quoteattr(view.name)} data-scale="{view.scale}">')
        lines += [*writer.drawn(view_on_paper(view)), "</g>"]
    return "\n".join([*lines, "</svg>", ""]).encode()


def _number(value: float, digits: int = 5) -> str:
    text = f"{value:.{digits}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


class _Writer:
    """Writes items in paper coordinates (y up) as elements in SVG coordinates (y down)."""

    __slots__ = ("clips", "height", "prefix")

    def __init__(self, sheet: Sheet) -> None:
        self.height = sheet.paper.height
        self.prefix = "".join(letter if letter.isalnum() else "-" for letter in sheet.name)
        self.clips = 0

    def drawn(self, items: Iterable[Item]) -> Iterator[str]:
        """Elements of items: areas, then strokes in a group for each pen, then text; nothing hides anything."""
        plains = list(all_exploded(items))
        areas = [element for plain in plains if isinstance(plain, Hatch) for element in self.area(plain)]
        if areas:
            yield from ['<g fill-rule="evenodd">', *areas, "</g>"]
        for pen in PENS:
            strokes = [plain for plain in plains if isinstance(plain, Stroke) and plain.pen == pen]
            if strokes:
                yield _group(pen)
                yield from (f'<path{_part(plain.part)} d="{self.path([plain.curve])}"/>' for plain in strokes)
                yield "</g>"
        texts = [self.text(plain) for plain in plains if isinstance(plain, Text) and shown(plain.text)]
        if texts:
            yield from ['<g fill="#000" stroke="none">', *texts, "</g>"]

    def area(self, hatch: Hatch) -> Iterator[str]:
        """Elements of a black or hatched area; dashed rows begin outside it and are clipped by its outline."""
        outline = " ".join(self.path(loop) for loop in hatch.loops)
        if pattern_of(hatch).is_solid:
            yield f'<path{_part(hatch.part)} fill="#000" stroke="none" d="{outline}"/>'
            return
        self.clips += 1
        name = f"{self.prefix}-area-{self.clips}"
        yield f'<clipPath id="{name}"><path clip-rule="evenodd" d="{outline}"/></clipPath>'
        yield (
            f'<g{_part(hatch.part)} data-hatch={quoteattr(hatch.pattern)} stroke-width="{HATCHING.width}" '
            f'clip-path="url(#{name})">'
        )
        yield from (self.rows(rows) for rows in hatch_rows(hatch) if len(rows.levels))
        yield "</g>"

    def rows(self, rows: Rows) -> str:
        """One family of lines, in a frame of its own in which they are horizontal.

        Dashes begin anew with each line, so that each line starts where a dash of its row does. Hatching is no
        geometry: 0.01 mm on paper is enough.
        """
        c, s = math.cos(rows.angle), math.sin(rows.angle)
        starts, period = rows.starts, sum(rows.dashes)
        if period:
            starts = rows.phases + ((starts - rows.phases) // period) * period
        lines = "".join(
            f"M{_number(start, 2)} {_number(-level, 2)}H{_number(end, 2)}"
            for level, start, end in zip(
                rows.levels.tolist(), starts.tolist(), rows.ends.tolist(), strict=True
            )
        )
        place = rows.origin[0], self.height - rows.origin[1]
        matrix = " ".join(_number(v) for v in (c, -s, s, c, *place))
        return f'<path transform="matrix({matrix})"{_dashes(rows.dashes)} d="{lines}"/>'

    def at(self, point: Point) -> str:
        return f"{_number(point[0])} {_number(self.height - point[1])}"

    def path(self, loop: Iterable[Curve]) -> str:
        """Path data of curves joined head to tail."""
        parts: list[str] = []
        for curve in loop:
            if isinstance(curve, Circle):
                (x, y), r = curve.centre, curve.radius
                half = f"A{_number(r)} {_number(r)} 0 1 0 "
                parts.append(f"M{self.at((x + r, y))}{half}{self.at((x - r, y))}{half}{self.at((x + r, y))}Z")
                continue
            if not parts:
                parts.append(f"M{self.at(start_of(curve))}")
            parts += self.steps(curve)
        return "".join(parts)

    def steps(self, curve: Line | Polyline | Arc | Spline) -> Iterator[str]:
        match curve:
            case Line():
                yield f"L{self.at(curve.end)}"
            case Polyline():
                closed = curve.is_closed
                yield from (f"L{self.at(point)}" for point in curve.points[1 : -1 if closed else None])
                yield from ["Z"] if closed else []
            case Arc():
                # Halves, so that the end point always tells which of the two arcs is meant.
                turn = "0" if curve.sweep > 0 else "1"
                for end in (curve.at(curve.start + curve.sweep / 2.0), end_of(curve)):
                    yield f"A{_number(curve.radius)} {_number(curve.radius)} 0 0 {turn} {self.at(end)}"
            case Spline():
                for _, b, c, d in (piece.tolist() for piece in bezier_pieces(curve)):
                    yield f"C{self.at((b[0], b[1]))} {self.at((c[0], c[1]))} {self.at((d[0], d[1]))}"

    def text(self, text: Text) -> str:
        """Write a text from the left end of its line, condensed by a matrix; textLength holds its width before that."""
        width = text_width(text.text, text.height, text.face)
        c, s = math.cos(text.turn), math.sin(text.turn)
        along, up = -text.align.value * width, -text.level.value * text.height
        x, y = text.position[0] + c * along - s * up, text.position[1] + s * along + c * up
        turn = " ".join(_number(v) for v in (CONDENSED * c, -CONDENSED * s, s, c))
        bold = ' font-weight="bold"' if text.face is Face.BOLD else ""
        return (
            f'<text transform="matrix({turn} {_number(x, 3)} {_number(self.height - y, 3)})" '
            f'font-size="{_number(text.height / CAPITAL, 3)}"{bold} textLength="{_number(width / CONDENSED, 2)}" '
            f'lengthAdjust="spacingAndGlyphs">{escape(shown(text.text))}</text>'
        )


def _dashes(dashes: Iterable[float]) -> str:
    text = " ".join(_number(length) for length in dashes)
    return f' stroke-dasharray="{text}"' if text else ""


def _group(pen: Pen) -> str:
    return f'<g data-pen="{pen.name}" stroke-width="{_number(pen.width)}"{_dashes(pen.dashes)}>'


def _part(name: str) -> str:
    return f" data-part={quoteattr(name)}" if name else ""
