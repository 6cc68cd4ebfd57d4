"""Strokes: the smooth stretches of an outline's edge along which neither t nor w turns back."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Protocol

import numpy as np

from ..units import Mm, Radian
from .loop import NEAR, Loop
from .outline import Outline, Oval
from .profile import Floats

Motion = tuple[Floats, Floats, Floats]
"""Points ``(n, k)`` with their first and second derivatives by a parameter."""

Spot = tuple[float, float]
"""A place t and w."""

NARROW: Radian = 1e-9
"""Arcs narrower than this are not cut off."""


MANY = 24
"""Strokes of a loop from which they are taken to follow a curve."""

SMOOTH: Radian = 1e-6
"""Turn at a joint that is taken for rounding."""


class Stroke(Protocol):
    """A stretch of an edge with the parameter u, 0 at its start and 1 at its end."""

    def at(self, u: Floats) -> Motion:
        """Places t and w, ``(n, 2)``, with their first and second derivatives by u."""

    @property
    def is_straight(self) -> bool:
        """Whether it is a straight line."""

    @property
    def marks(self) -> tuple[float, ...]:
        """Parameters inside at which its second derivative jumps."""


@dataclass(frozen=True, slots=True)
class Straight:
    """A straight line."""

    start: Spot
    end: Spot

    @property
    def is_straight(self) -> bool:
        """Always."""
        return True

    @property
    def marks(self) -> tuple[float, ...]:
        """None."""
        return ()

    def at(self, u: Floats) -> Motion:
        """Places along it."""
        start, run = np.array(self.start), np.subtract(self.end, self.start)
        return start + u[:, None] * run, np.tile(run, (u.size, 1)), np.zeros((u.size, 2))


@dataclass(frozen=True, slots=True)
class Round:
    """An arc of a circle from the direction ``first`` through ``sweep``, which is positive anticlockwise."""

    centre: Spot
    radius: Mm
    first: Radian
    sweep: Radian

    @property
    def is_straight(self) -> bool:
        """Never."""
        return False

    @property
    def marks(self) -> tuple[float, ...]:
        """None."""
        return ()

    def at(self, u: Floats) -> Motion:
        """Places along it."""
        angle = self.first + u * self.sweep
        arm = self.radius * np.column_stack((np.cos(angle), np.sin(angle)))
        ahead = np.column_stack((-arm[:, 1], arm[:, 0]))
        return np.array(self.centre) + arm, self.sweep * ahead, -(self.sweep**2) * arm


@dataclass(frozen=True, slots=True)
class Elliptic:
    """A part of an ellipse or of its true offset, between two eccentric angles."""

    oval: Oval
    first: Radian
    sweep: Radian

    @property
    def is_straight(self) -> bool:
        """Never."""
        return False

    @property
    def marks(self) -> tuple[float, ...]:
        """None."""
        return ()

    def at(self, u: Floats) -> Motion:
        """Places along it; the offset goes the ellipse's own way, faster by the turn of its normal."""
        a, b = 0.5 * self.oval.axis_length, 0.5 * self.oval.axis_width
        angle = self.first + u * self.sweep
        c, s = np.cos(angle), np.sin(angle)
        ahead, inward = np.column_stack((-a * s, b * c)), np.column_stack((-a * c, -b * s))
        speed = np.hypot(*ahead.T)
        longer = 1.0 + self.oval.margin * a * b / speed**3
        change = -3.0 * self.oval.margin * a * b / speed**5 * (ahead * inward).sum(axis=1)
        first = longer[:, None] * ahead
        second = longer[:, None] * inward + change[:, None] * ahead
        return np.column_stack(self.oval.edge(angle)), self.sweep * first, self.sweep**2 * second


@dataclass(frozen=True, slots=True, eq=False)
class Chain:
    """Lines and arcs that run on into each other, walked at one speed.

    Parameters
    ----------
    links
        The lines and arcs.
    ends
        Parameter at which each ends; the last is 1.
    """

    links: tuple["Straight | Round", ...]
    ends: tuple[float, ...]

    @property
    def is_straight(self) -> bool:
        """Never."""
        return False

    @property
    def marks(self) -> tuple[float, ...]:
        """Where one goes over into the next."""
        return self.ends[:-1]

    def at(self, u: Floats) -> Motion:
        """Places along it."""
        number = np.clip(np.searchsorted(self.ends, u, side="right"), 0, len(self.links) - 1)
        found = np.zeros((3, u.size, 2))
        for index in np.unique(number).tolist():
            here = number == index
            start = self.ends[index - 1] if index else 0.0
            share = self.ends[index] - start
            places, first, second = self.links[index].at((u[here] - start) / share)
            found[:, here] = places, first / share, second / share**2
        return found[0], found[1], found[2]


def strokes(outline: Outline) -> tuple[tuple[Stroke, ...], ...]:
    """Strokes of every loop of an outline: the edge first, anticlockwise, then its holes, clockwise."""
    if isinstance(outline, Oval):
        quarter = 0.5 * math.pi
        return (tuple(Elliptic(outline, number * quarter, quarter) for number in range(4)),)
    edge, *holes = outline.loops
    return _row(edge), *(_row(hole.backwards() if hole.area > 0.0 else hole) for hole in holes)


def _row(loop: Loop) -> tuple[Stroke, ...]:
    """Strokes of a loop; the many arcs that follow a curve are as few as may be."""
    links = list(_of_loop(loop))
    if len(links) <= MANY:
        return tuple(links)
    rows: list[list[Straight | Round]] = []
    for link in links:
        if rows and _runs_on(rows[-1][-1], link):
            rows[-1].append(link)
        else:
            rows.append([link])
    # the first corner of the loop may lie within a curve
    if len(rows) > 1 and _runs_on(rows[-1][-1], rows[0][0]):
        rows[0] = rows.pop() + rows[0]
    return tuple(row[0] if len(row) == 1 else _chain(row) for row in rows)


def _chain(links: Sequence["Straight | Round"]) -> Chain:
    lengths = [float(np.hypot(*link.at(np.zeros(1))[1][0])) for link in links]
    ends = np.cumsum(lengths) / sum(lengths)
    return Chain(tuple(links), (*ends[:-1].tolist(), 1.0))


def _runs_on(one: "Straight | Round", other: "Straight | Round") -> bool:
    """Whether a stroke goes over into the next without a corner, and neither t nor w turns back."""
    _, (leaving,), _ = one.at(np.ones(1))
    _, (coming,), _ = other.at(np.zeros(1))
    turn = math.atan2(leaving[0] * coming[1] - leaving[1] * coming[0], float(leaving @ coming))
    return abs(turn) <= SMOOTH and _way(one) == _way(other)


def _way(stroke: "Straight | Round") -> tuple[float, float]:
    """Whether t and w rise, fall or stay along a stroke."""
    start, end = stroke.at(np.array([0.0, 1.0]))[0]
    t, w = np.where(np.abs(end - start) <= NEAR, 0.0, np.sign(end - start)).tolist()
    return t, w


def _of_loop(loop: Loop) -> "Iterator[Straight | Round]":
    corners = loop.corners
    for (x0, y0, bulge), (x1, y1, _) in zip(corners, (*corners[1:], corners[0]), strict=True):
        if bulge == 0.0:
            yield Straight((x0, y0), (x1, y1))
        else:
            yield from _arc((x0, y0), (x1, y1), bulge)


def _arc(start: Spot, end: Spot, bulge: float) -> Iterator[Round]:
    """Arc between two corners, cut where it runs straight along or across."""
    away = (1.0 - bulge**2) / (4.0 * bulge)
    centre = (
        0.5 * (start[0] + end[0]) - away * (end[1] - start[1]),
        0.5 * (start[1] + end[1]) + away * (end[0] - start[0]),
    )
    radius = math.dist(start, centre)
    first, sweep = math.atan2(start[1] - centre[1], start[0] - centre[0]), 4.0 * math.atan(bulge)
    low, high = sorted((first, first + sweep))
    quarter = 0.5 * math.pi
    turning = [n * quarter for n in range(math.floor(low / quarter), math.ceil(high / quarter) + 1)]
    cuts = [angle for angle in turning if low + NARROW < angle < high - NARROW]
    marks = [first, *(cuts if sweep > 0.0 else cuts[::-1]), first + sweep]
    for a, b in pairwise(marks):
        yield Round(centre, radius, a, b - a)
