"""Grounds: the surface of every piece of a sheet at one height, the same for the layer below it and the one above."""

from dataclasses import dataclass

import numpy as np

from ..model.shape.profile import Floats
from .brep import Surface
from .interfaces import Interface, Stretch
from .kernel import kernel


@dataclass(frozen=True, slots=True, eq=False)
class Ground:
    """The surface of one piece of the sheet at one height.

    Parameters
    ----------
    stretch
        The curve that it carries straight across.
    across
        Its second parameter per w: 1, or −1 on a cylinder whose axis runs the other way.
    is_up
        Whether its own normal is that of the sheet.
    is_plane
        Whether it is plane: then edges need no image on it.
    """

    stretch: Stretch
    surface: Surface
    across: float
    is_up: bool
    is_plane: bool

    def spots(self, places: Floats) -> Floats:
        """Parameters ``(n, 2)`` of places t and w."""
        t, w = places.T
        return np.column_stack(((t - self.stretch.origin) * self.stretch.speed, self.across * w))

    def spot(self, t: float, w: float) -> tuple[float, float]:
        """Parameters of one place."""
        u, v = self.spots(np.array([[t, w]]))[0].tolist()
        return u, v


Grounds = tuple[Ground, ...]
"""The surfaces of all pieces of a sheet at one height, with the straight ones past its ends."""


def grounds(curve: Interface) -> Grounds:
    """Surfaces along an interface."""
    return tuple(_ground(stretch) for stretch in curve)


def _ground(stretch: Stretch) -> Ground:
    k, curve = kernel(), stretch.curve
    if isinstance(curve, k.Geom.Geom_Circle):
        ring = curve.Circ()
        surface = k.Geom.Geom_CylindricalSurface(k.gp.gp_Ax3(ring.Position()), ring.Radius())
        side = ring.Axis().Direction().Y()
        return Ground(stretch, surface, side, side > 0.0, False)
    if isinstance(curve, k.Geom.Geom_Line):
        along = curve.Lin().Direction()
        normal = k.gp.gp_Dir(-along.Z(), 0.0, along.X())
        surface = k.Geom.Geom_Plane(k.gp.gp_Ax3(curve.Lin().Location(), normal, along))
        return Ground(stretch, surface, 1.0, True, True)
    surface = k.Geom.Geom_SurfaceOfLinearExtrusion(curve, k.gp.gp_Dir(0.0, 1.0, 0.0))
    return Ground(stretch, surface, 1.0, True, False)
