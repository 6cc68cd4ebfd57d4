"""Meshes of the schematic bag: upper film with its flange, lower film, and the disc of the valve."""

import math

import numpy as np

from ..shape.mesh import Indices, Mesh, Points
from ..shape.profile import Floats
from ..units import Mm, Radian
from .drape import Drape, ValveDisc

FOLD: Radian = math.radians(20.0)
"""Where the film turns by more than this at once, a picture draws an edge."""


def upper_film_mesh(drape: Drape) -> Mesh:
    """Make the closed mesh of the upper film: hull, end walls and flange."""
    count = len(drape.inner)
    inner, outer = drape.inner_half, drape.outer_half
    rows = [(drape.inner, -inner), (drape.inner, inner), (drape.outer, -outer), (drape.outer, outer)]
    walls = [np.column_stack((chain[:, 0], np.full(count, y), chain[:, 1])) for chain, y in rows]
    points: Points = np.concatenate((*walls, _corners(drape, 0.0), _corners(drape, drape.thickness)))
    in_left, in_right, out_left, out_right = np.arange(4 * count).reshape(4, count)
    below, above = np.arange(4 * count, 4 * count + 8).reshape(2, 4)
    foot = np.array([out_left[0], out_left[-1], out_right[-1], out_right[0]])
    mouth = np.array([in_left[0], in_left[-1], in_right[-1], in_right[0]])
    triangles = np.concatenate(
        (
            _strip(out_left, out_right),
            _strip(in_right, in_left),
            _fan(out_left[::-1]),
            _fan(out_right),
            _fan(in_left),
            _fan(in_right[::-1]),
            _ring(above, foot),
            _ring(mouth, below),
            _ring(below, above),
        )
    )
    folds = _folds(drape.outer)
    creases = np.concatenate(
        (
            _line(out_left),
            _line(out_right),
            np.column_stack((out_left[folds], out_right[folds])),
            _loop(foot),
            _loop(above),
            _loop(below),
            np.column_stack((below, above)),
        )
    )
    return Mesh(points=points, triangles=triangles, creases=creases)


def lower_film_mesh(drape: Drape) -> Mesh:
    """Make the closed mesh of the lower film, which lies flat under everything."""
    points: Points = np.concatenate((_corners(drape, -drape.thickness), _corners(drape, 0.0)))
    below, above = np.arange(8).reshape(2, 4)
    triangles = np.concatenate((_fan(below[::-1]), _fan(above), _ring(below, above)))
    creases = np.concatenate((_loop(below), _loop(above), np.column_stack((below, above))))
    return Mesh(points=points, triangles=triangles, creases=creases)


def valve_mesh(disc: ValveDisc, tolerance: Mm) -> Mesh:
    """Make the closed mesh of the valve's disc with a chordal tolerance."""
    count = max(12, math.ceil(math.pi / math.acos(max(0.0, 1.0 - tolerance / disc.radius))))
    around = np.linspace(0.0, 2.0 * math.pi, count, endpoint=False)
    across = np.array([0.0, 1.0, 0.0])
    along = np.cross(across, disc.axis)
    rim = disc.base + disc.radius * (np.outer(np.cos(around), along) + np.outer(np.sin(around), across))
    points: Points = np.concatenate((rim, rim + disc.height * disc.axis))
    below, above = np.arange(2 * count).reshape(2, count)
    triangles = np.concatenate((_fan(below[::-1]), _fan(above), _ring(below, above)))
    return Mesh(points=points, triangles=triangles, creases=np.concatenate((_loop(below), _loop(above))))


def _corners(drape: Drape, z: Mm) -> Floats:
    """Corners of the flat film at a height, anticlockwise from above."""
    (x0, y0), (x1, y1) = drape.low, drape.high
    return np.array([(x0, y0, z), (x1, y0, z), (x1, y1, z), (x0, y1, z)])


def _folds(chain: Floats) -> Indices:
    """Numbers of the inner corners at which a chain turns sharply."""
    run = np.diff(chain, axis=0)
    heading = np.unwrap(np.arctan2(run[:, 1], run[:, 0]))
    folds: Indices = np.flatnonzero(np.abs(np.diff(heading)) > FOLD) + 1
    return folds


def _strip(left: Indices, right: Indices) -> Indices:
    """Triangles between two rows; they face up where the rows run along x and ``right`` has the larger y."""
    a, b, c, d = left[:-1], left[1:], right[1:], right[:-1]
    return np.concatenate((np.column_stack((a, b, c)), np.column_stack((a, c, d))))


def _fan(rim: Indices) -> Indices:
    """Triangles of a convex face whose corners run anticlockwise."""
    return np.column_stack((np.full(rim.size - 2, rim[0]), rim[1:-1], rim[2:]))


def _ring(outer: Indices, inner: Indices) -> Indices:
    """Triangles between two closed rims that run the same way; they face the side on which the way is anticlockwise."""
    return _strip(np.append(outer, outer[0]), np.append(inner, inner[0]))


def _line(row: Indices) -> Indices:
    return np.column_stack((row[:-1], row[1:]))


def _loop(rim: Indices) -> Indices:
    return np.column_stack((rim, np.roll(rim, -1)))
