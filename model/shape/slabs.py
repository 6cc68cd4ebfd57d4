"""Meshes of all rectangular layers of one stack at once: what ``slab`` makes one by one, many times faster.

The sheet is walked once for all layers, and layers of one length are made together. Every layer is cut at the same
places and at the ends of the others that lie within it, so that neighbours share their edges exactly.
"""

from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from ..units import Mm
from .mesh import Indices, Mesh
from .profile import Floats
from .sheet import Sheet

LEFT_LOW, RIGHT_LOW, LEFT_HIGH, RIGHT_HIGH = range(4)
"""The four long edges of a layer, in the order of its corners: left is the side of negative w."""

STRIPS = ((LEFT_HIGH, RIGHT_HIGH), (RIGHT_LOW, LEFT_LOW), (LEFT_LOW, LEFT_HIGH), (RIGHT_HIGH, RIGHT_LOW))
"""The long faces, each between two edges: it faces outward where the first is at the left along t."""

LONG = np.array([corners for a, b in STRIPS for corners in ((a, a, b), (b, a, b))])
AHEAD = np.array([[0, 1, 0], [0, 1, 1]] * 4)
"""The two triangles of each long face between two cuts: the edge of each corner, and whether it is at the second cut."""

CAP = np.array([[LEFT_LOW, LEFT_HIGH, RIGHT_HIGH], [LEFT_LOW, RIGHT_HIGH, RIGHT_LOW]])
FAR_CAP = CAP ^ 1
"""The two triangles that close the end at the smallest t; at the other end left and right change places."""

RIM = np.array(
    [[LEFT_LOW, RIGHT_LOW], [LEFT_HIGH, RIGHT_HIGH], [LEFT_LOW, LEFT_HIGH], [RIGHT_LOW, RIGHT_HIGH]]
)
"""The edges of an end."""

SLIVER: Mm = 1e-6
"""Two places closer than this are one."""


def slabs(
    sheet: Sheet, sizes: Sequence[tuple[Mm, Mm]], bounds: Sequence[tuple[Mm, Mm]], tolerance: Mm, lift: Mm
) -> list[Mesh]:
    """Make the closed mesh of each layer.

    Parameters
    ----------
    sheet
        What the layers follow.
    sizes
        Length and width of each layer on the plane of the sheet.
    bounds
        Height of its lower and its upper side.
    tolerance
        Chordal tolerance.
    lift
        What turns heights of the sheet into z.
    """
    heights = np.array(bounds) - sheet.reference
    halves = 0.5 * np.array(sizes)
    t = _places(sheet.profile.stations(float(np.abs(heights).max()), tolerance), halves[:, 0])
    plane, normal = sheet.profile.points(t), sheet.profile.normals(t)
    plane[:, 1] += lift
    found: dict[int, Mesh] = {}
    for half, members in _by_length(sizes).items():
        start, end = np.searchsorted(t, (-half - SLIVER, half + SLIVER))
        points = _points(plane[start:end], normal[start:end], heights[members], halves[members, 1])
        triangles, creases = cut_faces(int(end - start))
        for number, corners in zip(members, points, strict=True):
            found[number] = Mesh(points=corners, triangles=triangles, creases=creases)
    return [found[number] for number in range(len(sizes))]


def _by_length(sizes: Sequence[tuple[Mm, Mm]]) -> dict[Mm, list[int]]:
    """Numbers of the layers by half of their length."""
    groups: dict[Mm, list[int]] = {}
    for number, (length, _) in enumerate(sizes):
        groups.setdefault(0.5 * length, []).append(number)
    return groups


def _places(bends: Floats, halves: Floats) -> Floats:
    """Places t where the layers are cut: the steps of the bend and the ends of every layer, each once."""
    inside = bends[np.abs(bends) < halves.max()]
    places = np.sort(np.concatenate((-halves, inside, halves)))
    found: Floats = places[np.concatenate(([True], places[1:] - places[:-1] > SLIVER))]
    return found


def _points(plane: Floats, normal: Floats, heights: Floats, halves: Floats) -> Floats:
    """Corners ``(layers, 4 · cuts, 3)`` of layers of one length, one long edge after the other."""
    points = np.zeros((len(heights), 4, len(plane), 3))
    sides = plane + heights[:, :, None, None] * normal
    points[:, :LEFT_HIGH, :, ::2] = sides[:, :1]
    points[:, LEFT_HIGH:, :, ::2] = sides[:, 1:]
    points[:, ::2, :, 1] = -halves[:, None, None]
    points[:, 1::2, :, 1] = halves[:, None, None]
    return points.reshape(len(heights), -1, 3)


@lru_cache(maxsize=64)
def cut_faces(count: int) -> tuple[Indices, Indices]:
    """Triangles and creases of a layer that is cut at ``count`` places; all layers so cut share them, read-only."""
    steps = np.arange(count - 1)[:, None, None]
    rim = RIM * count
    row = np.arange(0, 4 * count, count)
    triangles = np.concatenate(
        ((steps + (LONG * count + AHEAD)).reshape(-1, 3), CAP * count, FAR_CAP * count + (count - 1))
    )
    creases = np.concatenate(((steps + np.array((row, row + 1)).T).reshape(-1, 2), rim, rim + (count - 1)))
    for shared in (triangles, creases):
        shared.flags.writeable = False
    return triangles, creases
