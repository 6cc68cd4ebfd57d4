"""The section's own geometry: edges of a layer along the sheet, as lines and true arcs.

x runs along the chord, y is the height above the underside of the platen or form, in mm.
"""

import math
from functools import lru_cache
from itertools import pairwise

import numpy as np

from ...model.shape.sheet import Sheet
from ...model.units import Mm, Radian
from ..drawing.curves import Arc, Edge, Line, Point, Spline, end_of, spline_through, start_of

SHORTEST: Mm = 1e-9
SAMPLES = 12
CHORD: Mm = 0.3
"""Least number of points through which a piece of changing bend is drawn, and the most that chords between them sag:
the spline through them keeps to the curve within a hundredth of that."""


# a view is drawn at every scale that a paper might carry: its places and curves are the same each time


@lru_cache(maxsize=4096)
def spot(sheet: Sheet, lift: Mm, t: Mm, height: Mm) -> Point:
    """Place in the section of a place along the sheet, at a height above the face of the platen or form."""
    x, _, z = sheet.place(np.array([t]), np.zeros(1), height)[0].tolist()
    return x, z + lift


def upward(sheet: Sheet, t: Mm) -> Radian:
    """Direction of the sheet's normal in the section."""
    x, z = sheet.profile.normals(np.array([t]))[0].tolist()
    return math.atan2(z, x)


def radius_at(sheet: Sheet, height: Mm, t: Mm = 0.0) -> tuple[Mm, float]:
    """Radius of the sheet at a height, and the sign of its bend: 1 over a crown, -1 in a hollow.

    The sheet must be bent there.
    """
    bend = float(sheet.profile.bend(np.array([t]))[0])
    x, z = spot(sheet, 0.0, t, height)
    return math.dist((x, z), centre_at(sheet, 0.0, t)), math.copysign(1.0, bend)


def centre_at(sheet: Sheet, lift: Mm, t: Mm = 0.0) -> Point:
    """Centre of the bend at a place of the sheet, which must be bent there."""
    place = np.array([t])
    bend = float(sheet.profile.bend(place)[0])
    x, z = (sheet.profile.points(place)[0] - sheet.profile.normals(place)[0] / bend).tolist()
    return x, z + lift


@lru_cache(maxsize=512)
def along(sheet: Sheet, lift: Mm, height: Mm, start: Mm, end: Mm) -> tuple[Edge, ...]:
    """Curve of the sheet at a height, from one place t to another on its right."""
    joints = [t for t in sheet.profile.joints().tolist() if start + SHORTEST < t < end - SHORTEST]
    places = [start, *joints, end]
    return tuple(_piece(sheet, lift, height, a, b) for a, b in pairwise(places))


def _piece(sheet: Sheet, lift: Mm, height: Mm, a: Mm, b: Mm) -> Edge:
    """Curve within one piece of the profile, or past its ends."""
    bends = sheet.profile.bend(np.linspace(a, b, 5)[1:-1])
    first, last = spot(sheet, lift, a, height), spot(sheet, lift, b, height)
    if not bends.any():
        return Line(start=first, end=last)
    if np.ptp(bends) > 1e-12 * abs(float(bends[0])):
        return _spline(sheet, lift, height, a, b)
    middle = 0.5 * (a + b)
    centre, (radius, _) = centre_at(sheet, lift, middle), radius_at(sheet, height, middle)
    start = math.atan2(first[1] - centre[1], first[0] - centre[0])
    return Arc(centre=centre, radius=radius, start=start, sweep=-float(bends[0]) * (b - a))


def _spline(sheet: Sheet, lift: Mm, height: Mm, a: Mm, b: Mm) -> Spline:
    """Spline through points that are as close as the curve needs, both ends among them."""
    stations = sheet.profile.stations(abs(height - sheet.reference), CHORD)
    t = np.union1d(stations[(stations > a) & (stations < b)], np.linspace(a, b, SAMPLES))
    # two points next to each other would only make the curve between them restless
    t = t[np.concatenate(([True], np.diff(t) > 1e-3 * (b - a)))]
    t[-1] = b
    points = sheet.place(t, np.zeros_like(t), height)[:, [0, 2]] + np.array([0.0, lift])
    return spline_through([(x, z) for x, z in points.tolist()])


def backward(edges: tuple[Edge, ...]) -> tuple[Edge, ...]:
    """Give the same curves, run through from the end."""
    return tuple(_turned(edge) for edge in reversed(edges))


def _turned(edge: Edge) -> Edge:
    match edge:
        case Line():
            return Line(start=edge.end, end=edge.start)
        case Arc():
            return Arc(centre=edge.centre, radius=edge.radius, start=edge.end, sweep=-edge.sweep)
        case Spline():
            low, high = edge.knots[0], edge.knots[-1]
            return Spline(
                poles=edge.poles[::-1],
                knots=tuple(low + high - knot for knot in reversed(edge.knots)),
                degree=edge.degree,
            )
    return edge


def ring(sheet: Sheet, lift: Mm, low: Mm, high: Mm, start: Mm, end: Mm) -> tuple[Edge, ...]:
    """Outline of a layer between two heights and two places, counter-clockwise from its lower left corner."""
    lower = along(sheet, lift, low, start, end)
    upper = backward(along(sheet, lift, high, start, end))
    right = Line(start=end_of(lower[-1]), end=start_of(upper[0]))
    left = Line(start=end_of(upper[-1]), end=start_of(lower[0]))
    return (*lower, right, *upper, left)
