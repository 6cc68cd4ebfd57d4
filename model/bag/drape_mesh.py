"""Meshes of the bag and of what drapes under it: upper film with its flange, lower film, soft sheets, the valve's disc."""

import math

import numpy as np

from ..shape.mesh import Indices, Mesh, Points
from ..shape.profile import Floats
from ..units import Mm, Radian
from .drape import Drape, Draped, ValveDisc

FOLD: Radian = math.radians(30.0)
"""Where the film turns by more than this at once, a picture draws an edge."""

GRID: Mm = 1e-5
"""Corners that round to one point of this grid are one."""


def upper_film_mesh(drape: Drape) -> Mesh:
    """Make the closed mesh of the upper film: what lies over the work, and the flange around it."""
    inner = np.concatenate((flange(drape, 0.0)[None], drape.inner))
    outer = np.concatenate((flange(drape, drape.thickness)[None], drape.outer))
    return _between(inner, outer)


def draped_mesh(sheet: Draped) -> Mesh:
    """Make the closed mesh of a soft sheet that drapes."""
    return _between(sheet.inner, sheet.outer)


def flange(drape: Drape, z: Mm) -> Floats:
    """Edge of the flat film as one more row ``(2 · n, 3)``: each corner of the foot goes to the nearest of its four."""
    count = drape.inner.shape[1] // 2
    corners = _corners(drape, z)
    along = (np.arange(count) >= count // 2).astype(np.int64)
    rim: Floats = corners[np.concatenate((along, 3 - along[::-1]))]
    return rim


def _between(inner: Floats, outer: Floats) -> Mesh:
    """Closed mesh between two faces that are given by their rows, both from the edge to the top."""
    count, around = inner.shape[:2]
    points, number = joined(np.concatenate((inner, outer)).reshape(-1, 3))
    below, above = number.reshape(2, count, around)
    upper, rim = _whole(_face(above)), _whole(_ring(below[0], above[0]))
    triangles = np.concatenate((upper, rim, _whole(_face(below)[:, ::-1])))
    # edges are drawn of what is seen from outside
    return Mesh(
        points=points, triangles=triangles, creases=_creases(points, triangles[: len(upper) + len(rim)])
    )


def _whole(triangles: Indices) -> Indices:
    """Triangles without those whose corners coincide."""
    a, b, c = triangles.T
    found: Indices = triangles[(a != b) & (b != c) & (c != a)]
    return found


def joined(points: Points) -> tuple[Points, Indices]:
    """Corners without those that coincide, in their order, and the number of each among them."""
    grid = np.round(points / GRID).astype(np.int64)
    # one number for three: wrapping round is part of it
    key = grid @ np.array([1, 2_097_593, 4_398_042_316_799])
    _, first, number = np.unique(key, return_index=True, return_inverse=True)
    order = np.argsort(first)
    place = np.empty_like(order)
    place[order] = np.arange(order.size)
    return points[first[order]], place[number.reshape(-1)]


def _face(rows: Indices) -> Indices:
    """Triangles of the rows of a face and of the top inside the last; they face up and outward."""
    ahead = np.roll(rows, -1, axis=1)
    a, b, c, d = (part.ravel() for part in (rows[:-1], ahead[:-1], ahead[1:], rows[1:]))
    half = rows.shape[1] // 2
    front, rear = rows[-1, :half], rows[-1, half:][::-1]
    return np.concatenate((np.column_stack((a, b, c)), np.column_stack((a, c, d)), _strip(front, rear)))


def _creases(points: Points, triangles: Indices) -> Indices:
    """Edges at which the two triangles beside them turn sharply."""
    corners = points[triangles]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    normals /= np.maximum(np.sqrt(np.einsum("ni,ni->n", normals, normals)), 1e-12)[:, None]
    edges = np.sort(triangles[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2), axis=1)
    key = edges[:, 0] * len(points) + edges[:, 1]
    order = np.argsort(key, kind="stable")
    # neighbours in the order share an edge; at the lower rim there is but one
    one, other = order[:-1], order[1:]
    is_pair = key[one] == key[other]
    one, other = one[is_pair], other[is_pair]
    turn = np.einsum("ni,ni->n", normals[one // 3], normals[other // 3])
    found: Indices = edges[one[turn < math.cos(FOLD)]]
    return found


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


def _loop(rim: Indices) -> Indices:
    return np.column_stack((rim, np.roll(rim, -1)))
