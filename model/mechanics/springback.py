"""Springback: the curve that is left when glued plies come off their form.

While the glue is wet the plies slide on each other and each is bent about its own middle; once it is set they bend
as one. Taken off the form, what each ply holds straightens the whole. Nothing creeps, the glue line is thin and
rigid. Curvatures are those of the neutral axis of the glued stack, positive where convex upward.

Second moments here are per width and counted in wood of the stiffest ply: a ply of half its modulus counts half.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..errors import ShapeError
from ..source import Source
from ..units import Count, Mm, Mm2, PerMm, Ratio
from ..value import formula

RELEASE = Source("derived", "beam theory", "moments held by free plies, released by the glued stack")

Curvatures = NDArray[np.float64]


@formula("s", "springback of n equal straight plies", "1 / n ** 2", RELEASE)
def springback_of_equal(n: Count) -> Ratio:
    """Share of the form's curvature that n equal plies lose."""
    return 1 / n**2


@formula(
    "s", "springback of straight plies (share of the form's curvature that is lost)", "i_f / i_g", RELEASE
)
def springback_ratio(i_f: Mm2, i_g: Mm2) -> Ratio:
    """Share of the curvature lost: what the plies resist one by one over what they resist together.

    Parameters
    ----------
    i_f, i_g
        Second moments of the free plies and of the glued stack, per width and thickness (``PlyBundle``).
    """
    return i_f / i_g


@formula("k", "curvature after release", "k_f * (1 - s) + s * k_0", RELEASE)
def released_curvature(k_f: PerMm, s: Ratio, k_0: PerMm) -> PerMm:
    """Curvature that is left of the form's curvature ``k_f``.

    Parameters
    ----------
    k_f
        Curvature of the form.
    s
        Springback of straight plies.
    k_0
        Mean curvature that the plies had of themselves, weighed by their stiffness (``PlyBundle.mean``).
    """
    return k_f * (1 - s) + s * k_0


@formula("k_f", "curvature of the form that leaves the wanted curve", "(k - s * k_0) / (1 - s)", RELEASE)
def form_curvature(k: PerMm, s: Ratio, k_0: PerMm) -> PerMm:
    """Curvature that the form needs so that ``k`` is left after release; needs at least two plies.

    Raises
    ------
    ShapeError
        Nothing of the form's curvature is held: a single ply springs back whole.
    """
    _refuse_lost_curve(s)
    return (k - s * k_0) / (1 - s)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlyBundle:
    """Plies of a bend, from below upward, reduced to what springback asks for.

    Parameters
    ----------
    stiffness
        ``(n,)`` bending stiffness of each ply about its own middle, per width, over the stiffest modulus, mm³.
    middle
        ``(n,)`` height of each ply's middle above the neutral axis of the glued stack.
    neutral
        Height of the neutral axis above the lower face of the stack.
    thickness
        Thickness of the stack.
    free, glued
        Second moments of the free plies and of the glued stack, per width and per thickness of the stack.
    """

    stiffness: NDArray[np.float64]
    middle: NDArray[np.float64]
    neutral: Mm
    thickness: Mm
    free: Mm2
    glued: Mm2

    @property
    def ratio(self) -> Ratio:
        """Springback of the plies when they were straight."""
        return springback_ratio(i_f=self.free, i_g=self.glued)

    def mean(self, natural: ArrayLike) -> Curvatures:
        """Mean of the plies' own curvatures, weighed by stiffness; ``(n,)`` or ``(n, m)`` gives ``()`` or ``(m,)``."""
        own = np.asarray(natural, dtype=np.float64)
        weight = self.stiffness / self.stiffness.sum()
        return np.asarray(np.tensordot(weight, own, axes=1))


def bundle(t: ArrayLike, E: ArrayLike) -> PlyBundle:
    """Gather plies of the thicknesses ``t`` and moduli ``E`` along the bend, both ``(n,)`` from below upward.

    Source: transformed section of beam theory.
    """
    thickness = np.asarray(t, dtype=np.float64)
    modulus = np.broadcast_to(np.asarray(E, dtype=np.float64), thickness.shape)
    weight = modulus / modulus.max()
    top = np.cumsum(thickness)
    middle = top - thickness / 2
    area = weight * thickness
    neutral = float((area * middle).sum() / area.sum())
    stiffness = area * thickness**2 / 12
    arm = middle - neutral
    whole = float(top[-1])
    return PlyBundle(
        stiffness=stiffness,
        middle=arm,
        neutral=neutral,
        thickness=whole,
        free=float(stiffness.sum()) / whole,
        glued=float((stiffness + area * arm**2).sum()) / whole,
    )


def release(plies: PlyBundle, form: ArrayLike, natural: ArrayLike = 0.0) -> Curvatures:
    """Curvature after release, place by place, each ply bent at its own radius.

    Parameters
    ----------
    plies
        The plies.
    form
        ``(m,)`` curvature of the form along the neutral axis, 1/mm.
    natural
        Curvature that the plies had of themselves: one number, ``(n,)`` per ply, or ``(n, m)`` per ply and place.

    Returns
    -------
    ``(m,)`` curvature of the neutral axis after release, 1/mm.

    Raises
    ------
    ShapeError
        A hollow is tighter than the stack above its neutral axis is thick.
    """
    curve = np.atleast_1d(np.asarray(form, dtype=np.float64))
    held = _own_curvature(plies, curve) - _per_ply(plies, natural)
    moment = plies.stiffness @ held
    return np.asarray(curve - moment / (plies.glued * plies.thickness))


def form_for(plies: PlyBundle, wanted: ArrayLike, natural: ArrayLike = 0.0) -> Curvatures:
    """Curvature of the form, place by place, that leaves the ``wanted`` curvature after release.

    Takes and gives what ``release`` gives and takes; the two undo each other.

    Raises
    ------
    ShapeError
        A single ply holds nothing, or the form would need a hollow that is tighter than the stack.

    Source: ``release`` inverted by repeated correction; each step leaves about (thickness/radius)² of the error.
    """
    goal = np.atleast_1d(np.asarray(wanted, dtype=np.float64))
    _refuse_lost_curve(plies.ratio)
    held = 1 - plies.ratio
    curve = goal / held
    for _ in range(30):
        miss = goal - release(plies, curve, natural)
        curve = curve + miss / held
        if np.all(np.abs(miss) <= 1e-14 * (1 + np.abs(curve))):
            break
    return np.asarray(curve)


def _refuse_lost_curve(s: Ratio) -> None:
    """Raise where no form can leave a curve."""
    if s > 1 - 1e-12:
        raise ShapeError(
            f"a springback of {s:.3f} leaves no curvature: a single straight ply springs back whole;"
            " laminate two plies or more"
        )


def _own_curvature(plies: PlyBundle, curve: Curvatures) -> Curvatures:
    """``(n, m)`` curvature of every ply's middle on the form."""
    room = 1 + plies.middle[:, None] * curve
    if np.any(room <= 0):
        tightest = float(1 / np.abs(curve).max())
        raise ShapeError(
            f"a form of radius {tightest:.2f} mm at the neutral axis is tighter than the plies are thick"
            f" ({plies.thickness:.2f} mm): widen the bend or use fewer plies"
        )
    return np.asarray(curve / room)


def _per_ply(plies: PlyBundle, natural: ArrayLike) -> Curvatures:
    """Natural curvatures as an array that lines up with ``(n, m)``."""
    own = np.asarray(natural, dtype=np.float64)
    return own[:, None] if own.ndim == 1 else own
