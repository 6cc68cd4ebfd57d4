"""Closed edges of flat boards: corners, joined by straight lines and true arcs."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from ..units import Mm, Mm2
from .profile import Floats, Run
from .sheet import Sheet

Corner = tuple[float, float, float]
"""x, y and the bulge of the edge that starts there: the tangent of a quarter of its sweep, positive anticlockwise,
0 for a straight line."""

LoopPoint = tuple[float, float]

FINE: Mm = 0.005
"""Chordal tolerance of edges that follow a curve which is no arc."""

NEAR: Mm = 1e-7
"""Corners closer than this are one."""


@dataclass(frozen=True, slots=True)
class Loop:
    """A closed edge; the last corner is joined to the first.

    Parameters
    ----------
    corners
        In order, none of them twice.
    """

    corners: tuple[Corner, ...]

    @property
    def area(self) -> Mm2:
        """Area inside, positive where the corners run anticlockwise."""
        points, ends, bulge = self._edges()
        straight = 0.5 * float(np.sum(points[:, 0] * ends[:, 1] - ends[:, 0] * points[:, 1]))
        sweep, radius = 4.0 * np.arctan(bulge), self._radii(points, ends, bulge)
        return straight + float(np.sum(0.5 * radius**2 * (sweep - np.sin(sweep))))

    @property
    def length(self) -> Mm:
        """Length of the whole edge."""
        points, ends, bulge = self._edges()
        chords = np.hypot(*(ends - points).T)
        sweep = 4.0 * np.arctan(np.abs(bulge))
        arcs = self._radii(points, ends, bulge) * sweep
        return float(np.sum(np.where(bulge == 0.0, chords, arcs)))

    @property
    def box(self) -> tuple[LoopPoint, LoopPoint]:
        """Lower left and upper right corner of the box around it."""
        return _box(self)

    def circle(self, number: int) -> tuple[Floats, Mm]:
        """Centre and radius of the arc that starts at a corner."""
        (x0, y0, bulge), (x1, y1, _) = self.corners[number], self.corners[(number + 1) % len(self.corners)]
        start = np.array([x0, y0])
        centre = _centre(start, np.array([x1, y1]), bulge)
        return centre, float(np.hypot(*(start - centre)))

    def flattened(self, tolerance: Mm) -> Floats:
        """Points ``(n, 2)`` along the edge whose chords stay within the tolerance; the first isn't repeated."""
        rows = []
        points, ends, bulges = self._edges()
        radii = self._radii(points, ends, bulges)
        for start, end, bulge, radius in zip(points, ends, bulges, radii, strict=True):
            if bulge == 0.0:
                rows.append(start[None])
                continue
            sweep = 4.0 * math.atan(bulge)
            step = 4.0 * math.asin(math.sqrt(min(1.0, 0.5 * tolerance / radius)))
            turn = np.linspace(0.0, sweep, max(1, math.ceil(abs(sweep) / step)) + 1)[:-1]
            centre = _centre(start, end, float(bulge))
            c, s = np.cos(turn), np.sin(turn)
            x, y = start - centre
            rows.append(centre + np.column_stack((c * x - s * y, s * x + c * y)))
        return np.concatenate(rows)

    def headings(self) -> tuple[Floats, Floats]:
        """Unit directions ``(n, 2)`` of every edge where it starts and where it ends."""
        points, ends, bulges = self._edges()
        run = ends - points
        chord = run / np.hypot(*run.T)[:, None]
        half = 2.0 * np.arctan(bulges)
        c, s = np.cos(half)[:, None], np.sin(half)[:, None]
        across = np.column_stack((-chord[:, 1], chord[:, 0]))
        return c * chord - s * across, c * chord + s * across

    def backwards(self) -> "Loop":
        """Give the same edge the other way round."""
        ahead = (*self.corners[1:], self.corners[0])
        return Loop(
            tuple((x, y, -bulge) for (_, _, bulge), (x, y, _) in zip(self.corners, ahead, strict=True))[::-1]
        )

    def mirrored(self) -> "Loop":
        """Give the edge seen from behind, turned over about x; it runs the same way round."""
        return Loop(tuple((x, -y, -bulge) for x, y, bulge in self.corners)).backwards()

    def moved(self, x: Mm, y: Mm) -> "Loop":
        """Give the same edge in another place."""
        return Loop(tuple((a + x, b + y, bulge) for a, b, bulge in self.corners))

    def _edges(self) -> tuple[Floats, Floats, Floats]:
        """Starts, ends and bulges of all edges."""
        rows = np.array(self.corners)
        return rows[:, :2], np.roll(rows[:, :2], -1, axis=0), rows[:, 2]

    @staticmethod
    def _radii(points: Floats, ends: Floats, bulge: Floats) -> Floats:
        """Radii of the arcs; 0 for straight edges."""
        chords = np.hypot(*(ends - points).T)
        size = np.where(bulge == 0.0, 1.0, np.abs(bulge))
        return np.where(bulge == 0.0, 0.0, chords * (1.0 + size**2) / (4.0 * size))


def _centre(start: Floats, end: Floats, bulge: float) -> Floats:
    """Centre of an arc from its ends and its bulge."""
    middle, run = 0.5 * (start + end), end - start
    away = (1.0 - bulge**2) / (4.0 * bulge)
    return np.asarray(middle + away * np.array([-run[1], run[0]]))


@lru_cache(maxsize=256)
def _box(loop: Loop) -> tuple[LoopPoint, LoopPoint]:
    points, ends, bulges = loop._edges()
    corners = [points]
    for start, end, bulge in zip(points, ends, bulges.tolist(), strict=True):
        if bulge != 0.0:
            corners.append(_outermost(start, end, bulge))
    every = np.concatenate(corners)
    (x0, y0), (x1, y1) = every.min(axis=0).tolist(), every.max(axis=0).tolist()
    return (x0, y0), (x1, y1)


def _outermost(start: Floats, end: Floats, bulge: float) -> Floats:
    """Points ``(n, 2)`` of an arc that lie farthest along an axis, between its ends."""
    centre = _centre(start, end, bulge)
    x, y = start - centre
    # as many quarters as the arc passes, each an angle from its start
    quarters = 0.5 * math.pi * np.arange(4.0) - math.atan2(y, x)
    passed = (math.copysign(1.0, bulge) * quarters) % (2.0 * math.pi) < 4.0 * math.atan(abs(bulge))
    angle = 0.5 * math.pi * np.flatnonzero(passed)
    return np.asarray(centre + math.hypot(x, y) * np.column_stack((np.cos(angle), np.sin(angle))))


def polygon(points: Iterable[LoopPoint]) -> Loop:
    """Loop of straight lines; corners in one place count once."""
    return closed([(float(x), float(y), 0.0) for x, y in points])


def rectangle(low: LoopPoint, high: LoopPoint) -> Loop:
    """Upright rectangle, anticlockwise from its lower left corner."""
    (x0, y0), (x1, y1) = low, high
    return polygon(((x0, y0), (x1, y0), (x1, y1), (x0, y1)))


def circle(middle: LoopPoint, diameter: Mm) -> Loop:
    """Round hole: two half circles, anticlockwise."""
    x, y = middle
    radius = 0.5 * diameter
    return Loop(((x + radius, y, 1.0), (x - radius, y, 1.0)))


def closed(corners: Iterable[Corner]) -> Loop:
    """Loop through corners; what lies in one place counts once, with the bulge of the later edge."""
    kept: list[Corner] = []
    for corner in corners:
        if kept and math.dist(kept[-1][:2], corner[:2]) <= NEAR:
            kept[-1] = corner
        else:
            kept.append(corner)
    if len(kept) > 1 and math.dist(kept[-1][:2], kept[0][:2]) <= NEAR:
        kept.pop()
    return Loop(tuple(kept))


def along(sheet: Sheet, height: Mm, half: Mm, lift: Mm) -> tuple[Corner, ...]:
    """Corners of the curve along a sheet at a height, from −half to half of its own length.

    Arcs and straight runs are exact, one edge each; every other curve is a row of chords within ``FINE``.
    The last corner has no edge of its own.
    """
    profile = sheet.profile
    joints = profile.joints()
    above = height - sheet.reference
    cuts: list[tuple[float, float]] = []
    if half > joints[-1]:
        cuts.append((-half, 0.0))
    for piece, first, last in zip(profile.pieces, joints[:-1], joints[1:], strict=True):
        start, end = max(float(first), -half), min(float(last), half)
        if end - start <= NEAR:
            continue
        if isinstance(piece, Run):
            # over a crown the edge turns clockwise; an offset past the centre of a hollow would turn it round
            cuts.append((start, math.tan(-0.25 * piece.curvature * (end - start))))
        else:
            steps = first + piece.steps(abs(above), FINE)
            inside = steps[(steps > start + NEAR) & (steps < end - NEAR)]
            cuts += [(float(t), 0.0) for t in (start, *inside)]
    if half > joints[-1]:
        cuts.append((float(joints[-1]), 0.0))
    t = np.array([place for place, _ in cuts] + [half])
    points = sheet.place(t, np.zeros_like(t), height)[:, [0, 2]] + np.array([0.0, lift])
    bulges = [bulge for _, bulge in cuts] + [0.0]
    return tuple((float(x), float(z), bulge) for (x, z), bulge in zip(points, bulges, strict=True))
