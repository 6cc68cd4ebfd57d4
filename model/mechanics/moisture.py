"""Moisture: the water that wood holds in air of a given humidity, and how far it moves with it.

Moisture content is in percent of the ovendry mass, relative humidity a fraction. Movement coefficients are strain
per 1 % of moisture content.
"""

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..source import Source
from ..units import Celsius, GramPerMm2, GramPerMm3, Mm, MPa, Percent, PerPercent, Radian, Ratio
from ..value import formula

SORPTION = Source("handbook", "FPL-GTR-282, Wood Handbook", "Eq 4-5, by which Table 4-2 is computed")
SORPTION_2014 = Source("handbook", "FPL-GTR-282, Wood Handbook", "Eq 4-6")
SORPTION_2014_INVERSE = Source("handbook", "FPL-GTR-282, Wood Handbook", "Eq 4-7")
MOVEMENT = Source("handbook", "FPL-GTR-190, Wood Handbook", "Eq 13-2")
WIDE_MOVEMENT = Source("handbook", "FPL-GTR-190, Wood Handbook", "Eq 13-3")
COEFFICIENT = Source("derived", "FPL-GTR-190, Wood Handbook", "Eq 13-3 at 10 % moisture content")
RINGS = Source("textbook", "strain transformation", "radial and tangential movement turned to the face")
BALANCE = Source("textbook", "mass balance", "water over ovendry wood")
DENSITY = Source("handbook", "FPL-GTR-282, Wood Handbook", "Eq 4-14")
STRENGTH = Source("handbook", "FPL-GTR-282, Wood Handbook", "Eq 5-3")


@formula(
    "M",
    "equilibrium moisture content of wood in air (mean of taking up and giving off; ±1 %)",
    "1800 / (349 + 1.29 * T + 0.0135 * T ** 2) * ("
    "(0.805 + 0.000736 * T - 0.00000273 * T ** 2) * h / (1 - (0.805 + 0.000736 * T - 0.00000273 * T ** 2) * h)"
    " + ((6.27 - 0.00938 * T - 0.000303 * T ** 2) * (0.805 + 0.000736 * T - 0.00000273 * T ** 2) * h"
    " + 2 * (6.27 - 0.00938 * T - 0.000303 * T ** 2) * (1.91 + 0.0407 * T - 0.000293 * T ** 2)"
    " * ((0.805 + 0.000736 * T - 0.00000273 * T ** 2) * h) ** 2)"
    " / (1 + (6.27 - 0.00938 * T - 0.000303 * T ** 2) * (0.805 + 0.000736 * T - 0.00000273 * T ** 2) * h"
    " + (6.27 - 0.00938 * T - 0.000303 * T ** 2) * (1.91 + 0.0407 * T - 0.000293 * T ** 2)"
    " * ((0.805 + 0.000736 * T - 0.00000273 * T ** 2) * h) ** 2))",
    SORPTION,
)
def equilibrium_moisture(T: Celsius, h: Ratio) -> Percent:
    """Moisture content that wood comes to in air of the temperature ``T`` and relative humidity ``h``.

    Wood-based panels come to 1 to 2 % less.

    Source: FPL-GTR-282, Eq 4-5; for 0 ≤ h < 1 and about −1 to 130 °C.
    """
    return float(equilibrium_moistures(T, h))


def equilibrium_moistures(T: Celsius, h: ArrayLike) -> NDArray[np.float64]:
    """Moisture contents for an array of relative humidities, in the shape of ``h``."""
    humidity = np.asarray(h, dtype=np.float64)
    W = 349 + 1.29 * T + 0.0135 * T**2
    K = 0.805 + 0.000736 * T - 0.00000273 * T**2
    K1 = 6.27 - 0.00938 * T - 0.000303 * T**2
    K2 = 1.91 + 0.0407 * T - 0.000293 * T**2
    x = K * humidity
    hydrates = (K1 * x + 2 * K1 * K2 * x**2) / (1 + K1 * x + K1 * K2 * x**2)
    return np.asarray(1800 / W * (x / (1 - x) + hydrates))


@formula(
    "M",
    "equilibrium moisture content of wood in air (newer equation, as a second opinion)",
    "100 * (-0.000612 * (T + 273.15) * (1 - (T + 273.15) / 647.1) ** 2.43 * log(1 - h))"
    " ** (0.0577 * (T + 273.15) ** 0.430)",
    SORPTION_2014,
)
def equilibrium_moisture_2014(T: Celsius, h: Ratio) -> Percent:
    """Moisture content by the newer of the handbook's equations; differs by up to 1 % in damp, cool air.

    Source: FPL-GTR-282, Eq 4-6; for 0 < h < 1.
    """
    absolute = T + 273.15
    inner = -0.000612 * absolute * (1 - absolute / 647.1) ** 2.43 * math.log(1 - h)
    return float(100 * inner ** (0.0577 * absolute**0.430))


@formula(
    "h",
    "relative humidity that keeps wood at the moisture content (newer equation)",
    "1 - exp((M / 100) ** (1 / (0.0577 * (T + 273.15) ** 0.430))"
    " / (-0.000612 * (T + 273.15) * (1 - (T + 273.15) / 647.1) ** 2.43))",
    SORPTION_2014_INVERSE,
)
def humidity_2014(T: Celsius, M: Percent) -> Ratio:
    """Relative humidity by the newer equation, which can be turned round in closed form.

    Source: FPL-GTR-282, Eq 4-7.
    """
    absolute = T + 273.15
    exponent = 0.0577 * absolute**0.430
    factor = -0.000612 * absolute * (1 - absolute / 647.1) ** 2.43
    return float(1 - math.exp((M / 100) ** (1 / exponent) / factor))


@formula(
    "h",
    "relative humidity that keeps wood at the moisture content",
    "method: interval halving on the equation of the equilibrium moisture content",
    SORPTION,
)
def humidity_for(T: Celsius, M: Percent) -> Ratio:
    """Relative humidity at which wood comes to the moisture content ``M``; 0 or 1 where no air can bring it there.

    Source: FPL-GTR-282, Eq 4-5, inverted by halving an interval to 1e-12.
    """
    low, high = 0.0, 1.0
    if M <= 0:
        return low
    if M >= equilibrium_moisture(T=T, h=high):
        return high
    while high - low > 1e-12:
        middle = (low + high) / 2
        if equilibrium_moisture(T=T, h=middle) < M:
            low = middle
        else:
            high = middle
    return (low + high) / 2


@formula("dL", "movement of the dimension", "L * C * dM", MOVEMENT)
def movement(L: Mm, C: PerPercent, dM: Percent) -> Mm:
    """Change of the dimension ``L`` when the moisture content changes by ``dM``; for 6 to 14 %.

    Source: FPL-GTR-190, Eq 13-2.
    """
    return L * C * dM


@formula("dL", "movement of the dimension, wide range", "L * dM / (3000 / S - 30 + M)", WIDE_MOVEMENT)
def movement_wide(L: Mm, S: Percent, M: Percent, dM: Percent) -> Mm:
    """Change of the dimension ``L`` at any moisture content below 30 %.

    Parameters
    ----------
    L
        Dimension at the moisture content ``M``.
    S
        Shrinkage from green to ovendry in that direction, %.
    M
        Moisture content at the start.
    dM
        Change of the moisture content.

    Source: FPL-GTR-190, Eq 13-3.
    """
    return L * dM / (3000 / S - 30 + M)


@formula("C", "movement coefficient from the shrinkage", "1 / (3000 / S - 20)", COEFFICIENT)
def coefficient(S: Percent) -> PerPercent:
    """Movement coefficient of a wood whose green-to-ovendry shrinkage is ``S`` percent."""
    return 1 / (3000 / S - 20)


@formula("C", "movement coefficient across the face", "C_R * cos(a) ** 2 + C_T * sin(a) ** 2", RINGS)
def coefficient_at_rings(C_R: PerPercent, C_T: PerPercent, a: Radian) -> PerPercent:
    """Movement coefficient across a face whose rings stand at ``a`` from upright: 0 quarter-cut, π/2 flat-cut."""
    return C_R * math.cos(a) ** 2 + C_T * math.sin(a) ** 2


@formula("rho", "density of wood at the moisture content", "0.001 * G * (1 + M / 100)", DENSITY)
def density(G: Ratio, M: Percent) -> GramPerMm3:
    """Density from the specific gravity ``G`` (ovendry mass over volume at ``M``).

    With ``M = 0`` it gives the ovendry mass of the wood in the volume that ``G`` was measured on.
    """
    return 0.001 * G * (1 + M / 100)


@formula(
    "dM", "moisture that the layer gains from the glue's water", "100 * g * x * r / (rho_0 * t)", BALANCE
)
def moisture_from_glue(g: GramPerMm2, x: Ratio, r: Ratio, rho_0: GramPerMm3, t: Mm) -> Percent:
    """Rise of a layer's moisture content when it takes up its share of the glue's water.

    Parameters
    ----------
    g
        Glue spread.
    x
        Water in the glue, as a share of its mass.
    r
        Share of that water that the layer takes up.
    rho_0
        Ovendry mass of the layer's wood per volume.
    t
        Thickness of the layer.
    """
    return 100 * g * x * r / (rho_0 * t)


@formula(
    "f_M", "strength at the moisture content", "f_12 * (f_12 / f_g) ** ((12 - M) / (M_p - 12))", STRENGTH
)
def strength_at_moisture(f_12: MPa, f_g: MPa, M: Percent, M_p: Percent) -> MPa:
    """Strength at another moisture content than 12 %, below the point ``M_p`` where wetting stops to weaken.

    Parameters
    ----------
    f_12, f_g
        Strength at 12 % and of green wood.
    M
        Moisture content.
    M_p
        Moisture content at which the strength becomes that of green wood; 25 for most woods.

    Source: FPL-GTR-282, Eq 5-3.
    """
    return float(f_12 * (f_12 / f_g) ** ((12 - M) / (M_p - 12)))
