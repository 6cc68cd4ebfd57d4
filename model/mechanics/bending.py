"""Bending: how tight a veneer or ply may be bent before its outer fibres fail.

Curvature is positive where the work is convex upward. A layer that lies between ``d`` and ``d + t`` above a
reference surface (the form or the platen) has its own curvature, and its concave face its own radius: the lower
face on a crown, the upper one in a hollow.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..errors import ShapeError
from ..source import Source
from ..units import Mm, MPa, PerMm, Ratio
from ..value import formula

STRAIN = Source("textbook", "beam theory", "plane sections stay plane")
OFFSET = Source("textbook", "plane geometry", "curve at a constant distance")
STRENGTH_STRAIN = Source(
    "derived", "FPL-GTR-190, Wood Handbook", "Table 5-3, MOR over E of the static bending test"
)
SIZE = Source("derived", "FAA AC 43.13-1B", "Table 1-2: the radii rise with thickness to the power 1.39")

REFERENCE_THICKNESS: Mm = 0.889
"""Thinnest sheet of the aircraft plywood table; its strain is that of MOR over E, and thinner wood gets no more."""

SIZE_EXPONENT = 0.39
"""How fast the strain that a sheet stands falls with its thickness, from the same table."""


@formula("eps", "strain of the outer fibres at the radius of the concave face", "t / (2 * R + t)", STRAIN)
def strain_at_radius(t: Mm, R: Mm) -> Ratio:
    """Strain at both faces of a ply of thickness ``t`` bent to the radius ``R`` of its concave face."""
    return t / (2 * R + t)


@formula("eps_0", "strain at failure of a thin sheet", "f / E", STRENGTH_STRAIN)
def nominal_strain(f: MPa, E: MPa) -> Ratio:
    """Strain that strength and modulus of the bending test give together.

    Along the grain the modulus of rupture over the modulus of elasticity; across it the tension strength across
    the grain over the modulus there.
    """
    return f / E


@formula(
    "eps_a",
    "strain that the ply may take",
    "eps_0 / n * min(1, (0.889 / t) ** 0.39)",
    SIZE,
)
def strain_limit(eps_0: Ratio, t: Mm, n: Ratio) -> Ratio:
    """Strain that a sheet of thickness ``t`` may take: thick sheets fail at less than thin ones.

    Parameters
    ----------
    eps_0
        Strain at failure of a thin sheet.
    t
        Thickness; below ``REFERENCE_THICKNESS`` nothing is gained, as the table ends there.
    n
        Safety, 1 or more.
    """
    return eps_0 / n * min(1.0, float((REFERENCE_THICKNESS / t) ** SIZE_EXPONENT))


@formula("R_min", "least radius of the concave face", "max(0, t / 2 * (1 / eps_a - 1))", STRAIN)
def least_radius(t: Mm, eps_a: Ratio) -> Mm:
    """Tightest radius of the concave face at which the outer fibres stay within the strain ``eps_a``."""
    return max(0.0, t / 2 * (1 / eps_a - 1))


@formula("k_d", "curvature at the distance d above the reference surface", "k / (1 + k * d)", OFFSET)
def curvature_at(k: PerMm, d: Mm) -> PerMm:
    """Curvature of a surface that lies ``d`` above one with the curvature ``k`` (positive: convex upward).

    Meaningful while ``1 + k·d`` stays positive; past that the surfaces cross.
    """
    return k / (1 + k * d)


@dataclass(frozen=True, slots=True, kw_only=True)
class TightestBend:
    """Where a layer is bent hardest along a profile.

    Parameters
    ----------
    at
        Arc length along the reference surface.
    radius
        Radius of the layer's concave face; infinite where the layer is flat everywhere.
    convex
        Whether the work is convex upward there.
    strain
        Strain of the outer fibres there.
    """

    at: Mm
    radius: Mm
    convex: bool
    strain: Ratio


def tightest_bend(s: ArrayLike, k: ArrayLike, d: Mm, t: Mm) -> TightestBend:
    """Find where a layer of thickness ``t``, lying ``d`` above the reference surface, is bent hardest.

    Parameters
    ----------
    s
        ``(m,)`` arc length of the reference surface, mm.
    k
        ``(m,)`` its curvature, 1/mm, positive where convex upward.
    d
        Height of the layer's lower face above the reference surface.
    t
        Thickness of the layer.

    Raises
    ------
    ShapeError
        A hollow is too tight for the layer: its upper face would cross itself.

    Source: strain of beam theory at the layer's own radius.
    """
    places: NDArray[np.float64] = np.asarray(s, dtype=np.float64)
    curvature: NDArray[np.float64] = np.asarray(k, dtype=np.float64)
    room = 1 + curvature * (d + t)
    worst = int(np.argmin(room))
    if room[worst] <= 0:
        raise ShapeError(
            f"at {places[worst]:.1f} mm along the bend: a hollow of radius {-1 / curvature[worst]:.2f} mm leaves no room"
            f" for a layer that reaches {d + t:.2f} mm above it; widen the bend or lay less on it"
        )
    middle = curvature / (1 + curvature * (d + t / 2))
    hardest = int(np.argmax(np.abs(middle)))
    strain = float(np.abs(middle[hardest])) * t / 2
    radius = t / 2 * (1 / strain - 1) if strain else float("inf")
    return TightestBend(
        at=float(places[hardest]), radius=radius, convex=bool(middle[hardest] > 0), strain=strain
    )
