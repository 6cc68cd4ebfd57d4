"""Pieces of a profile that are no arc: ellipses, parabolas and smooth curves through points.

A course is a planar curve by a parameter u with its first and second derivative. ``CurvePiece`` walks it by arc
length: lengths come from Gauss-Legendre sums over short spans, places from Newton's method on them, and headings
straight from the derivative, so that turn and bend carry no error of integration.
"""

import itertools
import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Protocol

import numpy as np

from ..units import Mm, Radian
from .profile import Floats, Piece

SPANS = 64
"""Spans that a course is cut into; with eight nodes each a smooth curve's length is good to about 1e-12."""

NODES, WEIGHTS = np.polynomial.legendre.leggauss(8)


class Course(Protocol):
    """A planar curve by a parameter, hashable and immutable."""

    def __hash__(self) -> int:
        """Equal courses have equal hashes: tables of their lengths are kept by it."""

    @property
    def start(self) -> float:
        """Parameter of the first end."""

    @property
    def end(self) -> float:
        """Parameter of the last end, above ``start``."""

    def at(self, u: Floats) -> tuple[Floats, Floats, Floats]:
        """Points, first and second derivatives by u, each ``(n, 2)``, mm."""

    def breaks(self) -> Floats:
        """Parameters, both ends included, between which the curve is smooth."""


@dataclass(frozen=True, slots=True)
class EllipseCourse:
    """Part of an ellipse: half axes along x and z, angles of the parameter from ``start`` to ``end``."""

    half_x: Mm
    half_z: Mm
    start: Radian
    end: Radian

    def at(self, u: Floats) -> tuple[Floats, Floats, Floats]:
        """Walk the ellipse so that its crown is up: u = 0 on the left, π/2 on top."""
        axes = np.array([-self.half_x, self.half_z])
        c, s = np.cos(u), np.sin(u)
        return (
            np.column_stack((c, s)) * axes,
            np.column_stack((-s, c)) * axes,
            np.column_stack((-c, -s)) * axes,
        )

    def breaks(self) -> Floats:
        """Both ends: an ellipse is smooth."""
        return np.array([self.start, self.end])


@dataclass(frozen=True, slots=True)
class ParabolaCourse:
    """A parabola over a level chord, ``rise`` above it in the middle; u is x."""

    chord: Mm
    rise: Mm

    @property
    def start(self) -> float:
        """Left end of the chord."""
        return -0.5 * self.chord

    @property
    def end(self) -> float:
        """Right end of the chord."""
        return 0.5 * self.chord

    def at(self, u: Floats) -> tuple[Floats, Floats, Floats]:
        """Points and derivatives by x."""
        steepness = 4.0 * self.rise / self.chord**2
        ones, zeros = np.ones_like(u), np.zeros_like(u)
        return (
            np.column_stack((u, self.rise - steepness * u * u)),
            np.column_stack((ones, -2.0 * steepness * u)),
            np.column_stack((zeros, -2.0 * steepness * ones)),
        )

    def breaks(self) -> Floats:
        """Both ends: a parabola is smooth."""
        return np.array([self.start, self.end])


@dataclass(frozen=True, slots=True)
class SplineCourse:
    """A cubic spline with continuous curvature: break points and, for each span, its coefficients.

    Parameters
    ----------
    knots
        Parameters of the break points, rising.
    coefficients
        For each span the coefficients ``(x, z)`` of the powers 3, 2, 1, 0 of the parameter from its start.
    """

    knots: tuple[float, ...]
    coefficients: tuple[tuple[tuple[float, float], ...], ...]

    @property
    def start(self) -> float:
        """Parameter of the first point."""
        return self.knots[0]

    @property
    def end(self) -> float:
        """Parameter of the last point."""
        return self.knots[-1]

    def at(self, u: Floats) -> tuple[Floats, Floats, Floats]:
        """Points and derivatives by the parameter."""
        knots, powers = np.array(self.knots), np.array(self.coefficients)
        span = np.clip(np.searchsorted(knots, u, side="right") - 1, 0, len(powers) - 1)
        cubic, square, line, constant = (powers[span, power] for power in range(4))
        v = (u - knots[span])[:, None]
        return (
            ((cubic * v + square) * v + line) * v + constant,
            (3.0 * cubic * v + 2.0 * square) * v + line,
            6.0 * cubic * v + 2.0 * square,
        )

    def breaks(self) -> Floats:
        """The points that the spline goes through."""
        return np.array(self.knots)


@dataclass(frozen=True)
class CurvePiece:
    """A piece of a profile along a course."""

    course: Course

    @cached_property
    def _table(self) -> tuple[Floats, Floats]:
        """Parameters at the ends of the spans, and the arc length up to each."""
        return _lengths(self.course)

    @property
    def length(self) -> Mm:
        """Arc length."""
        return float(self._table[1][-1])

    @property
    def turn(self) -> Radian:
        """Turn of the normal from start to end, positive over a crown."""
        return float(self.turned(np.array([self.length]))[0])

    def bend(self, s: Floats) -> Floats:
        """Turn of the normal per length at ``s``."""
        _, first, second = self.course.at(self._parameter(s))
        cross = first[:, 0] * second[:, 1] - first[:, 1] * second[:, 0]
        return np.asarray(-cross / np.hypot(first[:, 0], first[:, 1]) ** 3)

    def turned(self, s: Floats) -> Floats:
        """Turn of the normal from the start to ``s``, followed past half and whole turns."""
        marks = np.array(self._table[0])
        guide = np.unwrap(self._heading(marks))
        u = self._parameter(s)
        rough = np.interp(u, marks, guide)
        heading = self._heading(u)
        # a heading is only known up to whole turns: take the one nearest to the guide
        heading += 2.0 * math.pi * np.round((rough - heading) / (2.0 * math.pi))
        return np.asarray(guide[0] - heading)

    def walk(self, s: Floats) -> Floats:
        """Points at ``s`` from the start at the origin, heading along +x."""
        points, _, _ = self.course.at(self._parameter(s))
        start, first, _ = self.course.at(np.array([self.course.start]))
        along = first[0] / np.hypot(*first[0])
        frame = np.array([[along[0], -along[1]], [along[1], along[0]]])
        return np.asarray((points - start[0]) @ frame)

    def steps(self, reach: Mm, tolerance: Mm) -> Floats:
        """Arc lengths whose chords stay within the tolerance at distance ``reach``."""
        return even_steps(self, reach, tolerance, self._table[1])

    def scaled(self, factor: float) -> "TurnedPiece":
        """Give the same length with its bend multiplied."""
        return TurnedPiece(self, factor)

    def _heading(self, u: Floats) -> Floats:
        _, first, _ = self.course.at(u)
        return np.asarray(np.arctan2(first[:, 1], first[:, 0]))

    def _parameter(self, s: Floats) -> Floats:
        """Parameters at arc lengths, by Newton's method from the table."""
        marks, lengths = self._table
        u = np.interp(s, lengths, marks)
        for _ in range(6):
            span = np.clip(np.searchsorted(marks, u, side="right") - 1, 0, len(marks) - 2)
            walked = lengths[span] + _speed_sum(self.course, marks[span], u)
            _, first, _ = self.course.at(u)
            u = np.clip(
                u - (walked - s) / np.hypot(first[:, 0], first[:, 1]), self.course.start, self.course.end
            )
        return np.asarray(u)


@dataclass(frozen=True)
class TurnedPiece:
    """A piece whose bend is that of another one, multiplied: what springback makes of it, or what makes up for it."""

    piece: Piece
    factor: float

    @property
    def length(self) -> Mm:
        """Arc length: that of the other piece."""
        return self.piece.length

    @property
    def turn(self) -> Radian:
        """Turn of the normal from start to end."""
        return self.factor * self.piece.turn

    def bend(self, s: Floats) -> Floats:
        """Turn of the normal per length at ``s``."""
        return self.factor * self.piece.bend(s)

    def turned(self, s: Floats) -> Floats:
        """Turn of the normal from the start to ``s``."""
        return self.factor * self.piece.turned(s)

    def walk(self, s: Floats) -> Floats:
        """Points at ``s``: the heading integrated along the arc."""
        marks, points = _walked(self)
        span = np.clip(np.searchsorted(marks, s, side="right") - 1, 0, len(marks) - 2)
        return np.asarray(points[span] + _heading_sum(self, marks[span], s))

    def steps(self, reach: Mm, tolerance: Mm) -> Floats:
        """Arc lengths whose chords stay within the tolerance at distance ``reach``."""
        return even_steps(self, reach, tolerance, _walked(self)[0])

    def scaled(self, factor: float) -> "TurnedPiece":
        """Give the same length with its bend multiplied once more."""
        return TurnedPiece(self.piece, self.factor * factor)


def even_steps(piece: Piece, reach: Mm, tolerance: Mm, marks: Floats) -> Floats:
    """Arc lengths of equal turn or reach, close enough that each chord sags no more than the tolerance.

    The sagitta of a chord is κ·s²/8, and the layer at the distance d is longer by 1 + κ·d: the density of the
    steps is the square root of κ·(1 + |κ|·d)²/8 over the tolerance.
    """
    fine = np.unique(np.concatenate((np.linspace(0.0, piece.length, 8 * SPANS + 1), marks)))
    bend = np.abs(piece.bend(fine))
    density = np.sqrt(bend * (1.0 + bend * reach) / (8.0 * tolerance))
    # a margin for the density's own change within a step
    grown = np.concatenate(([0.0], np.cumsum(0.5 * (density[1:] + density[:-1]) * np.diff(fine)))) * 1.1
    count = max(1, math.ceil(float(grown[-1])))
    level = np.maximum.accumulate(grown + np.linspace(0.0, 1e-9, len(grown)))
    steps = np.interp(np.linspace(0.0, float(level[-1]), count + 1), level, fine)
    steps[0], steps[-1] = 0.0, piece.length
    return np.asarray(steps)


@lru_cache(maxsize=256)
def _lengths(course: Course) -> tuple[Floats, Floats]:
    marks = _refined(course.breaks())
    spans = _speed_sum(course, marks[:-1], marks[1:])
    return marks, np.concatenate(([0.0], np.cumsum(spans)))


def _refined(breaks: Floats) -> Floats:
    """Break points with spans between them, about ``SPANS`` in all and none across a break."""
    each = max(1, math.ceil(SPANS / (len(breaks) - 1)))
    parts = [np.linspace(a, b, each + 1)[:-1] for a, b in itertools.pairwise(breaks)]
    return np.concatenate([*parts, breaks[-1:]])


def _speed_sum(course: Course, low: Floats, high: Floats) -> Floats:
    """Arc length between parameters that lie within one span each."""

    def speed(u: Floats) -> Floats:
        _, first, _ = course.at(u)
        return np.asarray(np.hypot(first[:, 0], first[:, 1])[:, None])

    return _sums(speed, low, high)[:, 0]


@lru_cache(maxsize=256)
def _walked(piece: TurnedPiece) -> tuple[Floats, Floats]:
    """Arc lengths at the ends of spans, and the points there."""
    marks = _refined(np.array([0.0, piece.length]))
    if isinstance(piece.piece, CurvePiece):
        marks = piece.piece._table[1]
    moves = _heading_sum(piece, marks[:-1], marks[1:])
    return marks, np.concatenate((np.zeros((1, 2)), np.cumsum(moves, axis=0)))


def _heading_sum(piece: Piece, low: Floats, high: Floats) -> Floats:
    """Way between arc lengths that lie within one span each."""

    def direction(s: Floats) -> Floats:
        turned = piece.turned(s)
        return np.column_stack((np.cos(turned), -np.sin(turned)))

    return _sums(direction, low, high)


def _sums(function: Callable[[Floats], Floats], low: Floats, high: Floats) -> Floats:
    """Gauss-Legendre sums ``(n, k)`` of a function with k columns between ``(n,)`` pairs of bounds."""
    middle, half = 0.5 * (high + low), 0.5 * (high - low)
    places = middle[:, None] + half[:, None] * NODES
    values = function(places.ravel()).reshape(*places.shape, -1)
    return np.asarray(half[:, None] * np.einsum("nqk,q->nk", values, WEIGHTS))


def spline_through(points: Floats) -> SplineCourse:
    """Smooth curve through points ``(n, 2)``, mm, with continuous curvature.

    The first two spans share one cubic, and so do the last two: ends as flat as a batten's would be wrong for a
    template that was cut out of the middle of a curve.

    The parameter is the length of the chords, so that it comes out the same whichever way the points are moved,
    turned or entered.
    """
    # scipy is slow to import and only such a bend needs it
    from scipy.interpolate import CubicSpline

    chords = np.hypot(*np.diff(points, axis=0).T)
    knots = np.concatenate(([0.0], np.cumsum(chords)))
    spline = CubicSpline(knots, points)
    coefficients = np.moveaxis(spline.c, 0, 1)
    return SplineCourse(
        knots=tuple(float(k) for k in spline.x),
        coefficients=tuple(tuple((float(x), float(z)) for x, z in span) for span in coefficients),
    )
