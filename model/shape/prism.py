"""Mesh of a form: its face over a flat foot, carried straight across the width."""

import numpy as np

from ..units import Mm
from .mesh import Indices, Mesh, Points
from .profile import Floats


def prism(face: Floats, width: Mm) -> Mesh:
    """Closed mesh between a face and the flat foot below it.

    Parameters
    ----------
    face
        ``(n, 2)`` points x and z, all above z = 0, x never falling: a face that is not undercut.
    width
        Extent across, mm, half of it on each side.
    """
    x = np.maximum.accumulate(face[:, 0])
    columns, column = np.unique(x, return_inverse=True)
    top, foot = len(face), len(columns)
    sides = [
        np.concatenate(
            (
                np.column_stack((x, np.full(top, y), face[:, 1])),
                np.column_stack((columns, np.full(foot, y), np.zeros(foot))),
            )
        )
        for y in (-0.5 * width, 0.5 * width)
    ]
    points: Points = np.concatenate(sides)
    count = top + foot
    upper, lower = np.arange(top), top + np.arange(foot)
    below = top + column
    wall = np.concatenate((_fans(upper, below), _steps(upper, below)))
    rim = np.concatenate((upper, lower[::-1]))
    ahead = np.roll(rim, -1)
    around = np.concatenate(
        (
            np.column_stack((rim, ahead, ahead + count)),
            np.column_stack((rim, ahead + count, rim + count)),
        )
    )
    triangles = np.concatenate((wall, wall[:, [0, 2, 1]] + count, around))
    edges = np.column_stack((rim, ahead))
    corners = np.array([0, top - 1, top, count - 1])
    creases = np.concatenate((edges, edges + count, np.column_stack((corners, corners + count))))
    return Mesh(points=points, triangles=triangles, creases=creases)


def _fans(upper: Indices, below: Indices) -> Indices:
    """One triangle from each step of the face down to the foot of its start."""
    return np.column_stack((upper[:-1], below[:-1], upper[1:]))


def _steps(upper: Indices, below: Indices) -> Indices:
    """The other triangle of each step; none where the face goes straight up or down."""
    moves = below[:-1] != below[1:]
    triangles: Indices = np.column_stack((upper[1:], below[:-1], below[1:]))[moves]
    return triangles
