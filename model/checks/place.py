"""Where a finding is, of a taper at one of its ends."""

import numpy as np

from ..plan import Plan
from ..units import Mm
from .rule import Place


def place_at(plan: Plan, layer: str, end: str, t: Mm) -> Place:
    """Place of a layer along the sheet: in the middle of its width, or at one end of a taper."""
    if plan.taper is None or not end:
        return Place(layer, t=t)
    states = plan.taper.states
    half = float(states.pressed.half_width(np.array([t]))[0])
    side = next(side for name, side in states.sides.items() if name == end)
    return Place(layer, t=t, w=side * half)
