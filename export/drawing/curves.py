"""The curves that a drawing is made of, in mm: line, polyline, arc, circle and B-spline.

Angles are radians, counter-clockwise from the x axis. A curve has a direction, so that curves can be joined head
to tail into a boundary; an arc with a negative sweep runs clockwise.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from ...model.errors import ShapeError
from ...model.units import Mm, Radian, Ratio

Point = tuple[float, float]
"""x and y in mm."""

Array = NDArray[np.float64]
FULL_TURN: Radian = 2.0 * math.pi


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A straight line between two points."""

    start: Point
    end: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Polyline:
    """Straight lines from point to point; closed where the last point repeats the first."""

    points: tuple[Point, ...]

    def __post_init__(self) -> None:
        if len(self.points) < 2:
            raise ShapeError(f"polyline: found {len(self.points)} point; at least 2 are needed")

    @property
    def is_closed(self) -> bool:
        """Whether the last point repeats the first."""
        return self.points[0] == self.points[-1]


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc:
    """A circular arc from the angle ``start`` through the signed angle ``sweep``."""

    centre: Point
    radius: Mm
    start: Radian
    sweep: Radian

    def __post_init__(self) -> None:
        if not self.radius > 0.0:
            raise ShapeError(f"arc: found radius {self.radius} mm; it must be above 0")
        if not 0.0 < abs(self.sweep) <= FULL_TURN + 1e-12:
            raise ShapeError(f"arc: found sweep {self.sweep} rad; it must lie within one turn and not be 0")

    @property
    def end(self) -> Radian:
        """Angle of the last point."""
        return self.start + self.sweep

    def at(self, angle: Radian) -> Point:
        """Point of the arc's circle at an angle."""
        return polar(self.centre, self.radius, angle)


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle:
    """A full circle."""

    centre: Point
    radius: Mm

    def __post_init__(self) -> None:
        if not self.radius > 0.0:
            raise ShapeError(f"circle: found radius {self.radius} mm; it must be above 0")


@dataclass(frozen=True, slots=True, kw_only=True)
class Spline:
    """A clamped, non-rational B-spline of degree 1 to 3.

    Parameters
    ----------
    poles
        Control points.
    knots
        Rising knot vector with ``degree + 1`` equal knots at each end; ``len(poles) + degree + 1`` in all.
    degree
        1, 2 or 3.
    """

    poles: tuple[Point, ...]
    knots: tuple[float, ...]
    degree: int = 3

    def __post_init__(self) -> None:
        p, knots = self.degree, self.knots
        if p not in (1, 2, 3):
            raise ShapeError(f"spline: found degree {p}; allowed: 1, 2, 3")
        if len(knots) != len(self.poles) + p + 1 or len(self.poles) <= p:
            raise ShapeError(
                f"spline: found {len(self.poles)} poles and {len(knots)} knots; degree {p} needs at least {p + 1} "
                f"poles and {p + 1} knots more than poles"
            )
        if any(b < a for a, b in pairwise(knots)):
            raise ShapeError("spline: the knots fall; they must rise or stay")
        if knots[0] != knots[p] or knots[-1] != knots[-p - 1] or not knots[-1] > knots[0]:
            raise ShapeError(
                f"spline: the ends are not clamped; repeat the first and last knot {p + 1} times"
            )


Curve = Line | Polyline | Arc | Circle | Spline
Edge = Line | Polyline | Arc | Spline
"""A curve with two ends, which can be part of a boundary."""


def polar(centre: Point, radius: Mm, angle: Radian) -> Point:
    """Point at a distance and direction from a centre."""
    return centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle)


def rectangle(low: Point, high: Point) -> Polyline:
    """Outline of an upright rectangle, counter-clockwise from its lower left corner."""
    (x0, y0), (x1, y1) = low, high
    return Polyline(points=((x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0)))


def polygon(points: Sequence[Point]) -> Polyline:
    """Outline through the points; the last is joined to the first."""
    return Polyline(points=(*points, points[0]))


def spline_through(points: Sequence[Point]) -> Spline:
    """Cubic B-spline through the points, by chord length, with the not-a-knot end condition.

    Source: interpolation of a table by splines, as in any text on numerical mathematics (textbook).
    """
    from scipy.interpolate import make_interp_spline

    xy = np.asarray(points, dtype=float)
    chords = np.hypot(*np.diff(xy, axis=0).T)
    fit = make_interp_spline(np.concatenate([[0.0], np.cumsum(chords)]), xy, k=min(3, len(xy) - 1))
    poles = tuple((float(x), float(y)) for x, y in fit.c)
    return Spline(poles=poles, knots=tuple(float(knot) for knot in fit.t), degree=int(fit.k))


def start_of(edge: Edge) -> Point:
    """First point of an edge."""
    match edge:
        case Line():
            return edge.start
        case Polyline():
            return edge.points[0]
        case Arc():
            return edge.at(edge.start)
        case Spline():
            return edge.poles[0]


def end_of(edge: Edge) -> Point:
    """Last point of an edge."""
    match edge:
        case Line():
            return edge.end
        case Polyline():
            return edge.points[-1]
        case Arc():
            return edge.at(edge.end)
        case Spline():
            return edge.poles[-1]


def carried(curve: Curve, ratio: Ratio, shift: Point) -> Curve:
    """Give the same curve scaled about the origin by ``ratio`` and then moved by ``shift``."""

    def at(point: Point) -> Point:
        return ratio * point[0] + shift[0], ratio * point[1] + shift[1]

    match curve:
        case Line():
            return replace(curve, start=at(curve.start), end=at(curve.end))
        case Polyline():
            return replace(curve, points=tuple(at(point) for point in curve.points))
        case Arc() | Circle():
            return replace(curve, centre=at(curve.centre), radius=ratio * curve.radius)
        case Spline():
            return replace(curve, poles=tuple(at(pole) for pole in curve.poles))


def bezier_pieces(spline: Spline) -> list[Array]:
    """Cubic Bézier pieces of a spline, (4, 2) poles each.

    Each pole is the spline's polar form, as many times at the piece's first knot and at its last as the pole's place
    asks for, worked out by de Boor's scheme for all pieces at once.

    Source: L. Ramshaw's polar forms, as in any text on B-splines (textbook).
    """
    p = spline.degree
    poles, knots = np.asarray(spline.poles, dtype=float), np.asarray(spline.knots)
    spans = p + np.flatnonzero(np.diff(knots[p : len(poles) + 1]) > 0.0)
    first, last = knots[spans], knots[spans + 1]
    found = []
    for lasts in range(p + 1):
        inner = poles[spans[:, None] + np.arange(-p, 1)]
        for level in range(1, p + 1):
            place = (first if level <= p - lasts else last)[:, None]
            low = knots[spans[:, None] + np.arange(level - p, 1)]
            high = knots[spans[:, None] + np.arange(1, p - level + 2)]
            share = ((place - low) / (high - low))[:, :, None]
            inner = (1.0 - share) * inner[:, :-1] + share * inner[:, 1:]
        found.append(inner[:, 0])
    return [_raised(piece) for piece in np.stack(found, axis=1)]


def _raised(poles: Array) -> Array:
    """Bézier piece of any degree up to 3 as a cubic."""
    while len(poles) < 4:
        n = len(poles)
        share = (np.arange(1, n) / n)[:, None]
        poles = np.concatenate([poles[:1], share * poles[:-1] + (1 - share) * poles[1:], poles[-1:]])
    return poles


def arc_beziers(arc: Arc) -> list[Array]:
    """Cubic Bézier pieces of an arc, (4, 2) poles each, none above 22.5°.

    A piece of 22.5° leaves the circle by less than 1e-7 of the radius.
    """
    count = max(1, math.ceil(abs(arc.sweep) / (FULL_TURN / 16) - 1e-9))
    step = arc.sweep / count
    reach = 4.0 / 3.0 * math.tan(step / 4.0)
    pieces = []
    for i in range(count):
        a, b = arc.start + i * step, arc.start + (i + 1) * step
        ends = np.array([[math.cos(a), math.sin(a)], [math.cos(b), math.sin(b)]])
        turned = ends[:, ::-1] * [-1.0, 1.0] * reach
        poles = np.array([ends[0], ends[0] + turned[0], ends[1] - turned[1], ends[1]])
        pieces.append(poles * arc.radius + np.asarray(arc.centre))
    return pieces


def flattened(curve: Curve, tolerance: Mm = 0.01) -> Array:
    """Points along a curve, (n, 2), whose chords leave it by no more than ``tolerance``; ends included."""
    match curve:
        case Line():
            return np.array([curve.start, curve.end], dtype=float)
        case Polyline():
            return np.array(curve.points, dtype=float)
        case Arc() | Circle():
            start, sweep = (curve.start, curve.sweep) if isinstance(curve, Arc) else (0.0, FULL_TURN)
            step = 2.0 * math.acos(max(0.0, 1.0 - tolerance / curve.radius))
            count = max(2, math.ceil(abs(sweep) / max(step, 1e-4)))
            angles = start + np.linspace(0.0, sweep, count + 1)
            unit = np.column_stack([np.cos(angles), np.sin(angles)])
            return np.asarray(curve.centre) + curve.radius * unit
        case Spline():
            return _spline_points(curve, tolerance)


@lru_cache(maxsize=1024)
def _spline_points(spline: Spline, tolerance: Mm) -> Array:
    """Points along a spline; kept, since a drawing asks for them again with each label that looks for a place."""
    points = _sampled(np.array(bezier_pieces(spline)), tolerance)
    points.flags.writeable = False
    return points


def _sampled(poles: Array, tolerance: Mm) -> Array:
    """Points along cubic pieces ``(k, 4, 2)``, each cut into as many chords as the most bent one needs."""
    bend = float(np.abs(np.diff(poles, 2, axis=1)).sum(axis=2).max())
    count = max(1, math.ceil(math.sqrt(0.75 * bend / tolerance)))
    s = np.linspace(0.0, 1.0, count + 1)
    weights = np.column_stack(((1 - s) ** 3, 3 * (1 - s) ** 2 * s, 3 * (1 - s) * s**2, s**3))
    points: Array = np.einsum("qn,knx->kqx", weights, poles).reshape(-1, 2)
    return points


def bounds(curves: Iterable[Curve]) -> tuple[Point, Point]:
    """Lower left and upper right corner of the box around curves, good to 0.01 mm.

    Raises
    ------
    ShapeError
        There is no curve.
    """
    points = [flattened(curve) for curve in curves]
    if not points:
        raise ShapeError("bounds: found no curve; at least one is needed")
    all_points = np.concatenate(points)
    (x0, y0), (x1, y1) = all_points.min(axis=0).tolist(), all_points.max(axis=0).tolist()
    return (x0, y0), (x1, y1)
