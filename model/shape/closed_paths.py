"""Closed paths of a drawing as an outline: one edge, and the holes within it, set around its middle.

Lines and arcs of circles stay what they are; ellipses and Bézier curves are followed by arcs within ``FINE``. Ends
that lie closer than drawing programs round to are one; corners are allowed.
"""

import math
from collections.abc import Sequence
from itertools import combinations, pairwise

import numpy as np

from ..errors import ShapeError
from .biarc import Curve, biarcs
from .crossing import crossing, is_inside, touching
from .drawn import MEETING, Drawn, DrawnArc, DrawnBezier, DrawnLine, extent
from .figures import told
from .loop import FINE, Corner, Loop, closed
from .pathed import Pathed, pathed
from .profile import Floats

ROUND = 1e-6
"""Two half axes that differ by less than this share of theirs are those of a circle."""


def outline_of(segments: Sequence[Drawn]) -> Pathed:
    """Outline that closed paths draw, in any order and direction.

    Raises
    ------
    ShapeError
        A path is open, crosses itself or another, there is none, or more than one with nothing around it; the text
        names the place.
    """
    whole = [segment for segment in segments if extent(segment) > MEETING]
    if not all(math.isfinite(number) for one in whole for number in (*one.start, *one.end)):
        raise ShapeError("it has a number that is too large")
    drawn = [closed(corner for segment in row for corner in _corners(segment)) for row in _closed_rows(whole)]
    if not drawn:
        raise ShapeError("no closed path is drawn in it")
    met = crossing(drawn)
    if met is not None:
        raise ShapeError(f"a path crosses or touches itself or another at {told(met)}")
    edge, *holes = sorted((_anticlockwise(loop) for loop in drawn), key=lambda loop: -loop.area)
    _demand_within(edge, holes)
    _demand_wood_between((edge, *holes))
    return pathed(edge, tuple(holes))


def _closed_rows(segments: list[Drawn]) -> list[list[Drawn]]:
    """Segments head to tail, one row for each closed path."""
    alone = [segment for segment in segments if math.dist(segment.start, segment.end) <= MEETING]
    rows = [[segment] for segment in alone]
    segments = [segment for segment in segments if math.dist(segment.start, segment.end) > MEETING]
    if not segments:
        return rows
    spots = np.array([spot for segment in segments for spot in (segment.start, segment.end)])
    near = np.hypot(*(spots[:, None] - spots[None]).transpose(2, 0, 1)) <= MEETING
    meeting = near.sum(axis=1)
    if (meeting > 2).any():
        raise ShapeError(f"more than two lines meet at {told(spots[int(meeting.argmax())])}")
    open_ends = np.flatnonzero(meeting == 1)
    if open_ends.size:
        raise ShapeError(
            f"a path is open: it ends at {told(spots[open_ends[0]])}; close it, or take out what is no edge"
        )
    free = set(range(len(segments)))
    while free:
        row, end = [], 2 * min(free)
        while end // 2 in free:
            free.remove(end // 2)
            segment = segments[end // 2]
            row.append(segment if end % 2 == 0 else segment.backwards())
            other = end ^ 1
            following = np.flatnonzero(near[other])
            end = int(following[following != other][0])
        rows.append(row)
    return rows


def _anticlockwise(loop: Loop) -> Loop:
    if loop.area == 0.0:
        raise ShapeError(f"a path at {told(loop.corners[0][:2])} encloses nothing")
    return loop if loop.area > 0.0 else loop.backwards()


def _corners(segment: Drawn) -> tuple[Corner, ...]:
    """Corners along one segment, its end left out."""
    match segment:
        case DrawnLine():
            return ((*segment.start, 0.0),)
        case DrawnBezier():
            return biarcs(_bezier(segment), 0.0, 1.0, FINE)
        case DrawnArc():
            return _arc(segment)


def _arc(arc: DrawnArc) -> tuple[Corner, ...]:
    """Arcs of less than a half round each; those of an ellipse are followed."""
    (a, b), (c, d) = arc.one, arc.other
    size = math.hypot(a, b)
    is_round = abs(math.hypot(c, d) - size) <= ROUND * size and abs(a * c + b * d) <= ROUND * size**2
    count = max(1, math.ceil(abs(arc.sweep) / (0.75 * math.pi)))
    step = arc.sweep / count
    if is_round:
        side = math.copysign(1.0, a * d - b * c)
        bulge = math.tan(0.25 * step) * side
        return tuple((*arc.at(arc.first + number * step), bulge) for number in range(count))
    quarter = max(1, math.ceil(abs(arc.sweep) / (0.5 * math.pi)))
    ends = np.linspace(arc.first, arc.first + arc.sweep, quarter + 1).tolist()
    return tuple(
        corner for first, last in pairwise(ends) for corner in biarcs(_ellipse(arc), first, last, FINE)
    )


def _ellipse(arc: DrawnArc) -> Curve:
    centre, one, other = np.array(arc.centre), np.array(arc.one), np.array(arc.other)
    side = math.copysign(1.0, arc.sweep)

    def curve(u: Floats) -> tuple[Floats, Floats]:
        c, s = np.cos(u)[:, None], np.sin(u)[:, None]
        return centre + c * one + s * other, _unit(side * (c * other - s * one))

    return curve


def _bezier(segment: DrawnBezier) -> Curve:
    a, b, c, d = (np.array(pole) for pole in segment.poles)
    first, last = (np.array([math.cos(angle), math.sin(angle)]) for angle in segment.headings)

    def curve(u: Floats) -> tuple[Floats, Floats]:
        v = u[:, None]
        w = 1.0 - v
        points = w**3 * a + 3.0 * w**2 * v * b + 3.0 * w * v**2 * c + v**3 * d
        ways = _unit(w**2 * (b - a) + 2.0 * w * v * (c - b) + v**2 * (d - c))
        # an end without a handle has a direction all the same
        ways[u == 0.0], ways[u == 1.0] = first, last
        return points, ways

    return curve


def _unit(ways: Floats) -> Floats:
    lengths = np.hypot(*ways.T)
    return np.asarray(ways / np.where(lengths == 0.0, 1.0, lengths)[:, None])


def _demand_within(edge: Loop, holes: Sequence[Loop]) -> None:
    """Refuse a second outline beside the first, and one within a hole."""
    for hole in holes:
        spot = hole.corners[0][:2]
        if not is_inside(edge, np.array([spot]))[0]:
            raise ShapeError(
                f"more than one outline is drawn; the largest is the panel's, another lies beside it at {told(spot)}"
            )
        for other in holes:
            if other is not hole and is_inside(other, np.array([spot]))[0]:
                raise ShapeError(f"a path lies within a hole at {told(spot)}; draw each part of its own")


def _demand_wood_between(loops: Sequence[Loop]) -> None:
    """Refuse a hole that touches the edge or another hole; round ones may do so at a place that is no corner."""
    for one, other in combinations(loops, 2):
        spot = touching(one, other, MEETING + 2.0 * FINE)
        if spot is not None:
            raise ShapeError(
                f"a hole touches the edge or another hole at {told(spot)}; leave wood between them, or draw both as one path"
            )
