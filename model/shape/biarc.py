"""Smooth curves followed by true arcs: two from point to point with the directions that the curve has there.

A curve that is no arc is cut into spans until two arcs with a common tangent keep as close to each of them as asked.
So a router runs smoothly, and the edge can be moved aside exactly.

Source: textbook, biarcs with equal handles.
"""

import math
from collections.abc import Callable

import numpy as np

from ..units import Mm
from .loop import NEAR, Corner, Loop
from .profile import Floats

Curve = Callable[[Floats], tuple[Floats, Floats]]
"""Points ``(n, 2)`` and unit directions ``(n, 2)`` of a curve at parameters ``(n,)``."""

LOOKED_AT = np.linspace(0.0, 1.0, 10)[1:-1]
"""Shares of a span at which its arcs are held against the curve."""
DEEPEST = 24
"""Halvings of a span: what is left after them is shorter than any tool can follow."""


def biarcs(curve: Curve, first: float, last: float, tolerance: Mm) -> tuple[Corner, ...]:
    """Corners of arcs along a curve from one parameter to another; the end has no corner of its own."""
    return tuple(_followed(curve, first, last, tolerance, 0))


def _followed(curve: Curve, first: float, last: float, tolerance: Mm, depth: int) -> list[Corner]:
    points, ways = curve(np.array([first, last]))
    corners = _two_arcs(points[0], ways[0], points[1], ways[1])
    inside, _ = curve(first + LOOKED_AT * (last - first))
    if depth == DEEPEST or (corners and _distance(corners, points[1], inside) <= tolerance):
        return corners or [(float(points[0][0]), float(points[0][1]), 0.0)]
    middle = 0.5 * (first + last)
    return [
        *_followed(curve, first, middle, tolerance, depth + 1),
        *_followed(curve, middle, last, tolerance, depth + 1),
    ]


def _two_arcs(start: Floats, leaving: Floats, end: Floats, coming: Floats) -> list[Corner]:
    """Corners of two arcs with the directions at both ends; a straight line where they are one, none where a span turns too far."""
    way = end - start
    if float(np.hypot(*way)) <= NEAR:
        return []
    both = leaving + coming
    along, apart = float(way @ both), 2.0 * (1.0 - float(leaving @ coming))
    if along <= 0.0 or min(float(way @ leaving), float(way @ coming)) <= 0.0:
        return []
    square = float(way @ way)
    # the usual root written so that it keeps its digits where both directions are all but one
    handle = square / (along + math.sqrt(along**2 + apart * square))
    joint = 0.5 * (start + end + handle * (leaving - coming))
    return [
        (float(start[0]), float(start[1]), _bulge(leaving, joint - start)),
        (float(joint[0]), float(joint[1]), -_bulge(-coming, joint - end)),
    ]


def _bulge(way: Floats, chord: Floats) -> float:
    """Bulge of an arc that leaves in a direction and ends at its chord's end."""
    half = math.atan2(float(way[0] * chord[1] - way[1] * chord[0]), float(way @ chord))
    found = math.tan(0.5 * half)
    # arcs this flat leave their chord by less than the last digit that is kept
    return 0.0 if abs(found) * float(np.hypot(*chord)) <= NEAR else found


def _distance(corners: list[Corner], end: Floats, points: Floats) -> Mm:
    """Farthest of the points from the nearer of the arcs."""
    nearest = np.full(len(points), math.inf)
    stops = [*corners[1:], (float(end[0]), float(end[1]), 0.0)]
    for corner, stop in zip(corners, stops, strict=True):
        nearest = np.minimum(nearest, _from_arc(corner, stop, points))
    return float(nearest.max())


def _from_arc(corner: Corner, stop: Corner, points: Floats) -> Floats:
    """Distances of points from the circle or line of an arc, or from its nearer end where they lie beside it."""
    start, end = np.array(corner[:2]), np.array(stop[:2])
    chord = end - start
    share = (points - start) @ chord / float(chord @ chord)
    if corner[2] == 0.0:
        aside = np.abs((points - start) @ np.array([-chord[1], chord[0]])) / float(np.hypot(*chord))
    else:
        arc = Loop((corner, stop))
        centre, radius = arc.circle(0)
        aside = np.abs(np.hypot(*(points - centre).T) - radius)
    to_ends = np.minimum(np.hypot(*(points - start).T), np.hypot(*(points - end).T))
    return np.asarray(np.where((share >= 0.0) & (share <= 1.0), aside, to_ends))
