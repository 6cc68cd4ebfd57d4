"""Overhang: how far a veneer's edge may stand free under the film before it breaks or bends down.

A strip of unit width, held at the core's edge and free beyond, is pressed by the air on its whole free length. The
direction that matters is across the edge: at an end-grain edge the free length runs along the grain, at a side edge
across it, where wood is weakest and a crack runs on into the panel. The length is the part that neither platen nor
caul supports.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from ..source import Source
from ..units import Mm, MPa, Radian, Ratio
from ..value import formula
from .grain import STIFFNESS_EXPONENT, STRENGTH_EXPONENT, at_angle

CANTILEVER = Source("textbook", "beam theory", "cantilever under uniform load")
SUPPORT = Source("textbook", "plane geometry", "what lies on a plate is not free")


@formula("L_f", "free length of the veneer's edge beyond its support", "max(L_o - L_s, 0)", SUPPORT)
def free_length(L_o: Mm, L_s: Mm) -> Mm:
    """Length of an overhang ``L_o`` that a plate reaching ``L_s`` past the core leaves unsupported."""
    return max(L_o - L_s, 0.0)


@formula("f_w", "working strength of the veneer", "f * k / s", CANTILEVER)
def working_strength(f: MPa, k: Ratio, s: Ratio) -> MPa:
    """Strength that may be used: ``f`` times a factor ``k`` for wet wood, over a safety ``s``."""
    return f * k / s


@formula("sigma", "bending stress at the root of the free edge", "3 * p * L ** 2 / t ** 2", CANTILEVER)
def root_stress(p: MPa, L: Mm, t: Mm) -> MPa:
    """Greatest stress in a veneer of thickness ``t`` that stands free by ``L`` under the pressure ``p``."""
    return 3 * p * L**2 / t**2


@formula("w", "deflection of the free edge's tip", "1.5 * p * L ** 4 / (E * t ** 3)", CANTILEVER)
def tip_deflection(p: MPa, L: Mm, t: Mm, E: MPa) -> Mm:
    """How far the free edge bends down; a good estimate while it is less than the thickness."""
    return 1.5 * p * L**4 / (E * t**3)


@formula("L_s", "longest free edge that does not break", "t * sqrt(f / (3 * p))", CANTILEVER)
def longest_by_strength(p: MPa, t: Mm, f: MPa) -> Mm:
    """Free length at which the root of the edge reaches the strength ``f``."""
    return t * math.sqrt(f / (3 * p))


@formula(
    "L_w",
    "longest free edge that does not bend down further",
    "(E * t ** 3 * w / (1.5 * p)) ** 0.25",
    CANTILEVER,
)
def longest_by_deflection(p: MPa, t: Mm, E: MPa, w: Mm) -> Mm:
    """Free length at which the tip has bent down by ``w``."""
    return float((E * t**3 * w / (1.5 * p)) ** 0.25)


@dataclass(frozen=True, slots=True, kw_only=True)
class FreeEdge:
    """One edge of one veneer piece that stands free: what it is made of and how its grain lies.

    Parameters
    ----------
    piece
        Number of the piece within its face.
    thickness
        Thickness of the piece.
    f_along, f_across
        Working strength in bending along and across the grain.
    E_along, E_across
        Modulus of elasticity along and across the grain.
    angle
        Angle between the grain and the free length: 0 at an end-grain edge, π/2 at a side edge.
    """

    piece: int
    thickness: Mm
    f_along: MPa
    f_across: MPa
    E_along: MPa
    E_across: MPa
    angle: Radian


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeLimit:
    """How far one edge may stand free, and what sets it.

    Parameters
    ----------
    edge
        The edge spoken of.
    length
        Longest free length.
    by
        What gives way first: the wood's strength, or the deflection that is allowed.
    strength, modulus
        Strength and modulus in the direction of the free length.
    """

    edge: FreeEdge
    length: Mm
    by: Literal["strength", "deflection"]
    strength: MPa
    modulus: MPa


def edge_limit(edge: FreeEdge, p: MPa, w: Mm) -> EdgeLimit:
    """Longest free length of one edge under the pressure ``p`` when its tip may bend down by ``w``.

    Source: cantilever of beam theory, with Hankinson's interaction between the grain's directions.
    """
    strength = at_angle(f_l=edge.f_along, f_c=edge.f_across, a=edge.angle, n=STRENGTH_EXPONENT)
    modulus = at_angle(f_l=edge.E_along, f_c=edge.E_across, a=edge.angle, n=STIFFNESS_EXPONENT)
    breaks = longest_by_strength(p=p, t=edge.thickness, f=strength)
    bends = longest_by_deflection(p=p, t=edge.thickness, E=modulus, w=w)
    return EdgeLimit(
        edge=edge,
        length=min(breaks, bends),
        by="strength" if breaks <= bends else "deflection",
        strength=strength,
        modulus=modulus,
    )


def weakest_edge(edges: Iterable[FreeEdge], p: MPa, w: Mm) -> EdgeLimit:
    """Limit of a face of many pieces: that of its weakest piece and direction, the first of equals.

    Raises
    ------
    ValueError
        There is no edge.
    """
    return min((edge_limit(edge, p, w) for edge in edges), key=lambda limit: limit.length)
