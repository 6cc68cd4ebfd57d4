"""Meshes of flat boards: an edge with holes, as thick as the board.

Points lie in the board's own frame: u and v on its face, w through its thickness, right-handed.
"""

from collections.abc import Sequence

import numpy as np

from ..units import Mm
from .mesh import Indices, Mesh
from .profile import Floats


def extruded(outer: Floats, holes: Sequence[Floats], low: Mm, high: Mm) -> Mesh:
    """Closed mesh of a board.

    Parameters
    ----------
    outer
        ``(n, 2)`` corners u and v of the edge, either way round, none of them twice.
    holes
        The same of every hole.
    low, high
        Both faces of the board along w.
    """
    rings = [_wound(outer, 1.0), *(_wound(hole, -1.0) for hole in holes)]
    face = _cut(rings)
    return _between((rings, rings), (face, face), (low, high))


def lofted(near: Floats, far: Floats, holes: Sequence[Floats], low: Mm, high: Mm) -> Mesh:
    """Closed mesh of a board whose edge is another one on its other face; holes go straight through.

    Parameters
    ----------
    near, far
        ``(n, 2)`` corners u and v of the edge on the face at ``low`` and on that at ``high``, the same way round; each
        corner of one is joined to the same corner of the other.
    holes, low, high
        As in ``extruded``.
    """
    inner = [_wound(hole, -1.0) for hole in holes]
    is_turned = _wound(near, 1.0) is not near
    rings = tuple([edge[::-1] if is_turned else edge, *inner] for edge in (near, far))
    return _between((rings[0], rings[1]), (_cut(rings[0]), _cut(rings[1])), (low, high))


def _between(
    rings: tuple[Sequence[Floats], Sequence[Floats]],
    faces: tuple[Indices, Indices],
    levels: tuple[Mm, Mm],
) -> Mesh:
    """Mesh between two faces, each with its rings, its triangles and its place along w."""
    flats = [np.concatenate(one) for one in rings]
    count = len(flats[0])
    sides = [np.column_stack((flat, np.full(count, w))) for flat, w in zip(flats, levels, strict=True)]
    walls, rims, posts = [], [], []
    start = 0
    for ring in rings[0]:
        here = np.arange(start, start + len(ring))
        ahead = np.roll(here, -1)
        walls.append(np.column_stack((here, ahead, ahead + count)))
        walls.append(np.column_stack((here, ahead + count, here + count)))
        rims.append(np.column_stack((here, ahead)))
        sharp = here[sharp_corners(ring)]
        posts.append(np.column_stack((sharp, sharp + count)))
        start += len(ring)
    edges = np.concatenate(rims)
    return Mesh(
        points=np.concatenate(sides),
        triangles=np.concatenate((faces[0][:, [0, 2, 1]], faces[1] + count, *walls)),
        creases=np.concatenate((edges, edges + count, *posts)),
    )


def _wound(ring: Floats, turn: float) -> Floats:
    """Ring that runs anticlockwise (turn 1) or clockwise (−1)."""
    x, y = ring.T
    area = float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))
    return ring if area * turn > 0.0 else ring[::-1]


def _cut(rings: Sequence[Floats]) -> Indices:
    """Triangles ``(m, 3)`` between an edge and its holes, anticlockwise; no corner is added."""
    # shapely is slow to import and only pictures of forms need it
    from shapely import Polygon, constrained_delaunay_triangles

    points = np.concatenate(rings)
    number = {(float(u), float(v)): index for index, (u, v) in enumerate(points)}
    cut = [
        [number[corner] for corner in triangle.exterior.coords[:3]]
        for triangle in constrained_delaunay_triangles(Polygon(rings[0], rings[1:])).geoms
    ]
    triangles: Indices = np.array(cut, dtype=np.int64)
    a, b, c = (points[triangles[:, corner]] for corner in range(3))
    turn = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
    clockwise = turn < 0.0
    triangles[clockwise] = triangles[clockwise][:, [0, 2, 1]]
    return triangles


def sharp_corners(ring: Floats) -> Indices:
    """Corners at which a ring turns by more than twenty degrees: the edges that a picture draws."""
    before = ring - np.roll(ring, 1, axis=0)
    after = np.roll(ring, -1, axis=0) - ring
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    dot = before[:, 0] * after[:, 0] + before[:, 1] * after[:, 1]
    corners: Indices = np.flatnonzero(np.abs(np.arctan2(cross, dot)) > np.radians(20.0))
    return corners
