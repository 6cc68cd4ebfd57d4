"""Skin: what lies between the ribs of a form, and the ribs under it.

The skin is a strip that runs over many ribs and is pressed by the bag. It carries that pressure only if the hollow
behind it is at bag pressure, which is how a form inside a bag has to be. A strip 1 mm wide stands for the whole.
"""

import math
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..errors import ShapeError
from ..source import Source
from ..units import Mm, MPa, Ratio
from ..value import formula

STRIP = Source(
    "textbook", "beam theory", "strip under uniform load, coefficients from the three-moment equation"
)
SHEAR = Source("textbook", "beam theory", "shear of a rectangular section, 5/6 of it working")
BEARING = Source("textbook", "statics", "line load over the rib's width")
CLAMPED = Source("textbook", "beam theory", "strip clamped at both ends under uniform load")

Numbers = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """A strip over ribs, for a load of 1 per length and a bending stiffness of 1.

    Parameters
    ----------
    support_moment
        ``(n + 1,)`` bending moment over each rib, negative where the strip arches over it.
    span_moment
        ``(n,)`` greatest moment within each span.
    deflection
        ``(n,)`` greatest deflection within each span, by size.
    reaction
        ``(n + 1,)`` load on each rib.
    """

    support_moment: Numbers
    span_moment: Numbers
    deflection: Numbers
    reaction: Numbers


def continuous_strip(spans: ArrayLike) -> Strip:
    """Solve a strip that lies on ribs ``spans`` apart, ``(n,)``, free to turn over the first and the last.

    For a load q and a stiffness EI multiply moments and reactions by q, deflections by q/EI.

    Raises
    ------
    ShapeError
        There is no span, or one isn't longer than 0.

    Source: three-moment equation.
    """
    L = np.asarray(spans, dtype=np.float64)
    if not L.size or not np.all(L > 0):
        raise ShapeError("skin: every span between ribs has to be longer than 0, and there has to be one")
    support = np.zeros(L.size + 1)
    if L.size > 1:
        left, right = L[:-1], L[1:]
        matrix = np.diag(2 * (left + right)) + np.diag(right[:-1], 1) + np.diag(right[:-1], -1)
        support[1:-1] = np.linalg.solve(matrix, -(left**3 + right**3) / 4)
    start, end = support[:-1], support[1:]
    from_start, from_end = L / 2 + (end - start) / L, L / 2 + (start - end) / L
    reaction = np.append(from_start, 0.0) + np.insert(from_end, 0, 0.0)
    peak = np.clip(from_start, 0.0, L)
    span_moment = start + from_start * peak - peak**2 / 2
    return Strip(
        support_moment=support,
        span_moment=span_moment,
        deflection=_deflection(L, start, end),
        reaction=reaction,
    )


def _deflection(L: Numbers, start: Numbers, end: Numbers) -> Numbers:
    """Greatest deflection of each span from the load and the moments at its ends, on 800 steps of the span."""
    x = np.linspace(0.0, 1.0, 801)[:, None]
    load = L**4 * (x - 2 * x**3 + x**4) / 24
    ends = L**2 * (start * (2 * x - 3 * x**2 + x**3) + end * (x - x**3)) / 6
    return np.asarray(np.abs(load + ends).max(axis=0))


@dataclass(frozen=True, slots=True, kw_only=True)
class SkinCoefficients:
    """What a skin over equal spans deflects, bears and hands on, in terms of its spacing.

    Parameters
    ----------
    spans
        Number of spans.
    k
        Deflection of the worst span, times load × spacing⁴ / stiffness; the end span if there are more than one.
    k_inner
        The same for the middle span.
    m
        Greatest bending moment, times load × spacing².
    shares
        Load on each rib, times load × spacing.
    """

    spans: int
    k: Ratio
    k_inner: Ratio
    m: Ratio
    shares: tuple[Ratio, ...]


@cache
def skin_coefficients(spans: int) -> SkinCoefficients:
    """Coefficients of a skin over a number of equal spans.

    Source: three-moment equation.
    """
    strip = continuous_strip(np.ones(spans))
    moments = np.concatenate([np.abs(strip.support_moment), strip.span_moment])
    return SkinCoefficients(
        spans=spans,
        k=float(strip.deflection.max()),
        k_inner=float(strip.deflection[spans // 2]),
        m=float(moments.max()),
        shares=tuple(float(item) for item in strip.reaction),
    )


@formula("w_b", "sag of the skin between ribs by bending", "12 * k * p * s ** 4 / (E * t ** 3)", STRIP)
def bending_sag(p: MPa, s: Mm, t: Mm, E: MPa, k: Ratio) -> Mm:
    """Sag by bending of a skin of thickness ``t`` over ribs ``s`` apart; ``k`` by the number of spans."""
    return 12 * k * p * s**4 / (E * t**3)


@formula("w_s", "sag of the skin between ribs by shear", "0.15 * p * s ** 2 / (G * t)", SHEAR)
def shear_sag(p: MPa, s: Mm, t: Mm, G: MPa) -> Mm:
    """Sag by shear through the skin's thickness, with ``G`` its modulus for that; matters in short, thick spans."""
    return 0.15 * p * s**2 / (G * t)


@formula("w", "sag of the skin between ribs", "w_b + w_s", STRIP)
def sag(w_b: Mm, w_s: Mm) -> Mm:
    """Whole sag; a little too much, as bending and shear sag most at different places of an end span."""
    return w_b + w_s


@formula(
    "s_w",
    "rib spacing at which the skin sags by the limit",
    "sqrt((sqrt((0.15 * p / (G * t)) ** 2 + 48 * k * p * w / (E * t ** 3)) - 0.15 * p / (G * t))"
    " * E * t ** 3 / (24 * k * p))",
    STRIP,
)
def spacing_for_sag(w: Mm, p: MPa, t: Mm, E: MPa, G: MPa, k: Ratio) -> Mm:
    """Spacing of the ribs at which bending and shear together sag by ``w``."""
    bending = 12 * k * p / (E * t**3)
    shear = 0.15 * p / (G * t)
    return math.sqrt((math.sqrt(shear**2 + 4 * bending * w) - shear) / (2 * bending))


@formula("sigma", "bending stress in the skin", "6 * m * p * s ** 2 / t ** 2", STRIP)
def skin_stress(p: MPa, s: Mm, t: Mm, m: Ratio) -> MPa:
    """Greatest bending stress of the skin; ``m`` by the number of spans."""
    return 6 * m * p * s**2 / t**2


@formula("s_f", "rib spacing at which the skin reaches its strength", "t * sqrt(f / (6 * m * p))", STRIP)
def spacing_for_strength(f: MPa, p: MPa, t: Mm, m: Ratio) -> Mm:
    """Spacing of the ribs at which the skin's bending stress reaches ``f``."""
    return t * math.sqrt(f / (6 * m * p))


@formula("f_b", "bearing pressure on the rib's edge", "r * p * s / b", BEARING)
def rib_bearing(p: MPa, s: Mm, b: Mm, r: Ratio) -> MPa:
    """Pressure between skin and a rib ``b`` wide that carries the share ``r`` of a bay.

    To hold against the strength of the rib's edge, and of the skin through its thickness.
    """
    return r * p * s / b


@formula(
    "p_d", "pressure that presses a plate down into a low place", "32 * E * t ** 3 * d / L ** 4", CLAMPED
)
def closing_pressure(E: MPa, t: Mm, d: Mm, L: Mm) -> MPa:
    """Pressure under which a plate on an uneven panel reaches the bottom of a place ``d`` low and ``L`` wide.

    Less than the bag's pressure: the plate follows the panel; more: it bridges the place and the glue there
    sees less than the gauge says.
    """
    return 32 * E * t**3 * d / L**4
