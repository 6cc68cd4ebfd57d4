"""Meshes of flat layers and plates of any outline."""

from ..units import Mm
from .extrusion import extruded
from .mesh import Mesh
from .outline import Outline
from .pathed import Pathed
from .sheet import Sheet
from .slab import slab, stations


def plate(sheet: Sheet, outline: Outline, low: Mm, high: Mm, tolerance: Mm) -> Mesh:
    """Closed mesh of what lies inside an outline, between two heights of a flat sheet."""
    if isinstance(outline, Pathed):
        edge, *holes = (loop.flattened(tolerance) for loop in outline.loops)
        return extruded(edge, holes, low - sheet.reference, high - sheet.reference)
    t, half = stations(sheet, outline, 0.0, tolerance)
    return slab(sheet, t, half, low, high)
