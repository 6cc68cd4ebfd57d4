"""Warping: the curvatures that moisture gives to the plies of a plan, as laminated-plate theory has them."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..mechanics.laminate import Layers, Stiffness, layers, stiffness, turned_strain, warp
from ..plies import Ply
from ..shape.profile import Floats
from ..units import Ratio
from ..wetting import Moisture

NOTHING: Ratio = 1e-12
"""Strain of a face below which a curvature is rounding."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Warping:
    """How a panel warps, linear in the moisture content that wood has in the air of the room.

    Parameters
    ----------
    stack, plate
        The plies from below, and their stiffness.
    left
        ``(3,)`` curvatures x, y, xy in the air of the shop, left by the glue's water; show face crowned: positive.
    each
        ``(3,)`` the same for each percent of moisture.
    stretch_left, stretch_each
        Strain along the length less that through the thickness, likewise.
    """

    stack: Layers
    plate: Stiffness
    left: Floats
    each: Floats
    stretch_left: Ratio
    stretch_each: Ratio

    @property
    def is_balanced(self) -> bool:
        """Whether nothing warps the panel."""
        return not (self.left.any() or self.each.any())


def warping_of(plies: Sequence[Ply], wet: Moisture, face_is_up: bool) -> Warping:
    """Warping of plies, from below, that are as wet as that when the glue sets."""
    stack = laminate_of(plies)
    plate = stiffness(stack)
    below = np.array([ply.below_wood for ply in plies])
    changes = np.stack([wet.shop - below - wet.at_set, np.ones(len(plies))])
    shape = warp(plate, turned_strain(stack.C1 * changes, stack.C2 * changes, stack.angle))
    thickness = stack.t / stack.t.sum()
    through = changes @ (thickness * np.array([ply.C_3 for ply in plies]))
    stretch = shape.strain[:, 0] - through
    sign = 1.0 if face_is_up else -1.0
    curvature = np.where(np.abs(shape.curvature) * stack.t.sum() < NOTHING, 0.0, sign * shape.curvature)
    return Warping(
        stack=stack,
        plate=plate,
        left=curvature[0],
        each=curvature[1],
        stretch_left=float(stretch[0]),
        stretch_each=float(stretch[1]),
    )


def laminate_of(plies: Sequence[Ply]) -> Layers:
    """Plies as the layers of laminated-plate theory."""
    rows = [
        (
            ply.thickness,
            ply.E_1,
            ply.E_2,
            ply.G,
            ply.nu,
            0.0 if ply.runs_along else math.pi / 2,
            ply.C_1,
            ply.C_2,
        )
        for ply in plies
    ]
    return layers(*np.array(rows).T)
