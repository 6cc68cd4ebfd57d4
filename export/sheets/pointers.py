"""Leaders from a face of the bend to words, where a dimension has no room."""

import math
from collections.abc import Iterator

from ...model.plan import Plan
from ...model.units import Mm
from ..drawing.curves import polar
from ..drawing.primitives import Leader
from .cut import spot
from .faces import Face

POINTERS: tuple[Mm, ...] = (*range(15, 80, 8), *range(80, 260, 20))
ANGLES = (60, 120, 75, 105, 40, 140, 20, 160, -60, -120, -40, -140, -20, -160)
"""How far on paper from the face, and in which directions, the words of a leader are looked for."""


def pointers(plan: Plan, face: Face, text: str, unit: Mm) -> Iterator[Leader]:
    """Leaders from a face to words, the shortest first.

    Parameters
    ----------
    unit
        Length in the view of one mm on paper.
    """
    sheet, lift, half = plan.stack.sheet, plan.base.lift, 0.5 * plan.outline.length
    tips = [spot(sheet, lift, share * half, face.height) for share in (-0.8, 0.8, 0.0)]
    for reach in POINTERS:
        for tip in tips:
            for angle in ANGLES:
                elbow = polar(tip, reach * unit, math.radians(angle))
                end = elbow[0] + math.copysign(3.0 * unit, elbow[0] - tip[0]), elbow[1]
                yield Leader(points=(tip, elbow, end), text=text)
