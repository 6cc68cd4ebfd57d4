"""Running dimensions: distances of several places from one end, as a tape hooked over that end reads them.

Source: ISO 129-1 (running dimensioning from an origin that a small circle marks; common practice).
"""

import math
from collections.abc import Iterator, Sequence

from ...model.units import Mm, Ratio
from ..drawing.curves import Circle, Line, Point, Polyline
from ..drawing.dimension import arrow
from ..drawing.pens import NARROW
from ..drawing.primitives import Align, Item, Level, Stroke, Text
from ..drawing.sheet import placed

HEIGHT: Mm = 2.5
"""Lettering height."""
GAP: Mm = 1.0
"""From the edge to an extension line, from there to its text."""
LINE: Mm = 5.0
"""From the edge to the dimension line."""
ABOVE: Mm = 9.0
"""From the edge to the texts."""
APART: Mm = 4.0
"""Least distance of two texts."""
ORIGIN: Mm = 0.8
"""Radius of the circle at the origin."""


def running(origin: Point, places: Sequence[tuple[Mm, str]], ratio: Ratio) -> Iterator[Item]:
    """Dimensions of places to the right of an origin on the upper edge of a view, in the view's own mm.

    Parameters
    ----------
    places
        x of each from left to right, and its text.
    ratio
        Scale of the view.
    """
    unit, (start, edge) = 1.0 / ratio, origin
    level = edge + LINE * unit
    yield Stroke(curve=Circle(centre=(start, level), radius=ORIGIN * unit), pen=NARROW)
    yield _line((start, edge + GAP * unit), (start, level - ORIGIN * unit))
    yield _line((start + ORIGIN * unit, level), (places[-1][0], level))
    for (x, text), beside in zip(places, _spread([x for x, _ in places], APART * unit), strict=True):
        foot, turn, end = (x, edge + GAP * unit), (x, level), (beside, edge + ABOVE * unit)
        yield Stroke(curve=Polyline(points=(foot, turn, end)), pen=NARROW)
        yield placed(arrow((0.0, 0.0), 0.0), unit, turn)
        yield Text(
            text=text,
            position=(beside, end[1] + GAP * unit),
            height=HEIGHT,
            align=Align.LEFT,
            level=Level.MIDDLE,
            turn=0.5 * math.pi,
        )


def _spread(places: Sequence[Mm], apart: Mm) -> list[Mm]:
    """Places moved apart as little as needed: rows of those too close are spread about their own middle."""
    rows: list[list[Mm]] = []
    for place in places:
        rows.append([place])
        while len(rows) > 1 and _first(rows[-1], apart) - _last(rows[-2], apart) < apart:
            rows[-2:] = [rows[-2] + rows[-1]]
    return [_first(row, apart) + number * apart for row in rows for number in range(len(row))]


def _first(row: Sequence[Mm], apart: Mm) -> Mm:
    return math.fsum(row) / len(row) - 0.5 * (len(row) - 1) * apart


def _last(row: Sequence[Mm], apart: Mm) -> Mm:
    return math.fsum(row) / len(row) + 0.5 * (len(row) - 1) * apart


def _line(start: Point, end: Point) -> Stroke:
    return Stroke(curve=Line(start=start, end=end), pen=NARROW)
