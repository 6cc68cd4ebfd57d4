"""Round cones: what two arcs of one axis make, struck in the flat with a beam compass.

The sector angle is the same at every distance d from the surface; the sector's radii grow by d over the tangent of the
half angle.

Source: development of the right circular cone, sector angle = turn · sin(half angle), radius = slant height (textbook,
sheet-metal layout).
"""

import math
from dataclasses import dataclass

from ..units import Mm, Mm2, Radian
from .joining import SAME_TURN
from .profile import Profile, Run

SAME_AXIS: Mm = 1e-9
"""Axes closer than this are one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sector:
    """Flat pattern of a round cone: two arcs around one point, and two straight sides.

    Parameters
    ----------
    angle
        Angle between the two end rulings, between which the arcs are struck.
    near, far
        Radii of both arcs, from the point where the end rulings would meet.
    side
        How far the straight sides lie outside the end rulings; over that strip the arcs go on straight.
    """

    angle: Radian
    near: Mm
    far: Mm
    side: Mm = 0.0

    @property
    def outer(self) -> Mm:
        """Larger radius."""
        return max(self.near, self.far)

    @property
    def inner(self) -> Mm:
        """Smaller radius."""
        return min(self.near, self.far)

    @property
    def chord(self) -> Mm:
        """Straight distance between the outer corners; past 180° the pattern is longer than it."""
        return 2.0 * self._corner(self.outer)[0]

    @property
    def box(self) -> tuple[Mm, Mm]:
        """Extent across its middle ruling, and along it."""
        corners = (self._corner(self.outer), self._corner(self.inner))
        half = max(x for x, _ in corners)
        if self.angle > math.pi:
            half = max(half, self.outer)
        # past 180° the outer corners may be the lowest, below the point of the cone
        return 2.0 * half, self.outer - min(y for _, y in corners)

    @property
    def area(self) -> Mm2:
        """Area between both arcs and both straight sides."""
        deep = self.outer - self.inner
        return 0.5 * self.angle * (self.outer + self.inner) * deep + 2.0 * self.side * deep

    def _corner(self, radius: Mm) -> tuple[Mm, Mm]:
        """Corner at the end of an arc, aside and along the middle ruling from the point."""
        half = 0.5 * self.angle
        c, s = math.cos(half), math.sin(half)
        return radius * s + self.side * c, radius * c - self.side * s


@dataclass(frozen=True, slots=True, kw_only=True)
class Cone:
    """A round cone between two arcs in planes square to its axis.

    Parameters
    ----------
    turn
        Turn around the axis, positive over a crown.
    near, far
        Radii of both arcs, square to the axis, mm.
    width
        Distance between their planes, mm.
    """

    turn: Radian
    near: Mm
    far: Mm
    width: Mm

    @property
    def half_angle(self) -> Radian:
        """Angle between axis and surface."""
        return math.atan2(abs(self.far - self.near), self.width)

    def sector(self, d: Mm, margin: Mm = 0.0) -> Sector:
        """Flat pattern of what lies at the distance d above the arcs, between the same rulings.

        Moved outward by a margin, the larger radius grows by it, the smaller one shrinks, and the sides lie outside.
        """
        sine, cosine = math.sin(self.half_angle), math.cos(self.half_angle)
        grown = math.copysign(1.0, self.turn) * d * cosine / sine
        way = margin if self.far > self.near else -margin
        return Sector(
            angle=abs(self.turn) * sine,
            near=self.near / sine + grown - way,
            far=self.far / sine + grown + way,
            side=margin,
        )


def shared_lift(near: Profile, far: Profile) -> Mm:
    """Height of the far chord above the near one at which two arcs have one axis; 0 for all other profiles."""
    arcs = _arcs(near, far)
    if arcs is None:
        return 0.0
    one, other = arcs
    return (1.0 / other.curvature - 1.0 / one.curvature) * math.cos(0.5 * one.turn)


def is_round(near: Profile, far: Profile, lift: Mm) -> bool:
    """Whether two profiles are arcs of one axis: then the surface is a round cone, or a cylinder."""
    return _arcs(near, far) is not None and abs(lift - shared_lift(near, far)) <= SAME_AXIS


def cone_between(near: Profile, far: Profile, width: Mm, lift: Mm) -> Cone | None:
    """Round cone between two arcs; None where there is none, or where it is a cylinder."""
    arcs = _arcs(near, far)
    if arcs is None or not is_round(near, far, lift) or arcs[0].length == arcs[1].length:
        return None
    one, other = arcs
    return Cone(turn=one.turn, near=1.0 / abs(one.curvature), far=1.0 / abs(other.curvature), width=width)


def _arcs(near: Profile, far: Profile) -> tuple[Run, Run] | None:
    """Both arcs, where each profile is a single one and they turn equally far."""
    if len(near.pieces) != 1 or len(far.pieces) != 1:
        return None
    one, other = near.pieces[0], far.pieces[0]
    if not isinstance(one, Run) or not isinstance(other, Run) or one.curvature * other.curvature <= 0.0:
        return None
    return (one, other) if abs(one.turn - other.turn) <= SAME_TURN else None
