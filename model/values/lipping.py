"""Lipping: its strips, and the step at its joint that the seasons raise under the veneer."""

from collections.abc import Iterator

from ..mechanics.moisture import equilibrium_moisture
from ..plan import Plan
from ..source import GEOMETRY, Source
from ..units import Mm, Percent, PerPercent
from ..value import Value, formula
from .balance import ROOM

SWELLING = Source(
    "derived",
    "plane geometry",
    "core and lipping swell from the middle of their thickness: half of what differs is seen at each face",
)


@formula("l_l", "length of the two strips along the length, over the corners", "L", GEOMETRY)
def long_strip(L: Mm) -> Mm:
    """Length of a strip that runs along a core of length L."""
    return L


@formula("l_w", "length of the two strips along the width, between the others", "B - 2 * w", GEOMETRY)
def short_strip(B: Mm, w: Mm) -> Mm:
    """Length of a strip that runs across a core of width B between two strips of width w."""
    return B - 2.0 * w


@formula(
    "h",
    "step between core and lipping at each face, from the driest to the dampest air",
    "t / 2 * max(abs(C_k - C_R), abs(C_k - C_T)) * (M_d - M_r)",
    SWELLING,
)
def lipping_step(t: Mm, C_k: PerPercent, C_R: PerPercent, C_T: PerPercent, M_d: Percent, M_r: Percent) -> Mm:
    """Step at the joint of a core of thickness t.

    C_k is the core's movement through its thickness, C_R and C_T the lipping's across and along its growth rings. How the
    strips are cut is not known: the worse counts. M_d and M_r are the moisture of wood in the dampest and driest air.
    """
    return t / 2.0 * max(abs(C_k - C_R), abs(C_k - C_T)) * (M_d - M_r)


def lipping_values(plan: Plan) -> Iterator[Value]:
    """Lengths of the strips, and the step; nothing without a lipping."""
    wood = plan.chosen.lipping
    if wood is None:
        return
    core = next(layer for layer in plan.stack.layers if layer.lipping)
    ply = next(ply for ply in plan.plies if ply.key == core.key)
    yield long_strip.value("lipping.long", L=core.outline.length)
    yield short_strip.value("lipping.short", B=core.outline.width, w=core.lipping)
    panel = plan.layup.panel
    driest, dampest = (equilibrium_moisture(T=ROOM, h=air / 100.0) for air in (panel.driest, panel.dampest))
    yield lipping_step.value(
        "lipping.step",
        t=core.thickness,
        C_k=ply.C_3,
        C_R=wood.C_R,
        C_T=wood.C_T,
        M_d=dampest,
        M_r=driest,
    )
