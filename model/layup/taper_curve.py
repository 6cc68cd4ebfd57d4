"""The two curves that a taper asks for, one at each end of the width, and how they stand to each other."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from ..units import Mm
from .bend_curve import BendCurve, far_curve


@dataclass(frozen=True, slots=True, kw_only=True)
class TaperCurve:
    """Curves of a taper.

    Parameters
    ----------
    near, far
        Curves at both ends of the width.
    lift
        How much higher the chord of the far one lies.
    why_lift
        Why it is so where the file leaves it open.
    """

    near: BendCurve
    far: BendCurve
    lift: Mm
    why_lift: str

    @property
    def length(self) -> Mm:
        """Length along the curve half way between both, which is the mean of both lengths.

        Rulings join places of equal tangent direction, so that half way each short piece of the curve is the mean of
        those at both ends.
        """
        return 0.5 * (self.near.profile.length + self.far.profile.length)


def taper_curve(given: Mapping[str, Any], near: BendCurve) -> TaperCurve:
    """Curves of the taper that the given keys ask for, ``near`` being that of [bend].

    Raises
    ------
    LayupError
        The keys of [taper] give no curve, or none that can be joined with that of the bend.
    """
    far = far_curve(given, near)
    lift, why = _lift(near, far)
    return TaperCurve(near=near, far=far, lift=float(given.get("taper.lift", lift)), why_lift=why)


def _lift(near: BendCurve, far: BendCurve) -> tuple[Mm, str]:
    """Lift that is taken where none is given: that of a round cone for two arcs, else none."""
    if near.radius is None or far.radius is None:
        return 0.0, "both chords lie level with each other"
    # the middle of an arc lies below its chord by the cosine of half of its angle
    return (far.radius - near.radius) * math.cos(
        0.5 * near.angle
    ), "both arcs have one axis, as on a round cone"
