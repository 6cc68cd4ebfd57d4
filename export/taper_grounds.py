"""Surfaces of the panes of a tapered sheet at one height, the same for the layer below it and the one above."""

from dataclasses import dataclass

import numpy as np

from ..model.shape.profile import Floats
from ..model.shape.taper import TaperedSheet
from ..model.units import Mm
from .brep import Surface, plane_through
from .hermite import DEGREE
from .kernel import Curve, kernel
from .shapes import Point, circle, counts, numbers
from .taper_panes import Pane


@dataclass(frozen=True, slots=True, eq=False)
class Ground:
    """The surface of one pane at one height.

    Parameters
    ----------
    around, origin, across, zero
        Its first parameter per u and the u where that is 0; its second per w, and what that is at w = 0.
    is_up
        Whether its own normal is that of the sheet.
    is_plane
        Whether it is plane: then edges need no image on it.
    """

    surface: Surface
    around: float
    origin: Mm
    across: float
    zero: float
    is_up: bool
    is_plane: bool

    def spot(self, u: Mm, w: Mm) -> tuple[float, float]:
        """Parameters of a place."""
        return (u - self.origin) * self.around, self.zero + self.across * w


@dataclass(frozen=True, slots=True, eq=False)
class Coned:
    """A round cone of the kernel: its surface, parameters per u and per length up its slant, and its frame."""

    surface: Surface
    around: float
    slant: float
    axis: Point
    start: Point
    centre: Point
    radius: Mm


def ground(sheet: TaperedSheet, pane: Pane, height: Mm, lift: Mm, sides: tuple[Mm, Mm]) -> Ground:
    """Surface of a pane at a height; ``lift`` turns heights of the sheet into z.

    Parameters
    ----------
    sides
        Least and largest w that it has to reach.
    """
    above = height - sheet.reference
    if pane.is_flat:
        frames = sheet.frames(np.array([pane.first]))
        foot = frames.middle[0] + above * frames.normal[0] + np.array([0.0, 0.0, lift])
        return Ground(plane_through(foot.tolist(), frames.normal[0].tolist()), 1.0, 0.0, 1.0, 0.0, True, True)
    if pane.cone is not None:
        frames = sheet.frames(np.array([pane.first]))
        foot = frames.middle[0] + above * frames.normal[0]
        found = coned(sheet, pane, foot, frames.along[0], lift)
        return Ground(found.surface, found.around, pane.first, found.slant, 0.0, pane.cone.turn > 0.0, False)
    return Ground(_ruled(pane, above, lift, sides), 1.0, 0.0, 1.0, 0.0, True, False)


def coned(sheet: TaperedSheet, pane: Pane, foot: Floats, slope: Floats, lift: Mm) -> Coned:
    """Cone through a point of the first ruling of a pane and a direction there, square to the circles.

    Its second parameter is 0 at the point, and grows along the direction or against it: the kernel wants cones that open
    along their axis.
    """
    assert pane.cone is not None
    k = kernel()
    axis_x, axis_z = _axis(sheet)
    radial = foot - np.array([axis_x, foot[1], axis_z])
    radius = float(np.linalg.norm(radial))
    radial /= radius
    slant = 1.0 if float(slope @ radial) > 0.0 else -1.0
    up = slant * slope
    axis = np.array([0.0, 1.0 if up[1] > 0.0 else -1.0, 0.0])
    centre = (axis_x, float(foot[1]), axis_z + lift)
    frame = k.gp.gp_Ax3(k.gp.gp_Pnt(*centre), k.gp.gp_Dir(*axis.tolist()), k.gp.gp_Dir(*radial.tolist()))
    half_angle = float(np.arctan2(up @ radial, abs(up[1])))
    ahead = sheet.frames(np.array([pane.first])).across[0]
    way = 1.0 if float(np.cross(axis, radial) @ ahead) > 0.0 else -1.0
    return Coned(
        surface=k.Geom.Geom_ConicalSurface(frame, half_angle, radius),
        around=way * abs(pane.cone.turn) / (pane.last - pane.first),
        slant=slant,
        axis=tuple(axis.tolist()),
        start=tuple(radial.tolist()),
        centre=centre,
        radius=radius,
    )


def ring(found: Coned) -> Curve:
    """Circle of a cone where its second parameter is 0."""
    return circle(found.centre, found.axis, found.start, found.radius)


def _axis(sheet: TaperedSheet) -> tuple[Mm, Mm]:
    """Place x and z of the axis of a round cone."""
    near = sheet.near
    bend = float(near.bend(np.zeros(1))[0])
    (x, z), (nx, nz) = near.points(np.zeros(1))[0].tolist(), near.normals(np.zeros(1))[0].tolist()
    return x - nx / bend, z - nz / bend


def _ruled(pane: Pane, above: Mm, lift: Mm, sides: tuple[Mm, Mm]) -> Surface:
    """Ruled surface of a pane; its second parameter is w."""
    k = kernel()
    rows = [pane.line(w, above) + np.array([0.0, 0.0, lift]) for w in sides]
    poles = k.TColgp.TColgp_Array2OfPnt(1, len(rows[0]), 1, 2)
    for column, row in enumerate(rows, 1):
        for number, point in enumerate(row.tolist(), 1):
            poles.SetValue(number, column, k.gp.gp_Pnt(*point))
    return k.Geom.Geom_BSplineSurface(
        poles, numbers(pane.knots.tolist()), numbers(sides), counts(pane.counts), counts((2, 2)), DEGREE, 1
    )
