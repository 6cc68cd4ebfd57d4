"""Mesh of a form: its section over a flat foot, carried straight across the width."""

import numpy as np

from ..units import Mm
from .mesh import Indices, Mesh, Points
from .profile import Floats


def prism(section: Floats, width: Mm) -> Mesh:
    """Closed mesh of a section swept across.

    Parameters
    ----------
    section
        ``(n, 2)`` corners x and z, clockwise as seen from the front, none of them twice.
    width
        Extent across, mm, half of it on each side.
    """
    count = len(section)
    sides = [
        np.column_stack((section[:, 0], np.full(count, y), section[:, 1]))
        for y in (-0.5 * width, 0.5 * width)
    ]
    points: Points = np.concatenate(sides)
    rim = np.arange(count)
    ahead = np.roll(rim, -1)
    around = np.concatenate(
        (np.column_stack((rim, ahead, ahead + count)), np.column_stack((rim, ahead + count, rim + count)))
    )
    front = _cut(section)
    edges = np.column_stack((rim, ahead))
    corners = _corners(section)
    return Mesh(
        points=points,
        triangles=np.concatenate((front, front[:, [0, 2, 1]] + count, around)),
        creases=np.concatenate((edges, edges + count, np.column_stack((corners, corners + count)))),
    )


def _cut(section: Floats) -> Indices:
    """Triangles ``(m, 3)`` of a section, wound so that they face the front; no corner is added."""
    # shapely is slow to import and only pictures of forms need it
    from shapely import Polygon, constrained_delaunay_triangles

    number = {(float(x), float(z)): index for index, (x, z) in enumerate(section)}
    cut = [
        [number[corner] for corner in triangle.exterior.coords[:3]]
        for triangle in constrained_delaunay_triangles(Polygon(section)).geoms
    ]
    triangles: Indices = np.array(cut, dtype=np.int64)
    a, b, c = (section[triangles[:, corner]] for corner in range(3))
    turn = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
    # seen from the front x runs right and z up: counterclockwise there faces the front
    clockwise = turn < 0.0
    triangles[clockwise] = triangles[clockwise][:, [0, 2, 1]]
    return triangles


def _corners(section: Floats) -> Indices:
    """Corners at which the section turns by more than twenty degrees: the edges that a picture draws."""
    before = section - np.roll(section, 1, axis=0)
    after = np.roll(section, -1, axis=0) - section
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    dot = before[:, 0] * after[:, 0] + before[:, 1] * after[:, 1]
    corners: Indices = np.flatnonzero(np.abs(np.arctan2(cross, dot)) > np.radians(20.0))
    return corners
