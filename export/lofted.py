"""Bodies under a tapered sheet between two planes across the width: the whole of a form, or a board with a bevelled edge.

Their upper side is a strip of the surface that the skin or the lowest layer lies on; all else of them is plane.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from ..model.shape.loop import Loop, LoopPoint
from ..model.units import Mm
from .bores import bore
from .brep import (
    Edge,
    End,
    Walk,
    corner_at,
    face_within,
    plane_through,
    solid_of,
    straight_edge,
    turned_round,
)
from .kernel import Solid
from .loop_spans import TOWARD
from .shapes import Face
from .taper_levels import Rims, Row, Work, faces_of, level_at

FLAT: Mm = 1e-6
"""Four corners are in one plane where the last is no farther from that of the others."""


def lofted(
    work: Work,
    cuts: Rims,
    height: Mm,
    planes: tuple[Mm, Mm],
    around: Sequence[Sequence[LoopPoint]],
    holes: Sequence[Loop] = (),
) -> Solid:
    """Body under a height of the sheet between two planes across the width.

    Parameters
    ----------
    cuts
        Where the planes cut the sheet at that height.
    planes
        Places y of both, rising.
    around
        For each plane the corners of the rest of its side, from the right end of the curve to its left end.
    holes
        Holes straight through.
    """
    level = level_at(work, cuts, height)
    rings = [_ring(row, y, points) for row, y, points in zip(level.rows, planes, around, strict=True)]
    crosses = [
        level.rulings[level.rims[0][-1].last],
        *(straight_edge(a, b) for a, b in zip(*(ring.ends[1:-1] for ring in rings), strict=True)),
        level.rulings[level.rims[0][0].first],
    ]
    near = np.array(TOWARD)
    bores = [bore(hole, planes) for hole in holes]
    faces = faces_of(level, True)
    for side, normal in ((0, near), (1, -near)):
        edge = [*rings[side].walks, *level.rows[side].walks]
        loops = [edge, *(bore.rims[side] for bore in bores)]
        plane = plane_through(level.rows[side].points[0].tolist(), normal.tolist())
        # both run clockwise as seen from the near side: so does a hole that has to run the other way than the edge
        faces.append(face_within(plane, True, [turned_round(loop) if side == 0 else loop for loop in loops]))
    faces += [face for number in range(len(crosses) - 1) for face in _wall(rings, crosses, number)]
    return solid_of([*faces, *(face for bore in bores for face in bore.faces)])


@dataclass(frozen=True, slots=True, eq=False)
class _Ring:
    """The rest of a side from the right end of its curve to its left end: corners, and the walks between them."""

    ends: tuple[End, ...]
    walks: tuple[Walk, ...]


def _ring(row: Row, y: Mm, points: Sequence[LoopPoint]) -> _Ring:
    inner = [np.array([x, y, z]) for x, z in points]
    ends = (
        End(row.points[-1], row.corners[-1]),
        *(End(point, corner_at(point.tolist())) for point in inner),
        End(row.points[0], row.corners[0]),
    )
    return _Ring(ends, tuple((straight_edge(a, b), True) for a, b in pairwise(ends)))


def _wall(rings: Sequence[_Ring], crosses: Sequence[Edge], number: int) -> Iterator[Face]:
    """Face between the same stretch of both rings: one plane, or two where the four corners are in none."""
    near, far = ((ring.ends[number], ring.ends[number + 1]) for ring in rings)
    one, other = (ring.walks[number][0] for ring in rings)
    before, after = crosses[number], crosses[number + 1]
    normal = np.cross(near[1].point - near[0].point, far[1].point - near[0].point)
    off = float(normal @ (far[0].point - near[0].point)) / float(np.linalg.norm(normal))
    if abs(off) <= FLAT:
        plane = plane_through(near[0].point.tolist(), normal.tolist())
        yield face_within(plane, True, [[(one, True), (after, True), (other, False), (before, False)]])
        return
    across = straight_edge(near[0], far[1])
    plane = plane_through(near[0].point.tolist(), normal.tolist())
    yield face_within(plane, True, [[(one, True), (after, True), (across, False)]])
    normal = np.cross(far[1].point - near[0].point, far[0].point - near[0].point)
    plane = plane_through(near[0].point.tolist(), normal.tolist())
    yield face_within(plane, True, [[(across, True), (other, False), (before, False)]])
