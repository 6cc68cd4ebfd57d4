"""What a film has to stretch, and how far the pressure presses it in.

Two stretches are given, for friction decides which of them is true. Where the film slides freely over the
whole section it spreads the length it lacks over all of it (``sliding_stretch``). Where it is caught at the
rims of a hollow, only the film between the rims can give (``pinned_stretch``), which is much more: that is the
safe one to compare with a limit. The lengths come from ``film_path``.
"""

from math import cos, inf, pi, sin, tan

from ..errors import ShapeError
from ..source import COMMON_PRACTICE, GEOMETRY, Source
from ..units import Mm, Mm2, MPa, Newton, NewtonPerMm, Radian, Ratio
from ..value import formula

MEMBRANE = Source("textbook", "balance of a thin membrane under pressure", "boiler formula")
HANG_TEST = Source("textbook", "strip in tension", "Hooke's law between two readings")
TAPED_SHEET = Source("derived", "the sheet climbs both sides of the stack and is sealed past them")


@formula("ε", "stretch of the film if it slides over the whole girth", "P / H - 1", GEOMETRY)
def sliding_stretch(P: Mm, H: Mm) -> Ratio:
    """Stretch that brings a film of taut length H onto a surface of length P without friction."""
    return P / H - 1


@formula("ε", "stretch of the film if it is caught at the rims of the hollow", "s / c - 1", GEOMETRY)
def pinned_stretch(s: Mm, c: Mm) -> Ratio:
    """Stretch that brings a film caught at the rims, c apart, onto a hollow of length s."""
    return s / c - 1


@formula("l", "extra film in a pleat", "max(P - H * (1 + e), 0)", GEOMETRY)
def pleat_length(P: Mm, H: Mm, e: Ratio) -> Mm:
    """Slack to lay in over a section of true length P and taut length H where the film may stretch by e."""
    return max(P - H * (1 + e), 0)


@formula("ε", "stretch that a film may be given", "e_b * k", COMMON_PRACTICE)
def usable_stretch(e_b: Ratio, k: Ratio) -> Ratio:
    """Part k of the stretch at break e_b; a quarter of it is common practice."""
    return e_b * k


@formula("E", "secant modulus of the film from a hang test", "F * L / (b * t * d)", HANG_TEST)
def hang_test_modulus(F: Newton, L: Mm, b: Mm, t: Mm, d: Mm) -> MPa:
    """Secant modulus of a strip of film, L long, b wide, t thick, that a weight F makes longer by d."""
    return F * L / (b * t * d)


@formula("T", "pull in the film", "E * t * e", HANG_TEST)
def membrane_tension(E: MPa, t: Mm, e: Ratio) -> NewtonPerMm:
    """Pull per width of a film of secant modulus E and thickness t stretched by e."""
    return E * t * e


@formula("r", "smallest inside radius that the pressure presses the film into", "T / g", MEMBRANE)
def inside_radius(T: NewtonPerMm, g: MPa) -> Mm:
    """Radius that a film under the pull T takes in an inside corner, g being the pressure on it."""
    return T / g


@formula("s", "stress in the film round an inside corner", "g * r / t", MEMBRANE)
def film_stress(g: MPa, r: Mm, t: Mm) -> MPa:
    """Stress of a film of thickness t that spans an inside corner on the radius r under the pressure g."""
    return g * r / t


@formula("l", "film saved in an inside corner", "r * (2 * tan(a / 2) - a)", GEOMETRY)
def corner_saving(r: Mm, a: Radian) -> Mm:
    """Film saved where it rounds an inside corner with radius r; it turns there by a (π/2 in a square corner).

    Raises
    ------
    ShapeError
        The turn is half a circle or more.
    """
    _check_turn(a)
    return r * (2 * tan(a / 2) - a)


@formula("d", "gap left in an inside corner", "r * (1 / cos(a / 2) - 1)", GEOMETRY)
def corner_gap(r: Mm, a: Radian) -> Mm:
    """Distance from the film to the bottom of an inside corner that it rounds with radius r, turning by a.

    Raises
    ------
    ShapeError
        The turn is half a circle or more.
    """
    _check_turn(a)
    return r * (1 / cos(a / 2) - 1)


@formula(
    "A", "area of the section without pressure in an inside corner", "r ** 2 * (tan(a / 2) - a / 2)", GEOMETRY
)
def corner_void(r: Mm, a: Radian) -> Mm2:
    """Area between the film and an inside corner that it rounds with radius r, turning by a.

    Raises
    ------
    ShapeError
        The turn is half a circle or more.
    """
    _check_turn(a)
    return r**2 * (tan(a / 2) - a / 2)


@formula(
    "d",
    "gap left under the film over a hollow",
    "method: balance of an elastic arc caught at the rims",
    MEMBRANE,
)
def bridge_gap(g: MPa, c: Mm, d: Mm, E: MPa, t: Mm) -> Mm:
    """Gap that stays at the deepest place, d below the rims, of a hollow c wide under the pressure g.

    The film, of secant modulus E and thickness t, lies straight over the hollow at first and bulges into it as
    an arc whose pull balances the pressure. It is 0 where the arc is as deep as the hollow; corners of the
    hollow may still be out of reach (``corner_gap``).
    """
    return max(d - film_sag(g, c, E, t), 0.0)


def film_sag(g: MPa, c: Mm, E: MPa, t: Mm) -> Mm:
    """Depth to which a film caught at two rims, c apart, bulges between them under the pressure g.

    With half the arc's angle a: pull E·t·(a/sin a − 1) = g·r and c = 2·r·sin a, so a − sin a = g·c/(2·E·t).
    ``inf`` where the film is too soft to find a balance: it reaches whatever is there.

    Source: balance of a thin membrane under pressure (textbook).
    """
    load = g * c / (2 * E * t)
    if load >= pi:
        return inf
    low, high = 0.0, pi
    # Sixty halvings of π are finer than a float can tell.
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if middle - sin(middle) < load else (low, middle)
    return c / 2 * tan(low / 2)


@formula("b", "least flat width of a bag round the section", "H / 2", GEOMETRY)
def half_girth(H: Mm) -> Mm:
    """Half of a taut girth: what a bag that lies flat must measure inside, before slack and seams."""
    return H / 2


@formula("l", "sheet taped down over the stack", "W + 2 * (h + s)", TAPED_SHEET)
def taped_sheet(W: Mm, h: Mm, s: Mm) -> Mm:
    """Length of a sheet that goes over a stack W wide and h high and is sealed by s on the bench at both sides."""
    return W + 2 * (h + s)


@formula("Δr", "easing that is missing on an edge", "max(r_c - r, 0)", COMMON_PRACTICE)
def missing_easing(r: Mm, r_c: Mm) -> Mm:
    """How much rounder an edge of radius r must be made, r_c being the radius below which edges cut the film."""
    return max(r_c - r, 0)


def _check_turn(a: Radian) -> None:
    if not 0 <= a < pi:
        raise ShapeError(
            f"inside corner turns by {a:.4g} rad; it must turn by less than half a circle, {pi:.4g}"
        )
