"""Full-size templates on pages of a house printer: overlapping, with register marks, a map and bars to check the size.

Every page carries a bar of 100 mm and one of 4 in, so that nobody cuts by a page that the printer has scaled. Pages are
glued over each other so that the crosses fall on each other.
"""

import math
from collections.abc import Iterator

import numpy as np

from ..model.plan import Plan
from ..model.shape.profile import Floats
from ..model.template import Template, templates
from ..model.units import Mm
from ..model.wording import INCH, decimal
from .drawing.curves import Line, Point, Polyline, rectangle
from .drawing.lettering import Face, text_width
from .drawing.paper import A4, ANSI_A, Box, Paper
from .drawing.pdf import Page, write_pages
from .drawing.pens import CENTRE, GRID, HIDDEN, NARROW, TABLE, WIDE, Pen
from .drawing.primitives import Align, Item, Stroke, Text, filled
from .drawing.table import paragraph
from .tiles import OVERLAP, Tile, Tiling, tiling

MARGIN: Mm = 10.0
"""White that a house printer leaves around a page."""
FOOT: Mm = 22.0
"""Height of the strip below the window."""
CROSS: Mm = 4.0
"""Half of the length of a register mark's lines."""
WORDS: Mm = 56.0
"""Width of the words in the strip."""
MAP: tuple[Mm, Mm] = (22.0, 18.0)
"""Width and height of the map at most."""
METRIC_BAR, INCH_BAR = 100.0, 4.0 * INCH
LETTERS: Mm = 2.5


def template_pages(plan: Plan) -> tuple[Page, ...]:
    """Pages of all templates that square and rule cannot replace; none where there are none."""
    paper = {"ISO": A4, "North American": ANSI_A}[plan.layup.drawing.paper]
    return tuple(
        page
        for template in templates(plan)
        if not template.is_squared
        for page in _pages(template, plan, paper)
    )


def templates_pdf(plan: Plan) -> bytes:
    """Write all templates as one PDF document."""
    return write_pages(template_pages(plan), title=f"{plan.layup.title or 'Layup'}: templates")


def window_of(paper: Paper) -> Box:
    """Room of the outline on a page."""
    return Box(low=(MARGIN, MARGIN + FOOT), high=(paper.width - MARGIN, paper.height - MARGIN))


def _pages(template: Template, plan: Plan, paper: Paper) -> Iterator[Page]:
    window = window_of(paper)
    found = tiling(template, (window.width, window.height))
    for number, tile in enumerate(found.tiles, 1):
        items = (
            *_lines(tile, window),
            *_edges(found, tile, window),
            *_foot(template, plan, found, tile, number, paper),
        )
        yield Page(name=f"{template.name} {tile.name}", paper=paper, items=items)


def _lines(tile: Tile, window: Box) -> Iterator[Item]:
    x, y = window.low[0] - tile.low[0], window.low[1] - tile.low[1]
    for points in tile.cuts:
        yield _stroke(points, (x, y), WIDE)
    for points, name in tile.marks:
        yield _stroke(points, (x, y), CENTRE)
        if name:
            yield from _named(points + np.array([x, y]), name)


def _named(points: Floats, name: str) -> Iterator[Item]:
    """Name along a straight mark, beside its middle; none where the page has too little of it."""
    (x0, y0), (x1, y1) = sorted((points[0].tolist(), points[-1].tolist()))
    length, angle = math.hypot(x1 - x0, y1 - y0), math.atan2(y1 - y0, x1 - x0)
    if length < text_width(name, LETTERS) + 2.0 * LETTERS:
        return
    place = (
        0.5 * (x0 + x1) - 0.5 * LETTERS * math.sin(angle),
        0.5 * (y0 + y1) + 0.5 * LETTERS * math.cos(angle),
    )
    yield Text(text=name, position=place, height=LETTERS, align=Align.CENTRE, turn=angle)


def _stroke(points: Floats, shift: Point, pen: Pen) -> Stroke:
    moved = tuple((float(x) + shift[0], float(y) + shift[1]) for x, y in points)
    return Stroke(curve=Polyline(points=moved), pen=pen)


def _edges(found: Tiling, tile: Tile, window: Box) -> Iterator[Item]:
    """Border of the window; where a neighbour is, the overlap's inner edge and crosses in the overlap's middle."""
    (x0, y0), (x1, y1) = window.low, window.high
    yield Stroke(curve=rectangle(window.low, window.high), pen=NARROW)
    printed = {(one.column, one.row) for one in found.tiles}
    sides = (
        ((tile.column - 1, tile.row), 0, x0, 1.0),
        ((tile.column + 1, tile.row), 0, x1, -1.0),
        ((tile.column, tile.row - 1), 1, y0, 1.0),
        ((tile.column, tile.row + 1), 1, y1, -1.0),
    )
    for neighbour, axis, edge, inward in sides:
        if neighbour not in printed:
            continue
        inner, middle = edge + inward * OVERLAP, edge + 0.5 * inward * OVERLAP
        low, high = (y0, y1) if axis == 0 else (x0, x1)
        yield Stroke(curve=Line(start=_at(axis, inner, low), end=_at(axis, inner, high)), pen=HIDDEN)
        for share in (0.25, 0.75):
            yield from _cross(_at(axis, middle, low + share * (high - low)))


def _at(axis: int, across: Mm, along: Mm) -> Point:
    return (across, along) if axis == 0 else (along, across)


def _cross(middle: Point) -> Iterator[Item]:
    x, y = middle
    yield Stroke(curve=Line(start=(x - CROSS, y), end=(x + CROSS, y)), pen=GRID)
    yield Stroke(curve=Line(start=(x, y - CROSS), end=(x, y + CROSS)), pen=GRID)


def _foot(
    template: Template, plan: Plan, found: Tiling, tile: Tile, number: int, paper: Paper
) -> Iterator[Item]:
    """Strip below the window: what it is, the bars, the map."""
    top = MARGIN + FOOT - 2.0
    pieces = f"{template.quantity} piece{'s' if template.quantity > 1 else ''}"
    yield Text(
        text=f"{tile.name}   {number} of {len(found.tiles)}",
        position=(MARGIN, top - 4.0),
        height=3.5,
        face=Face.BOLD,
    )
    told = f"{template.name}: {template.material_name}, {decimal(template.thickness, 2)} mm, {pieces}"
    lines, _ = paragraph((MARGIN, top - 6.0), f"{plan.layup.title or 'Layup'}\n{told}", WORDS, LETTERS)
    # a long title must not run into the margin
    yield from lines[:3]
    x = MARGIN + WORDS + 3.0
    yield Text(
        text="Print at 100 %, measure both bars, lay the pages cross on cross.",
        position=(x, top - 3.0),
        height=LETTERS,
    )
    for length, word, y in ((METRIC_BAR, "100 mm", top - 9.0), (INCH_BAR, "4 in", top - 15.5)):
        yield from _bar(x, y, length, word)
    yield from _map(found, tile, paper.width - MARGIN, top)


def _bar(x: Mm, y: Mm, length: Mm, word: str) -> Iterator[Item]:
    yield Stroke(curve=Line(start=(x, y), end=(x + length, y)), pen=TABLE)
    for end in (x, x + length):
        yield Stroke(curve=Line(start=(end, y - 1.5), end=(end, y + 1.5)), pen=TABLE)
    yield Text(text=word, position=(x + 0.5 * length, y + 0.8), height=LETTERS, align=Align.CENTRE)


def _map(found: Tiling, tile: Tile, right: Mm, top: Mm) -> Iterator[Item]:
    """Every page as a small box in its place, this one black."""
    wide, high = found.window
    ratio = min(MAP[0] / (found.columns * wide), MAP[1] / (found.rows * high), 6.0 / high)
    left, foot = right - found.columns * wide * ratio, top - found.rows * high * ratio
    for one in found.tiles:
        low = (left + one.column * wide * ratio, foot + one.row * high * ratio)
        up = (low[0] + wide * ratio, low[1] + high * ratio)
        yield Stroke(curve=rectangle(low, up), pen=TABLE)
        if one is tile:
            yield filled(low, (up[0], low[1]), up, (low[0], up[1]))
