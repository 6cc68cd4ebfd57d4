"""Closed edges of lines and arcs as the kernel's spans, in one of the three planes that boards lie in."""

import math

from ..model.form.part import Plane
from ..model.shape.loop import Loop
from ..model.units import Mm
from .shapes import Point, Span, backwards, circle, segment

UP: Point = (0.0, 0.0, 1.0)
TOWARD: Point = (0.0, -1.0, 0.0)
"""Normal of a section, toward the one who looks at it with x to the right and z up."""

NORMALS: dict[Plane, Point] = {"along": TOWARD, "across": (1.0, 0.0, 0.0), "level": UP}
"""Direction from which the corners of a board are seen to run anticlockwise."""


def loop_spans(loop: Loop, plane: Plane, place: Mm) -> list[Span]:
    """Spans along a loop, anticlockwise."""
    corners = loop.corners
    row = []
    for (u0, v0, bulge), (u1, v1, _) in zip(corners, (*corners[1:], corners[0]), strict=True):
        start, end = _in_space(plane, u0, v0, place), _in_space(plane, u1, v1, place)
        row.append(
            segment(start, end) if bulge == 0.0 else _arc_span(plane, (u0, v0), (u1, v1), bulge, place)
        )
    return row if loop.area > 0.0 else backwards(row)


def _arc_span(
    plane: Plane, start: tuple[float, float], end: tuple[float, float], bulge: float, place: Mm
) -> Span:
    (u0, v0), (u1, v1) = start, end
    away = (1.0 - bulge**2) / (4.0 * bulge)
    u, v = 0.5 * (u0 + u1) - away * (v1 - v0), 0.5 * (v0 + v1) + away * (u1 - u0)
    radius = math.hypot(u0 - u, v0 - v)
    x, y, z = NORMALS[plane]
    side = math.copysign(1.0, bulge)
    a, b = _in_space(plane, u, v, place), _in_space(plane, u0, v0, place)
    towards = ((b[0] - a[0]) / radius, (b[1] - a[1]) / radius, (b[2] - a[2]) / radius)
    curve = circle(a, (side * x, side * y, side * z), towards, radius)
    return Span(curve, 0.0, 4.0 * math.atan(abs(bulge)))


def _in_space(plane: Plane, u: float, v: float, place: Mm) -> Point:
    match plane:
        case "along":
            return u, place, v
        case "across":
            return place, u, v
        case "level":
            return u, v, place
