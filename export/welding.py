"""Meshes in single precision, as mesh files hold them: closed again after rounding."""

import numpy as np
from numpy.typing import NDArray

from ..model.shape.mesh import Indices, Points

Singles = NDArray[np.float32]


def in_singles(points: Points, triangles: Indices) -> tuple[Singles, Indices]:
    """Round corners to single precision, join those that become one, and drop triangles that vanish with them.

    Parameters
    ----------
    points
        ``(n, 3)`` corners.
    triangles
        ``(m, 3)`` corner numbers.
    """
    rounded = points.astype(np.float32) + np.float32(
        0.0
    )  # adding 0 leaves no -0, which would be another corner
    corners, number = np.unique(rounded, axis=0, return_inverse=True)
    joined = number.reshape(-1)[triangles]
    a, b, c = joined.T
    whole: Indices = joined[(a != b) & (b != c) & (c != a)].astype(np.int64)
    return corners, whole
