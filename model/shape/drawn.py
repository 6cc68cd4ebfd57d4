"""A curve as a drawing gives it: straight lines, arcs of ellipses and Bézier curves, joined to one profile.

Segments are in the plane of the drawing, x to the right and y up, in mm. Where they meet they must have a common
tangent: a sheet is bent, not folded.
"""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from ..errors import ShapeError
from ..units import Mm, Radian
from .curve import CurvePiece, EllipseCourse
from .profile import Floats, Piece, Profile, Run
from .spline import SplineCourse

Spot = tuple[float, float]

MEETING: Mm = 0.01
"""Ends closer than this are one: drawing programs round to a thousandth."""
KINK: Radian = math.radians(0.1)
"""Largest angle at a joint that is taken for rounding."""
STRAIGHT: Mm = 1e-6
"""A Bézier curve that keeps closer to its chord than this is a straight line."""


@dataclass(frozen=True, slots=True)
class DrawnLine:
    """A straight line."""

    start: Spot
    end: Spot

    @property
    def headings(self) -> tuple[Radian, Radian]:
        """Direction at both ends."""
        angle = math.atan2(self.end[1] - self.start[1], self.end[0] - self.start[0])
        return angle, angle

    def backwards(self) -> "DrawnLine":
        """Give the same line from its end."""
        return DrawnLine(self.end, self.start)

    def piece(self) -> Piece:
        """Straight run."""
        return Run(math.dist(self.start, self.end), 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnArc:
    """Part of an ellipse, or of a circle.

    Parameters
    ----------
    centre
        Its middle.
    one, other
        Conjugate half axes: the points are ``centre + one·cos(u) + other·sin(u)``.
    first, sweep
        Where u begins, and how far it goes, of either sign, at most once around.
    """

    centre: Spot
    one: Spot
    other: Spot
    first: Radian
    sweep: Radian

    def at(self, u: Radian) -> Spot:
        """Point at a parameter."""
        c, s = math.cos(u), math.sin(u)
        return (
            self.centre[0] + self.one[0] * c + self.other[0] * s,
            self.centre[1] + self.one[1] * c + self.other[1] * s,
        )

    @property
    def start(self) -> Spot:
        """First end."""
        return self.at(self.first)

    @property
    def end(self) -> Spot:
        """Last end."""
        return self.at(self.first + self.sweep)

    @property
    def headings(self) -> tuple[Radian, Radian]:
        """Direction at both ends."""
        side = math.copysign(1.0, self.sweep)

        def heading(u: Radian) -> Radian:
            c, s = math.cos(u), math.sin(u)
            return math.atan2(
                side * (self.other[1] * c - self.one[1] * s), side * (self.other[0] * c - self.one[0] * s)
            )

        return heading(self.first), heading(self.first + self.sweep)

    def backwards(self) -> "DrawnArc":
        """Give the same arc from its end."""
        return replace(self, first=self.first + self.sweep, sweep=-self.sweep)

    def piece(self) -> Piece:
        """Arc of a circle, or part of an ellipse; what is drawn clockwise is a crown."""
        axes, shift, side = self._upright()
        sweep = side * self.sweep
        if abs(axes[0] - axes[1]) <= 1e-9 * axes[0]:
            return Run(axes[0] * abs(sweep), -math.copysign(1.0, sweep) / axes[0])
        first = side * self.first + shift
        # the course runs clockwise from the left; what runs the other way is its mirror image
        start = math.pi - first if sweep < 0.0 else math.pi + first
        crown = CurvePiece(EllipseCourse(axes[0], axes[1], start, start + abs(sweep)))
        return crown if sweep < 0.0 else crown.scaled(-1.0)

    def _upright(self) -> tuple[tuple[Mm, Mm], Radian, float]:
        """Half axes at right angles; its own parameter is ``side·u + shift``, anticlockwise from the first of them."""
        turn, axes, back = np.linalg.svd(np.array([self.one, self.other]).T)
        if np.linalg.det(turn) < 0.0:
            # a mirror image of both leaves the ellipse as it is, and its own parameter anticlockwise
            turn[:, 1], back[1] = -turn[:, 1], -back[1]
        side = 1.0 if np.linalg.det(back) > 0.0 else -1.0
        return (float(axes[0]), float(axes[1])), math.atan2(back[1, 0], back[0, 0]), side


@dataclass(frozen=True, slots=True)
class DrawnBezier:
    """A cubic Bézier curve by its four control points."""

    poles: tuple[Spot, Spot, Spot, Spot]

    @property
    def start(self) -> Spot:
        """First end."""
        return self.poles[0]

    @property
    def end(self) -> Spot:
        """Last end."""
        return self.poles[3]

    @property
    def headings(self) -> tuple[Radian, Radian]:
        """Direction at both ends."""
        a, b, c, d = self.poles
        first = next((pole for pole in (b, c, d) if math.dist(a, pole) > MEETING), d)
        last = next((pole for pole in (c, b, a) if math.dist(d, pole) > MEETING), a)
        return math.atan2(first[1] - a[1], first[0] - a[0]), math.atan2(d[1] - last[1], d[0] - last[0])

    def backwards(self) -> "DrawnBezier":
        """Give the same curve from its end."""
        a, b, c, d = self.poles
        return DrawnBezier((d, c, b, a))

    def piece(self) -> Piece:
        """Part of a profile along the curve.

        Raises
        ------
        ShapeError
            A handle has no length, so that the curve is bent without end there.
        """
        a, b, c, d = (np.array(pole) for pole in self.poles)
        chord = float(np.hypot(*(d - a)))
        if chord > MEETING:
            off = [abs((d - a)[0] * (pole - a)[1] - (d - a)[1] * (pole - a)[0]) / chord for pole in (b, c)]
            if max(off) <= STRAIGHT:
                return Run(chord, 0.0)
        for end, handle in ((a, b), (d, c)):
            if np.hypot(*(handle - end)) <= MEETING:
                raise ShapeError(
                    f"the curve has no handle at {_told(end)}; draw one out there, along the curve"
                )
        powers = (d - 3.0 * c + 3.0 * b - a, 3.0 * (c - 2.0 * b + a), 3.0 * (b - a), a)
        return CurvePiece(
            SplineCourse(knots=(0.0, 1.0), coefficients=(tuple((float(x), float(y)) for x, y in powers),))
        )


Drawn = DrawnLine | DrawnArc | DrawnBezier
"""One segment of a drawing."""


def profile_of(segments: Sequence[Drawn]) -> Profile:
    """Join the segments of a drawing, in any order and direction, to one profile that runs from left to right.

    Raises
    ------
    ShapeError
        They are none, or more than one curve, closed, or meet at a corner; the text names the place.
    """
    if not all(math.isfinite(number) for one in segments for number in (*one.start, *one.end, *one.headings)):
        raise ShapeError("it has a number that is too large")
    whole = [segment for segment in segments if extent(segment) > MEETING]
    if not whole:
        raise ShapeError("no curve is drawn in it")
    row = _in_order(whole)
    if row[0].start[0] > row[-1].end[0]:
        row = [segment.backwards() for segment in reversed(row)]
    for before, after in itertools.pairwise(row):
        corner = math.remainder(after.headings[0] - before.headings[1], 2.0 * math.pi)
        if abs(corner) > KINK:
            raise ShapeError(
                f"the curve has a corner of {math.degrees(abs(corner)):.1f}° at {_told(before.end)}; round it, since a "
                "sheet bends and does not fold"
            )
    return Profile(tuple(segment.piece() for segment in row))


def _in_order(segments: list[Drawn]) -> list[Drawn]:
    """Segments head to tail, from one open end to the other."""
    spots = np.array([spot for segment in segments for spot in (segment.start, segment.end)])
    near = np.hypot(*(spots[:, None] - spots[None]).transpose(2, 0, 1)) <= MEETING
    meeting = near.sum(axis=1)
    if (meeting > 2).any():
        raise ShapeError(
            f"more than two lines meet at {_told(spots[int(meeting.argmax())])}; leave one curve"
        )
    open_ends = np.flatnonzero(meeting == 1)
    if len(open_ends) == 0:
        raise ShapeError("the curve is closed; cut it open where the panel ends")
    if len(open_ends) > 2:
        raise ShapeError(
            f"{len(open_ends) // 2} curves are drawn, one of them ends at {_told(spots[open_ends[2]])}; leave the one that is meant"
        )
    row, end = [], int(open_ends[0])
    while True:
        segment = segments[end // 2]
        row.append(segment if end % 2 == 0 else segment.backwards())
        other = end ^ 1
        following = np.flatnonzero(near[other])
        if len(following) == 1:
            break
        end = int(following[following != other][0])
    if len(row) < len(segments):
        raise ShapeError("a closed curve is drawn beside the open one; leave the one that is meant")
    return row


def extent(segment: Drawn) -> Mm:
    """Size of a segment, so that specks can be left out."""
    if isinstance(segment, DrawnArc):
        return abs(segment.sweep) * math.hypot(*segment.one, *segment.other)
    points = segment.poles if isinstance(segment, DrawnBezier) else (segment.start, segment.end)
    return max(math.dist(points[0], point) for point in points[1:])


def _told(spot: Floats | Spot) -> str:
    # adding 0 leaves no -0
    return f"x {round(float(spot[0]), 2) + 0.0:.2f} mm, y {round(float(spot[1]), 2) + 0.0:.2f} mm"
