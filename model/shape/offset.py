"""True offsets of closed edges: every line and arc moved aside, joined again at the corners.

A corner that opens is closed by a join: sharp, as veneer is cut, or round, as a plate is eased. A corner that closes
lies where its edges meet. Where an edge would vanish or the loop would cross itself, no edge is moved exactly any
more: then chords within ``FINE`` are, and what they enclose is joined and cleaned.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from ..errors import ShapeError
from ..units import Mm
from .crossing import crossing
from .loop import FINE, NEAR, Corner, Loop, closed, polygon
from .profile import Floats

LONGEST = 4.0
"""Most that a sharp corner may reach out, in margins: corners under 29° are cut square there."""
TANGENT = 1e-7
"""Turn of a corner, rad, below which its edges run on into each other."""

Join = Callable[[Floats, Floats, Floats, Mm, float], tuple[Corner, ...]]
"""Corners that close an open corner: from its place, both directions, the margin and its turn."""


def offset(loop: Loop, margin: Mm, join: "Join | None" = None) -> Loop:
    """Give an anticlockwise edge moved outward by a margin, inward where it is negative.

    Raises
    ------
    ShapeError
        Nothing is left of it, or it falls apart.
    """
    if margin == 0.0:
        return loop
    moved = _moved(loop, margin, join or sharp)
    if moved is not None and moved.area > 0.0 and (_is_convex(moved) or crossing((moved,)) is None):
        return moved
    return _joined(loop, margin, join or sharp)


def sharp(place: Floats, before: Floats, after: Floats, margin: Mm, turn: float) -> tuple[Corner, ...]:
    """Sharp corner, cut square where it would reach too far."""
    one, other = _aside(before), _aside(after)
    c, s = math.cos(0.5 * turn), math.sin(0.5 * turn)
    if c * LONGEST >= 1.0:
        tip = place + margin * (one + other) / (2.0 * c * c)
        return ((float(tip[0]), float(tip[1]), 0.0),)
    along = abs(margin) * (LONGEST - c) / abs(s)
    cut = (place + margin * one + along * before, place + margin * other - along * after)
    return tuple((float(x), float(y), 0.0) for x, y in cut)


def round_off(place: Floats, before: Floats, after: Floats, margin: Mm, turn: float) -> tuple[Corner, ...]:
    """Arc around the corner."""
    start, end = place + margin * _aside(before), place + margin * _aside(after)
    return (
        (float(start[0]), float(start[1]), math.tan(0.25 * turn)),
        (float(end[0]), float(end[1]), 0.0),
    )


def _aside(way: Floats) -> Floats:
    """Direction to the right: outward from an edge that runs anticlockwise."""
    return np.array([way[1], -way[0]])


@dataclass(frozen=True, slots=True, kw_only=True)
class _Edge:
    """One edge moved aside: a straight line or part of a circle to stay on, with its directions at both ends.

    Parameters
    ----------
    stop
        Corner at its end, before it was moved.
    """

    bulge: float
    leaving: Floats
    coming: Floats
    start: Floats
    end: Floats
    stop: Floats
    centre: Floats
    radius: Mm

    @property
    def is_gone(self) -> bool:
        """Whether it is an arc that has shrunk to nothing."""
        return self.bulge != 0.0 and self.radius <= NEAR

    def cut(self, start: Floats, end: Floats) -> float | None:
        """Bulge of the edge between two points on it; None where nothing of it is left between them."""
        if not self.bulge:
            return 0.0 if float((end - start) @ self.leaving) > 0.0 else None
        one, other = start - self.centre, end - self.centre
        sweep = math.atan2(float(one[0] * other[1] - one[1] * other[0]), float(one @ other))
        side = math.copysign(1.0, self.bulge)
        if sweep * side < -1e-9:
            sweep += side * 2.0 * math.pi
        # a corner that closes takes some of an arc and adds none
        whole = 4.0 * math.atan(abs(self.bulge))
        return math.tan(0.25 * sweep) if abs(sweep) <= whole + 1e-6 else None


def _edge(loop: Loop, number: int, leaving: Floats, coming: Floats, margin: Mm) -> _Edge:
    (x0, y0, bulge), (x1, y1, _) = loop.corners[number], loop.corners[(number + 1) % len(loop.corners)]
    stop = np.array([x1, y1])
    centre, radius = loop.circle(number) if bulge else (np.zeros(2), 0.0)
    return _Edge(
        bulge=bulge,
        leaving=leaving,
        coming=coming,
        start=np.array([x0, y0]) + margin * _aside(leaving),
        end=stop + margin * _aside(coming),
        stop=stop,
        centre=centre,
        radius=radius + math.copysign(margin, margin * bulge) if bulge else 0.0,
    )


def _moved(loop: Loop, margin: Mm, join: Join) -> Loop | None:
    """Every edge moved exactly; None where one of the straight ones does not survive."""
    leaving, coming = loop.headings()
    edges = [_edge(loop, n, leaving[n], coming[n], margin) for n in range(len(loop.corners))]
    kept = [edge for edge in edges if not edge.is_gone]
    if len(kept) < 2:
        return None
    ends: list[tuple[Floats, Floats, tuple[Corner, ...]]] = []
    for before, after in zip(kept, (*kept[1:], kept[0]), strict=True):
        found = _corner(before, after, margin, join)
        if found is None:
            return None
        ends.append(found)
    corners: list[Corner] = []
    for number, edge in enumerate(kept):
        start, (end, _, more) = ends[number - 1][1], ends[number]
        bulge = edge.cut(start, end)
        if bulge is None:
            if float(np.hypot(*(end - start))) > NEAR:
                return None
            bulge = 0.0
        corners += [(float(start[0]), float(start[1]), bulge), (float(end[0]), float(end[1]), 0.0), *more]
    return _plain(closed(corners))


def _corner(
    before: _Edge, after: _Edge, margin: Mm, join: Join
) -> tuple[Floats, Floats, tuple[Corner, ...]] | None:
    """End of one edge, start of the next, and the corners between them; None where they do not meet."""
    one, other = before.coming, after.leaving
    turn = math.atan2(float(one[0] * other[1] - one[1] * other[0]), float(one @ other))
    is_next = float(np.hypot(*(before.stop + margin * _aside(other) - after.start))) <= NEAR
    if is_next and abs(turn) <= TANGENT:
        return before.end, before.end, ()
    if is_next and turn * margin > 0.0:
        more = join(before.stop, one, other, margin, turn)
        # a straight edge runs on to the join; the end of an arc stays a corner
        return before.end, after.start, more
    meeting = _meeting(before, after)
    return None if meeting is None else (meeting, meeting, ())


def _meeting(one: _Edge, other: _Edge) -> Floats | None:
    """Place where two moved edges meet, the one nearest to the corner that they had."""
    near = 0.5 * (one.end + other.start)
    spots: Sequence[Floats]
    if not one.bulge and not other.bulge:
        sides = np.column_stack((one.coming, -other.leaving))
        if abs(float(np.linalg.det(sides))) < 1e-12:
            return near if float(np.hypot(*(one.end - other.start))) <= NEAR else None
        spots = [one.end + np.linalg.solve(sides, other.start - one.end)[0] * one.coming]
    elif one.bulge and other.bulge:
        spots = _circles(one.centre, one.radius, other.centre, other.radius)
    else:
        line, arc = (other, one) if one.bulge else (one, other)
        spots = _line_and_circle(line.start, line.leaving, arc.centre, arc.radius)
    return min(spots, key=lambda spot: float(np.hypot(*(spot - near))), default=None)


def _line_and_circle(start: Floats, way: Floats, centre: Floats, radius: Mm) -> list[Floats]:
    foot = start + float((centre - start) @ way) * way
    half = radius**2 - float((centre - foot) @ (centre - foot))
    if half < -NEAR * radius:
        return []
    reach = math.sqrt(max(half, 0.0))
    return [foot - reach * way, foot + reach * way]


def _circles(one: Floats, radius: Mm, other: Floats, others: Mm) -> list[Floats]:
    way = other - one
    apart = float(np.hypot(*way))
    if apart <= NEAR:
        return []
    along = 0.5 * (apart + (radius**2 - others**2) / apart)
    half = radius**2 - along**2
    if half < -NEAR * radius:
        return []
    unit = way / apart
    foot, reach = one + along * unit, math.sqrt(max(half, 0.0)) * _aside(unit)
    return [foot - reach, foot + reach]


def _plain(loop: Loop) -> Loop:
    """Loop without corners at which a straight line goes straight on."""
    leaving, coming = loop.headings()
    before = np.roll(coming, 1, axis=0)
    turn = before[:, 0] * leaving[:, 1] - before[:, 1] * leaving[:, 0]
    bulges = np.array([bulge for _, _, bulge in loop.corners])
    on = (
        (bulges == 0.0)
        & (np.roll(bulges, 1) == 0.0)
        & (np.abs(turn) <= TANGENT)
        & ((before * leaving).sum(axis=1) > 0.0)
    )
    return Loop(tuple(corner for corner, is_on in zip(loop.corners, on, strict=True) if not is_on))


def _is_convex(loop: Loop) -> bool:
    """Whether it turns to the left all along, once around."""
    leaving, coming = loop.headings()
    before = np.roll(coming, 1, axis=0)
    turn = np.arctan2(
        before[:, 0] * leaving[:, 1] - before[:, 1] * leaving[:, 0], (before * leaving).sum(axis=1)
    )
    sweeps = 4.0 * np.arctan([bulge for _, _, bulge in loop.corners])
    return bool(min(turn.min(), sweeps.min()) >= -TANGENT and turn.sum() + sweeps.sum() < 2.1 * math.pi)


def _joined(loop: Loop, margin: Mm, join: Join) -> Loop:
    """Offset of chords, what they enclose joined; bays that close are filled."""
    # shapely is slow to import and only edges that vanish need it
    from shapely import Polygon

    style = "round" if join is round_off else "mitre"
    found = Polygon(loop.flattened(FINE)).buffer(margin, join_style=style, mitre_limit=LONGEST, quad_segs=64)
    if found.is_empty:
        raise ShapeError(f"nothing is left of an edge that is moved inward by {-margin:g} mm")
    if found.geom_type != "Polygon":
        raise ShapeError(
            f"an edge that is moved inward by {-margin:g} mm falls into {len(found.geoms)} pieces"
        )
    ring = found.exterior.coords[:-1]
    around = polygon(ring)
    return around if around.area > 0.0 else around.backwards()
