"""Meshes of layers: an outline between two heights of a sheet, as a closed triangle mesh.

All layers of a stack are cut at the same stations, so that neighbours share their edges exactly.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from ..units import Mm
from .mesh import Indices, Mesh, Points
from .outline import Outline
from .profile import Floats
from .sheet import Sheet


def stations(sheet: Sheet, outline: Outline, reach: Mm, tolerance: Mm) -> tuple[Floats, Floats]:
    """Places t where a layer's mesh is cut, and the half width at each, mm.

    Parameters
    ----------
    sheet, outline
        What the layer follows and its edge.
    reach
        Largest distance of any layer from the sheet's profile, mm.
    tolerance
        Chordal tolerance, mm.
    """
    places, halves = outline.rim(tolerance)
    bends = sheet.profile.stations(reach, tolerance)
    inside = bends[(bends > places[0]) & (bends < places[-1])]
    if inside.size == 0 or sheet.profile.is_flat:
        return places, halves
    # two places closer than this are one: a sliver would only make the mesh heavier
    merged = np.union1d(places, inside)
    merged = merged[np.concatenate(([True], np.diff(merged) > 1e-9 * outline.length))]
    return merged, np.interp(merged, places, halves)


def slab(sheet: Sheet, t: Floats, half: Floats, low: Mm, high: Mm) -> Mesh:
    """Closed mesh of what lies between two heights over the stations ``t`` with half widths ``half``."""
    rows = [sheet.place(t, side * half, height) for height in (low, high) for side in (-1.0, 1.0)]
    # where the outline ends in a point, its left and right corner are one
    return between(rows, half == 0.0)


def between(rows: Sequence[Points], pointed: NDArray[np.bool_]) -> Mesh:
    """Closed mesh between the four long edges of a layer, each ``(n, 3)``: low left, low right, high left, high right.

    ``pointed`` tells at which of the n places left and right are one.
    """
    points: Points = np.concatenate(rows)
    count = pointed.size
    index = np.arange(4 * count).reshape(4, count)
    index[1, pointed], index[3, pointed] = index[0, pointed], index[2, pointed]
    low_left, low_right, high_left, high_right = index
    faces = [
        _strip(high_left, high_right),
        _strip(low_right, low_left),
        _strip(low_left, high_left),
        _strip(high_right, low_right),
        _cap(index[:, 0]),
        _cap(index[[1, 0, 3, 2], -1]),
    ]
    triangles = np.concatenate(faces)
    whole = (
        (triangles[:, 0] != triangles[:, 1])
        & (triangles[:, 1] != triangles[:, 2])
        & (triangles[:, 2] != triangles[:, 0])
    )
    return _compact(points, triangles[whole], _creases(index))


def raised(mesh: Mesh, by: Mm) -> Mesh:
    """Give a mesh moved straight up."""
    return Mesh(points=mesh.points + np.array([0.0, 0.0, by]), triangles=mesh.triangles, creases=mesh.creases)


def _strip(left: Indices, right: Indices) -> Indices:
    """Triangles of a strip between two rows, wound to face up when left and right are seen along t."""
    a, b, c, d = left[:-1], right[:-1], left[1:], right[1:]
    return np.concatenate((np.column_stack((a, c, b)), np.column_stack((b, c, d))))


def _cap(corners: Indices) -> Indices:
    """Two triangles that close one end."""
    low_left, low_right, high_left, high_right = corners
    return np.array([[low_left, high_left, high_right], [low_left, high_right, low_right]])


def _creases(index: Indices) -> Indices:
    """Lines along the four long edges and around both ends."""
    along = [np.column_stack((row[:-1], row[1:])) for row in index]
    ends = [
        np.array(
            [[low_left, low_right], [high_left, high_right], [low_left, high_left], [low_right, high_right]]
        )
        for low_left, low_right, high_left, high_right in (index[:, 0], index[:, -1])
    ]
    lines: Indices = np.concatenate([*along, *ends])
    apart: Indices = lines[lines[:, 0] != lines[:, 1]]
    return apart


def _compact(points: Points, triangles: Indices, creases: Indices) -> Mesh:
    """Drop corners that nothing uses."""
    used = np.zeros(len(points), dtype=np.int64)
    used[triangles.ravel()] = 1
    number = np.cumsum(used) - 1
    return Mesh(points=points[used == 1], triangles=number[triangles], creases=number[creases])
