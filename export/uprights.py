"""How the corners of the parts of a bent layup stand on it: their heights above the form's face, and the normals."""

from collections.abc import Iterator

import numpy as np

from ..model.plan import Plan
from ..model.scene import Part, Scene
from ..model.shape.profile import Floats
from ..model.shape.sheet import Sheet
from ..model.units import Mm
from .page import Upright

COARSE: Mm = 10.0
"""Distance of the places on the bend from which the foot of a corner is searched for."""
STEPS = 3
"""Newton's steps from there to the foot; each squares what is left, and 10 mm are left at the most."""
ASIDE: Mm = 0.5
"""A corner farther than this beside the normal of its foot has no place on the bend."""
STEEPEST = 0.05
"""Least stretch at which a step of Newton's is taken as it is: near the centre of an arc every place is as near."""


def bent_uprights(plan: Plan, scene: Scene) -> dict[str, Upright]:
    """Heights and normals of all corners that lie on the bend, by part; the form's block and flat film stay out."""
    lying = {part.key for part in scene.parts if not part.hung}
    sheets = {layer.key: layer for layer in plan.stack.layers if layer.key in lying}
    over = [part for part in scene.parts if part.key not in sheets and not _lies_below(part)]
    return {
        part.key: _of_layer(part, sheets[part.key].height, sheets[part.key].top)
        for part in scene.parts
        if part.key in sheets
    } | dict(zip((part.key for part in over), _over(over, plan.draped), strict=True))


def _lies_below(part: Part) -> bool:
    """Whether a part stays as it is when thin sheets are drawn thicker: the lower film, and the form or its boards."""
    return part.key == "lower-film" or part.key.startswith("form")


def _of_layer(part: Part, low: Mm, high: Mm) -> Upright:
    """Corners of a layer: the lower side's come first, those of the upper side straight above them in the same order."""
    below, above = np.split(part.mesh.points, 2)
    return Upright(
        heights=np.repeat([low, high], len(below)), normals=np.tile((above - below) / (high - low), (2, 1))
    )


def _over(parts: list[Part], plan: Plan) -> Iterator[Upright]:
    """Corners of what lies over the layers, above the places of the form's face that are nearest to them."""
    if not parts:
        return
    sheet, half = plan.stack.sheet, 0.5 * plan.base.outline.length
    plane = np.concatenate([part.mesh.points[:, [0, 2]] for part in parts]) - [0.0, plan.base.lift]
    t = _nearest(plane, sheet, half)
    for _ in range(STEPS):
        beside, height = _off(plane, sheet, t)
        t = np.clip(t + beside / np.maximum(sheet.stretch(height, t), STEEPEST), -half, half)
    beside, height = _off(plane, sheet, t)
    normal = sheet.profile.normals(t)
    normals = np.column_stack((normal[:, 0], np.zeros(len(normal)), normal[:, 1]))
    # what has no place on the face straight below it, such as the flange of the bag, does not move
    heights = np.where(np.abs(beside) > ASIDE, 0.0, height)
    start = 0
    for part in parts:
        own = slice(start, start + len(part.mesh.points))
        start = own.stop
        yield Upright(heights=heights[own], normals=normals[own])


def _nearest(plane: Floats, sheet: Sheet, half: Mm) -> Floats:
    """Nearest of a few places on the form's face."""
    t = np.linspace(-half, half, int(2.0 * half / COARSE) + 2)
    spots = sheet.place(t, np.zeros_like(t), 0.0)[:, [0, 2]]
    # of the squared distance, what all spots have in common is left out
    found: Floats = t[np.argmin((spots**2).sum(axis=1) - 2.0 * plane @ spots.T, axis=1)]
    return found


def _off(plane: Floats, sheet: Sheet, t: Floats) -> tuple[Floats, Floats]:
    """How far points lie beside the places ``t`` of the form's face, along it, and above them."""
    normal = sheet.profile.normals(t)
    away = plane - sheet.place(t, np.zeros_like(t), 0.0)[:, [0, 2]]
    return away[:, 0] * normal[:, 1] - away[:, 1] * normal[:, 0], (away * normal).sum(axis=1)
