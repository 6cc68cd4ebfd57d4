"""A drawn view on a page of PDF: as lines and areas, its text as text."""

from typing import Any

from reportlab.lib.colors import HexColor
from reportlab.platypus.flowables import Flowable

from ..drawing.lettering import CONDENSED, shown
from .svg_read import Drawing, Gradient, Label, Line, Shape, box_of

FONT = "Vera"
Box = tuple[float, float, float, float]


class PictureFlowable(Flowable):  # type: ignore[misc]
    """A drawn view, scaled to a width, or to a height where it is taller than that."""

    def __init__(self, drawing: Drawing, width: float, height: float) -> None:
        super().__init__()
        self.drawing = drawing
        self.scale = min(width / drawing.width, height / drawing.height)
        self.width, self.height = drawing.width * self.scale, drawing.height * self.scale

    def draw(self) -> None:
        """Paint the view with its lower left corner at the origin."""
        canvas = self.canv
        canvas.saveState()
        canvas.setLineJoin(1)
        # the view counts downward from its upper edge
        canvas.transform(self.scale, 0, 0, -self.scale, 0, self.height)
        for mark in self.drawing.marks:
            if isinstance(mark, Label):
                _write(canvas, mark)
            else:
                _paint(canvas, mark)
        canvas.restoreState()


def _paint(canvas: Any, shape: Shape) -> None:
    canvas.saveState()
    if shape.window:
        canvas.clipPath(_path(canvas, shape.window), stroke=0, fill=0)
    if isinstance(shape.fill, Gradient):
        _shade(canvas, shape.lines, shape.fill)
    else:
        _fill(canvas, shape)
    if shape.stroke:
        canvas.setStrokeColor(HexColor(shape.stroke))
        canvas.setStrokeAlpha(shape.stroke_opacity)
        canvas.setLineWidth(shape.width)
        canvas.drawPath(_path(canvas, shape.lines), stroke=1, fill=0)
    canvas.restoreState()


def _fill(canvas: Any, shape: Shape) -> None:
    if shape.fill:
        canvas.setFillColor(HexColor(shape.fill))
        canvas.setFillAlpha(shape.fill_opacity)
        canvas.drawPath(_path(canvas, shape.lines), stroke=0, fill=1, fillMode=1)


def _shade(canvas: Any, lines: tuple[Line, ...], gradient: Gradient) -> None:
    """Fill lines with a gradient, whose places are shares of the box around them."""
    x0, y0, x1, y1 = box_of(lines)
    canvas.saveState()
    canvas.clipPath(_path(canvas, lines), stroke=0, fill=0)
    canvas.transform(x1 - x0, 0, 0, y1 - y0, x0, y0)
    colours = [HexColor(colour) for colour in gradient.colours]
    canvas.linearGradient(*gradient.start, *gradient.end, colours, list(gradient.offsets))
    canvas.restoreState()


def _path(canvas: Any, lines: tuple[Line, ...]) -> Any:
    path = canvas.beginPath()
    for line in lines:
        path.moveTo(*line.start)
        for piece in line.pieces:
            if len(piece) == 1:
                path.lineTo(*piece[0])
            else:
                path.curveTo(*(number for point in piece for number in point))
        if line.is_closed:
            path.close()
    return path


def _write(canvas: Any, label: Label) -> None:
    writer = canvas.beginText()
    x, y = label.place
    # upright again within the space that counts downward
    writer.setTextTransform(1, 0, 0, -1, x, y)
    writer.setFont(FONT, label.size)
    writer.setHorizScale(100.0 * CONDENSED)
    writer.textOut(shown(label.text))
    canvas.drawText(writer)
