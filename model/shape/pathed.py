"""An outline of any shape: a closed edge of lines and true arcs, with holes within it."""

import math
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from ..errors import ShapeError
from ..units import Mm, Mm2
from .crossing import crossing, is_inside
from .loop import FINE, Loop, LoopPoint
from .offset import offset, round_off
from .profile import Floats

SHARP = math.radians(10.0)
"""Turn from which a corner is one to the hand."""
ROUNDED = 0.3
"""Radii that an outline is moved in by so that a right corner, rounded, still holds it: a hair over 1 − √½."""
TILT = 1e-9
"""Turn that tells the ends of a side apart, rad."""


LEVELS = 200
"""Lines that are tried for gaps, over the whole of an edge."""


@dataclass(frozen=True, slots=True)
class Pathed:
    """Any closed edge around the origin, and the holes within it.

    Parameters
    ----------
    edge, holes
        Anticlockwise, clear of themselves and of each other.
    length, width
        Extent along t and w: of the panel, and the margin on both sides. Only sharp tips reach past it.
    """

    edge: Loop
    holes: tuple[Loop, ...]
    length: Mm
    width: Mm

    @property
    def box(self) -> tuple[LoopPoint, LoopPoint]:
        """Lower left and upper right corner of the box around it, tips included."""
        return self.edge.box

    @property
    def area(self) -> Mm2:
        """Area inside the edge, less that of the holes."""
        return self.edge.area - sum(hole.area for hole in self.holes)

    @property
    def perimeter(self) -> Mm:
        """Length of the edge, without the holes."""
        return self.edge.length

    @property
    def loops(self) -> tuple[Loop, ...]:
        """The edge, then every hole."""
        return self.edge, *self.holes

    @property
    def whole(self) -> "Pathed":
        """Give the outline without its holes."""
        return replace(self, holes=()) if self.holes else self

    @property
    def turned_over(self) -> "Pathed":
        """Give the outline seen from behind, turned over about its length."""
        return replace(self, edge=self.edge.mirrored(), holes=tuple(hole.mirrored() for hole in self.holes))

    def grown(self, margin: Mm) -> "Pathed":
        """Outline larger by the margin everywhere, its outside corners sharp; holes shrink, those that close are gone."""
        return _grown(self, margin)

    def eased(self, radius: Mm) -> "Pathed":
        """Give the outline with its outside corners rounded to a radius.

        It stays as it is where it has no room for that, and where rounding would cut farther back than at a right
        corner: off the tip of a star, or all of a narrow tongue.
        """
        if not sharp_corners(self.edge):
            return self
        try:
            rounded = offset(offset(self.edge, -radius), radius, round_off)
            kept = offset(self.edge, -ROUNDED * radius)
        except ShapeError:
            return self
        return replace(self, edge=rounded) if is_inside(rounded, kept.flattened(FINE)).all() else self

    def rim(self, tolerance: Mm) -> tuple[Floats, Floats]:
        """Places t and half widths of the narrowest convex outline around it that is alike on both sides of the middle."""
        return _rim(self, tolerance)

    def farthest(self, angle: Floats) -> tuple[Floats, Floats]:
        """Points t, w of its rim that lie farthest in directions ``angle``, rad from t toward w, 0 to π/2."""
        t, half = self.rim(FINE)
        t, half = t[t >= 0.0], half[t >= 0.0]
        # square to a side its right end is taken
        angle = np.minimum(angle, 0.5 * math.pi - TILT)
        best = np.argmax(np.outer(np.cos(angle), t) + np.outer(np.sin(angle), half), axis=1)
        return t[best], half[best]

    def turns(self, tolerance: Mm) -> Floats:
        """Directions toward every corner of its rim: halfway between the sides that meet there."""
        t, half = self.rim(tolerance)
        right = t >= 0.0
        run, fall = np.diff(t[right], append=t[right][-1]), -np.diff(half[right], append=0.0)
        out = np.arctan2(run, fall)
        turned: Floats = 0.5 * (np.concatenate(([0.5 * math.pi], out[:-1])) + np.append(out[:-1], 0.0))
        return turned[::-1]


def pathed(edge: Loop, holes: tuple[Loop, ...] = ()) -> Pathed:
    """Outline of an anticlockwise edge and the holes within it, moved so that the middle of its box is the origin."""
    (x0, y0), (x1, y1) = edge.box
    shift = -0.5 * (x0 + x1), -0.5 * (y0 + y1)
    return Pathed(edge.moved(*shift), tuple(hole.moved(*shift) for hole in holes), x1 - x0, y1 - y0)


@lru_cache(maxsize=64)
def _grown(outline: Pathed, margin: Mm) -> Pathed:
    edge = offset(outline.edge, margin)
    holes = []
    for hole in outline.holes:
        try:
            holes.append(offset(hole, -margin))
        except ShapeError:
            if margin < 0.0:
                raise
    if margin < 0.0 and holes:
        met = crossing((edge, *holes))
        if met is not None:
            raise ShapeError(
                f"a hole meets the edge at x {met[0]:.1f} mm, y {met[1]:.1f} mm where both are moved by {-margin:g} mm"
            )
    length, width = outline.length + 2.0 * margin, outline.width + 2.0 * margin
    if min(length, width) <= 0.0:
        raise ShapeError(f"nothing is left of an outline that is moved inward by {-margin:g} mm")
    return Pathed(edge, tuple(holes), length, width)


@lru_cache(maxsize=64)
def _rim(outline: Pathed, tolerance: Mm) -> tuple[Floats, Floats]:
    # what both halves leave in their last digits is one corner, and a tip on the middle line a point
    x, y = np.unique(np.round(np.abs(outline.edge.flattened(tolerance)), 7), axis=0).T
    (x0, y0), (x1, y1) = outline.box
    far, wide = round(max(-x0, x1), 7), round(max(-y0, y1), 7)
    # a tip on the middle line is cut off by a hair, so that its two sides stay apart
    x, y = np.append(x, far), np.append(y, tolerance)
    order = np.lexsort((y, x))
    hull = [(0.0, wide)]
    for spot in zip(x[order].tolist(), y[order].tolist(), strict=True):
        while len(hull) > 1 and _turns_left(hull[-2], hull[-1], spot):
            hull.pop()
        hull.append(spot)
    right = np.array(hull)
    t = np.concatenate((-right[:0:-1, 0], right[:, 0]))
    half = np.concatenate((right[:0:-1, 1], right[:, 1]))
    for shared in (t, half):
        shared.flags.writeable = False
    return t, half


def _turns_left(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> bool:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]) >= 0.0


def sharp_corners(loop: Loop) -> int:
    """Outside corners of an edge that turn by more than the hand takes for round."""
    leaving, coming = loop.headings()
    before = np.roll(coming, 1, axis=0)
    cross = before[:, 0] * leaving[:, 1] - before[:, 1] * leaving[:, 0]
    return int((np.arctan2(cross, (before * leaving).sum(axis=1)) > SHARP).sum())


@lru_cache(maxsize=64)
def bays(loop: Loop) -> tuple[int, int]:
    """Most gaps in a line along the edge's plane, and in one across: 0 where the edge has no bay that opens that way."""
    points = loop.flattened(1.0)
    return _gaps(points), _gaps(points[:, ::-1])


def _gaps(points: Floats) -> int:
    """Most gaps in a line of equal second coordinate."""
    starts, ends = points[:, 1], np.roll(points[:, 1], -1)
    # a bay thinner than a step takes no film
    levels = np.linspace(starts.min(), starts.max(), LEVELS + 2)[1:-1, None]
    crossings = ((starts > levels) != (ends > levels)).sum(axis=1)
    return int(crossings.max()) // 2 - 1
