"""Closed edges of boards as the curves of a drawing."""

import math
from itertools import pairwise

from ...model.shape.loop import Corner, Loop
from ..drawing.curves import Arc, Circle, Edge, Line, Polyline
from ..drawing.pens import WIDE, Pen
from ..drawing.primitives import Stroke


def edges_of(corners: tuple[Corner, ...]) -> tuple[Edge, ...]:
    """Lines and arcs from corner to corner; what starts at the last corner is left out."""
    return tuple(
        Line(start=(x0, y0), end=(x1, y1)) if bulge == 0.0 else arc_of((x0, y0), (x1, y1), bulge)
        for (x0, y0, bulge), (x1, y1, _) in pairwise(corners)
    )


def loop_edges(loop: Loop) -> tuple[Edge, ...]:
    """All edges of a loop, back to its first corner."""
    return edges_of((*loop.corners, loop.corners[0]))


def arc_of(start: tuple[float, float], end: tuple[float, float], bulge: float) -> Arc:
    """Arc between two points by its bulge."""
    (x0, y0), (x1, y1) = start, end
    away = (1.0 - bulge**2) / (4.0 * bulge)
    x, y = 0.5 * (x0 + x1) - away * (y1 - y0), 0.5 * (y0 + y1) + away * (x1 - x0)
    return Arc(
        centre=(x, y),
        radius=math.hypot(x0 - x, y0 - y),
        start=math.atan2(y0 - y, x0 - x),
        sweep=4.0 * math.atan(bulge),
    )


def hole_circle(hole: Loop) -> Circle:
    """Round hole of two half circles as a circle."""
    (x0, y0, _), (x1, y1, _) = hole.corners
    return Circle(centre=(0.5 * (x0 + x1), 0.5 * (y0 + y1)), radius=0.5 * math.hypot(x1 - x0, y1 - y0))


def joined(edges: tuple[Edge, ...]) -> tuple[Edge, ...]:
    """Edges with straight ones that follow each other as one row of points."""
    found: list[Edge] = []
    for edge in edges:
        last = found[-1] if found else None
        if isinstance(edge, Line) and isinstance(last, Line):
            found[-1] = Polyline(points=(last.start, last.end, edge.end))
        elif isinstance(edge, Line) and isinstance(last, Polyline):
            found[-1] = Polyline(points=(*last.points, edge.end))
        else:
            found.append(edge)
    return tuple(found)


def closed_edges(loop: Loop) -> tuple[Edge, ...]:
    """All edges of a loop, straight ones in one row; one that begins at an arc where it can, so that no row is cut."""
    corners = loop.corners
    first = next((number for number, corner in enumerate(corners) if corner[2]), 0)
    return joined(loop_edges(Loop((*corners[first:], *corners[:first]))))


def board_strokes(outline: Loop, holes: tuple[Loop, ...], part: str, pen: Pen = WIDE) -> list[Stroke]:
    """Strokes along the edge of a board and around its holes."""
    strokes = [Stroke(curve=edge, pen=pen, part=part) for edge in joined(loop_edges(outline))]
    return strokes + [Stroke(curve=hole_circle(hole), pen=pen, part=part) for hole in holes]
