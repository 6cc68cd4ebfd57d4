"""Sheets of paper: sizes, drawing space, and the frame with its reference grid and centring marks.

Source: ISO 216 (A sizes, read on public pages); ASME Y14.1 (North American sizes, from memory); ISO 5457 (border 20 mm
at the binding edge and 10 mm elsewhere, read on public pages; frame line 0.7 mm, grid fields of 50 mm from the middle,
centring marks, no letters I and O, A4 with letters and numerals only above and on the right: from memory). The North
American sheets get the same borders and grid.
"""

from dataclasses import dataclass
from itertools import pairwise

from ...model.units import Mm
from .curves import Line, Point, rectangle
from .pens import FRAME, GRID, Pen
from .primitives import Align, Level, Plain, Stroke, Text

BINDING_EDGE: Mm = 20.0
OTHER_EDGE: Mm = 10.0
GRID_BORDER: Mm = 5.0
"""Width of the reference grid outside the frame."""
GRID_FIELD: Mm = 50.0
MARK_REACH: Mm = 5.0
"""How far a centring mark reaches inside the frame."""
GRID_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Letters of the rows, from above; I and O are left out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """An upright rectangle on paper."""

    low: Point
    high: Point

    @property
    def width(self) -> Mm:
        """Extent in x."""
        return self.high[0] - self.low[0]

    @property
    def height(self) -> Mm:
        """Extent in y."""
        return self.high[1] - self.low[1]

    @property
    def centre(self) -> Point:
        """Middle point."""
        return (self.low[0] + self.high[0]) / 2.0, (self.low[1] + self.high[1]) / 2.0

    def grown(self, by: Mm) -> "Box":
        """Give the box with every side moved outward."""
        (x0, y0), (x1, y1) = self.low, self.high
        return Box(low=(x0 - by, y0 - by), high=(x1 + by, y1 + by))

    def meets(self, other: "Box") -> bool:
        """Whether the two boxes have more than an edge in common."""
        apart_x = self.high[0] <= other.low[0] or other.high[0] <= self.low[0]
        apart_y = self.high[1] <= other.low[1] or other.high[1] <= self.low[1]
        return not (apart_x or apart_y)


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A trimmed sheet as it lies before the reader."""

    name: str
    width: Mm
    height: Mm

    @property
    def space(self) -> Box:
        """Drawing space inside the frame."""
        return Box(
            low=(BINDING_EDGE, OTHER_EDGE),
            high=(self.width - OTHER_EDGE, self.height - OTHER_EDGE),
        )

    @property
    def is_upright(self) -> bool:
        """Whether the sheet is taller than wide."""
        return self.height > self.width


def _inches(name: str, width: float, height: float) -> Paper:
    return Paper(name=name, width=25.4 * width, height=25.4 * height)


A4 = Paper(name="A4", width=210.0, height=297.0)
A3 = Paper(name="A3", width=420.0, height=297.0)
A2 = Paper(name="A2", width=594.0, height=420.0)
A1 = Paper(name="A1", width=841.0, height=594.0)
A0 = Paper(name="A0", width=1189.0, height=841.0)
ISO_PAPERS: tuple[Paper, ...] = (A4, A3, A2, A1, A0)
"""ISO 216 A sizes from the smallest; A4 stands upright, the others lie."""

ANSI_A = _inches("ANSI A", 8.5, 11.0)
ANSI_B = _inches("ANSI B", 17.0, 11.0)
ANSI_C = _inches("ANSI C", 22.0, 17.0)
ANSI_D = _inches("ANSI D", 34.0, 22.0)
ANSI_E = _inches("ANSI E", 44.0, 34.0)
ANSI_PAPERS: tuple[Paper, ...] = (ANSI_A, ANSI_B, ANSI_C, ANSI_D, ANSI_E)
"""North American sizes from the smallest; A stands upright, the others lie."""


def fields(length: Mm) -> tuple[Mm, ...]:
    """Places of the reference grid's lines along a side of a sheet, between its ends.

    The fields are 50 mm long from the middle outward; what is left over goes to the corner fields.
    """
    half = max(1, round(length / 2.0 / GRID_FIELD))
    return tuple(length / 2.0 + GRID_FIELD * i for i in range(1 - half, half))


def frame(paper: Paper) -> tuple[Plain, ...]:
    """Frame, reference grid and centring marks of a sheet."""
    space, border = paper.space, paper.space.grown(GRID_BORDER)
    items: list[Plain] = [
        Stroke(curve=rectangle(space.low, space.high), pen=FRAME),
        Stroke(curve=rectangle(border.low, border.high), pen=GRID),
    ]
    columns, rows = fields(paper.width), fields(paper.height)
    for x in columns:
        if x != paper.width / 2.0:
            items += _ticks((x, space.high[1]), (x, border.high[1]))
            items += _ticks((x, space.low[1]), (x, border.low[1]))
    for y in rows:
        if y != paper.height / 2.0:
            items += _ticks((space.high[0], y), (border.high[0], y))
            items += _ticks((space.low[0], y), (border.low[0], y))
    items += _names(paper, (space.low[0], *columns, space.high[0]), (space.low[1], *rows, space.high[1]))
    return (*items, *_centring_marks(paper))


def _ticks(start: Point, end: Point, pen: Pen = GRID) -> list[Plain]:
    return [Stroke(curve=Line(start=start, end=end), pen=pen)]


def _names(paper: Paper, xs: tuple[Mm, ...], ys: tuple[Mm, ...]) -> list[Plain]:
    """Numerals along the width, letters along the height; on upright sheets only above and on the right."""
    space, half = paper.space, GRID_BORDER / 2.0
    levels = [space.high[1] + half] if paper.is_upright else [space.high[1] + half, space.low[1] - half]
    sides = [space.high[0] + half] if paper.is_upright else [space.high[0] + half, space.low[0] - half]
    columns = [(str(i + 1), (a + b) / 2.0) for i, (a, b) in enumerate(pairwise(xs))]
    falling = ys[::-1]
    rows = [(_letter(i), (a + b) / 2.0) for i, (a, b) in enumerate(pairwise(falling))]
    places = [(name, (x, y)) for name, x in columns for y in levels]
    places += [(name, (x, y)) for name, y in rows for x in sides]
    return [
        Text(
            text=name,
            position=place,
            # Two letters in the 3.5 mm of one would fill the border.
            height=3.5 if len(name) == 1 or name.isdigit() else 1.8,
            align=Align.CENTRE,
            level=Level.MIDDLE,
        )
        for name, place in places
    ]


def _letter(row: int) -> str:
    """Name of a row from above: A to Z, then AA, BB and so on."""
    return GRID_LETTERS[row % len(GRID_LETTERS)] * (row // len(GRID_LETTERS) + 1)


def _centring_marks(paper: Paper) -> list[Plain]:
    """Thick marks on the two axes; the lower one ends at the frame where a title block fills the sheet's width."""
    space, border = paper.space, paper.space.grown(GRID_BORDER)
    x, y = paper.width / 2.0, paper.height / 2.0
    below = 0.0 if paper.is_upright else MARK_REACH
    return [
        *_ticks((x, border.high[1]), (x, space.high[1] - MARK_REACH), FRAME),
        *_ticks((x, border.low[1]), (x, space.low[1] + below), FRAME),
        *_ticks((border.low[0], y), (space.low[0] + MARK_REACH, y), FRAME),
        *_ticks((border.high[0], y), (space.high[0] - MARK_REACH, y), FRAME),
    ]
