"""Grain: strength and stiffness of wood at an angle to its grain."""

import math

from ..source import Source
from ..units import MPa, Radian, Ratio
from ..value import formula

HANKINSON = Source(
    "handbook", "FPL-GTR-282, Wood Handbook", "ch. 5, Hankinson-type formula for slope of grain"
)

STRENGTH_EXPONENT = 1.5
"""Exponent for tension and bending strength: the lower, safe end of the 1.5 to 2 that is published."""

STIFFNESS_EXPONENT = 2.0
"""Exponent for stiffness."""


@formula(
    "f_a",
    "strength or stiffness at an angle to the grain",
    "f_l * f_c / (f_l * abs(sin(a)) ** n + f_c * abs(cos(a)) ** n)",
    HANKINSON,
)
def at_angle(f_l: MPa, f_c: MPa, a: Radian, n: Ratio) -> MPa:
    """Strength (or modulus) in a direction that makes the angle ``a`` with the grain.

    Parameters
    ----------
    f_l, f_c
        Value along and across the grain.
    a
        Angle between the direction and the grain, 0 along, π/2 across.
    n
        Exponent of the interaction: ``STRENGTH_EXPONENT`` or ``STIFFNESS_EXPONENT``.
    """
    along, across = abs(math.cos(a)) ** n, abs(math.sin(a)) ** n
    return float(f_l * f_c / (f_l * across + f_c * along))
