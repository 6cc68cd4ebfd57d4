"""Pieces of a profile that are no arc: parts of ellipses, parabolas, and splines.

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

from ..errors import ShapeError
from ..units import Mm, Radian
from .profile import Floats, Piece

SPANS = 64
"""Spans that a course is cut into; with eight nodes each a smooth curve's length is good to about 1e-12."""

NEWTON_STEPS = 6
CLOSE = 1e-7
"""Newton's method ends after so many steps, or with a step of so small a share of the whole: the next would be as its
square."""

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

    def at(self, u: Floats) -> tuple[Floats, Floats, Floats, Floats]:
        """Points, first, second and third derivatives by u, each ``(n, 2)``, mm."""

    def breaks(self) -> Floats:
        """Parameters, both ends included, between which the curve is smooth."""


@dataclass(frozen=True, slots=True)
class EllipseCourse:
    """Part of an ellipse: half axes along x and z, angles of the parameter from ``start`` to ``end``."""

    half_x: Mm
    half_z: Mm
    start: Radian
    end: Radian

    def at(self, u: Floats) -> tuple[Floats, Floats, Floats, Floats]:
        """Walk the ellipse so that its crown is up: u = 0 on the left, π/2 on top."""
        axes = np.array([-self.half_x, self.half_z])
        c, s = np.cos(u), np.sin(u)
        return (
            np.column_stack((c, s)) * axes,
            np.column_stack((-s, c)) * axes,
            np.column_stack((-c, -s)) * axes,
            np.column_stack((s, -c)) * axes,
        )

    def breaks(self) -> Floats:
        """Both ends: an ellipse is smooth."""
        return np.array([self.start, self.end])


def ellipse_over(chord: Mm, rise: Mm, angle: Radian) -> EllipseCourse:
    """Part of an upright ellipse over a level chord, ``rise`` above it in the middle, turning through ``angle``.

    With the half axes a and b and half of the parameter's range u: chord = 2·a·sin u, rise = b·(1 − cos u), and at
    its ends it turns by tan(angle/2) = b·sin u / (a·cos u).

    Raises
    ------
    ShapeError
        The angle is no more than that of the parabola over the same chord: no ellipse turns so little.
    """
    least = 2.0 * math.atan(4.0 * rise / chord)
    if angle <= least * (1.0 + 1e-9):
        raise ShapeError(
            f"{math.degrees(angle):.4g}° over a chord of {chord:g} mm and a rise of {rise:g} mm; an ellipse there turns "
            f"through more than {math.degrees(least):.4g}°, which is the angle of a parabola"
        )
    # cos u = 1 / (q − 1) with q = tan(angle/2) · chord / (2·rise), written without the pole of the tangent
    c, s = math.cos(0.5 * angle), math.sin(0.5 * angle)
    cosine = 2.0 * rise * c / (chord * s - 2.0 * rise * c)
    half = math.acos(max(-1.0, min(1.0, cosine)))
    return EllipseCourse(
        half_x=0.5 * chord / math.sin(half),
        half_z=rise / (1.0 - cosine),
        start=0.5 * math.pi - half,
        end=0.5 * math.pi + half,
    )


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

    def at(self, u: Floats) -> tuple[Floats, Floats, Floats, Floats]:
        """Points and derivatives by x."""
        steepness = 4.0 * self.rise / self.chord**2
        ones, zeros = np.ones_like(u), np.zeros_like(u)
        return (
            np.column_stack((u, self.rise - steepness * u * u)),
            np.column_stack((ones, -2.0 * steepness * u)),
            np.column_stack((zeros, -2.0 * steepness * ones)),
            np.column_stack((zeros, zeros)),
        )

    def breaks(self) -> Floats:
        """Both ends: a parabola is smooth."""
        return np.array([self.start, self.end])


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

    @cached_property
    def turn(self) -> Radian:
        """Turn of the normal from start to end, positive over a crown."""
        return float(self._guide[0] - self._guide[-1])

    @cached_property
    def _guide(self) -> Floats:
        """Heading at the ends of the spans, followed past half and whole turns."""
        return np.unwrap(self._heading(self._table[0]))

    def bend(self, s: Floats) -> Floats:
        """Turn of the normal per length at ``s``."""
        _, first, second, _ = self.course.at(self._parameter(s))
        return np.asarray(-_cross(first, second) / _size(first) ** 3)

    def rate(self, s: Floats) -> Floats:
        """Change of the bend per length at ``s``."""
        _, first, second, third = self.course.at(self._parameter(s))
        speed = _size(first)
        stretched = (first * second).sum(axis=1)
        return np.asarray(
            3.0 * _cross(first, second) * stretched / speed**6 - _cross(first, third) / speed**4
        )

    def breaks(self) -> Floats:
        """Arc lengths at the breaks of the course."""
        marks, lengths = self._table
        return np.interp(self.course.breaks(), marks, lengths)

    def turned(self, s: Floats) -> Floats:
        """Turn of the normal from the start to ``s``, followed past half and whole turns."""
        marks, guide = self._table[0], self._guide
        u = self._parameter(s)
        rough = np.interp(u, marks, guide)
        heading = self._heading(u)
        # a heading is only known up to whole turns: take the one nearest to the guide
        heading += 2.0 * math.pi * np.round((rough - heading) / (2.0 * math.pi))
        return np.asarray(guide[0] - heading)

    def walk(self, s: Floats) -> Floats:
        """Points at ``s`` from the start at the origin, heading along +x."""
        points, _, _, _ = self.course.at(self._parameter(s))
        start, first, _, _ = self.course.at(np.array([self.course.start]))
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
        _, first, _, _ = self.course.at(u)
        return np.asarray(np.arctan2(first[:, 1], first[:, 0]))

    @cached_property
    def _pace(self) -> tuple[Floats, Floats]:
        """Length of each span, and the parameter per arc length at its ends, ``(n, 2)``."""
        marks, lengths = self._table
        _, first, _, _ = self.course.at(marks)
        pace = 1.0 / _size(first)
        return np.diff(lengths), np.column_stack((pace[:-1], pace[1:]))

    def _near(self, s: Floats) -> Floats:
        """Parameters near those at arc lengths: in each span the cubic that is true at both its ends (Hermite)."""
        marks, lengths = self._table
        spans, pace = self._pace
        span = np.clip(np.searchsorted(lengths, s, side="right") - 1, 0, len(spans) - 1)
        a = np.clip((s - lengths[span]) / spans[span], 0.0, 1.0)
        b = 1.0 - a
        bulge = b * pace[span, 0] - a * pace[span, 1]
        skew = (b - a) * np.diff(marks)[span]
        return np.asarray(b * marks[span] + a * marks[span + 1] + a * b * (spans[span] * bulge - skew))

    def _parameter(self, s: Floats) -> Floats:
        """Parameters at arc lengths, by Newton's method from the table."""
        marks, lengths = self._table
        u = self._near(s)
        for _ in range(NEWTON_STEPS):
            span = np.clip(np.searchsorted(marks, u, side="right") - 1, 0, len(marks) - 2)
            walked = lengths[span] + _speed_sum(self.course, marks[span], u)
            _, first, _, _ = self.course.at(u)
            step = (walked - s) / _size(first)
            u = np.clip(u - step, self.course.start, self.course.end)
            if np.abs(step).max(initial=0.0) <= CLOSE * (self.course.end - self.course.start):
                break
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

    def rate(self, s: Floats) -> Floats:
        """Change of the bend per length at ``s``."""
        return self.factor * self.piece.rate(s)

    def breaks(self) -> Floats:
        """Those of the other piece."""
        return self.piece.breaks()

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
        _, first, _, _ = course.at(u)
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
    values = function(places.ravel())
    values = values.reshape(*places.shape, values.shape[1])
    return np.asarray(half[:, None] * np.einsum("nqk,q->nk", values, WEIGHTS))


def _cross(a: Floats, b: Floats) -> Floats:
    return np.asarray(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0])


def _size(a: Floats) -> Floats:
    return np.asarray(np.hypot(a[:, 0], a[:, 1]))
