"""A closed triangle mesh with the lines that a picture draws as its edges."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]
Indices = NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Mesh:
    """A closed triangle mesh and the creases drawn as its edges.

    Parameters
    ----------
    points
        ``(n, 3)`` corners, mm.
    triangles
        ``(m, 3)`` corner numbers, wound so that normals point outward.
    creases
        ``(k, 2)`` corner numbers of the lines that a picture draws.
    """

    points: Points
    triangles: Indices
    creases: Indices
