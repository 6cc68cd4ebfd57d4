"""How a sheet is bent on its form: at every place along it, and of a taper at both ends of its width.

Along a straight ruling the radius of a developable surface changes evenly, so that a taper is bent hardest at one of its
ends.
"""

from dataclasses import dataclass

import numpy as np

from .plan import Plan
from .shape.clearance import aside
from .shape.profile import Floats
from .units import Mm, PerMm


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Bends:
    """Bends along a sheet.

    Parameters
    ----------
    end
        ``"near"`` or ``"far"`` end of a taper; empty where the width is all alike.
    t
        Places along the sheet, close enough that nothing of the bend is missed between them.
    k
        Turn of the normal per length at each, across the rulings, on the surface that the sizes describe.
    """

    end: str
    t: Floats
    k: Floats

    def at(self, t: Mm) -> PerMm:
        """Bend at one of the places."""
        return float(self.k[int(np.abs(self.t - t).argmin())])


def bends_of(plan: Plan) -> tuple[Bends, ...]:
    """Bends of a plan on its form; one for each end of a taper."""
    if plan.taper is None:
        profile = plan.stack.sheet.profile
        t = profile.places()
        return (Bends(end="", t=t, k=profile.bend(t)),)
    states = plan.taper.states
    sheet = states.pressed
    t = sheet.places()
    half = sheet.half_width(t)
    return tuple(Bends(end=end, t=t, k=sheet.bend(t, side * half)) for end, side in states.sides.items())


def spot_of(plan: Plan, end: str, t: Mm) -> str:
    """Say where a place of a bend is: at which end of a taper, and how far aside unless it is the same all along."""
    along = "" if plan.stack.sheet.profile.is_even else aside(t)
    across = f"at the {end} end" if end else ""
    return ", ".join(part for part in (across, along) if part)
