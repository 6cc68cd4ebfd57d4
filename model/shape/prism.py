"""Mesh of a form: its section over a flat foot, carried straight across the width."""

import numpy as np

from ..units import Mm
from .extrusion import extruded
from .mesh import Mesh
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
    return upright_along(extruded(section, (), -0.5 * width, 0.5 * width))


def upright_along(mesh: Mesh) -> Mesh:
    """Stand a board up along the length: u is x, v is z, and w runs toward −y."""
    u, v, w = mesh.points.T
    return Mesh(points=np.column_stack((u, -w, v)), triangles=mesh.triangles, creases=mesh.creases)


def upright_across(mesh: Mesh) -> Mesh:
    """Stand a board up across the width: u is y, v is z, and w runs toward x."""
    u, v, w = mesh.points.T
    return Mesh(points=np.column_stack((w, u, v)), triangles=mesh.triangles, creases=mesh.creases)
