"""Balance: shape of a panel with unlike faces, the air in which it stays flat, and the back that keeps it flat."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from ..mechanics.balance import BackVeneer, balancing_back, humidity_band, warp_in_mm
from ..mechanics.laminate import PLATE, Warp, bow, principal_curvatures, snapped_cylinders
from ..plan import Plan
from ..plies import Ply
from ..shape.profile import Floats
from ..source import Source
from ..units import Celsius, Mm, Percent, PerMm
from ..value import Value, formula
from ..wetting import Moisture
from .warping import Warping, laminate_of

ROOM: Celsius = 20.0
"""Temperature of the room that a panel lives in; it matters little."""

THINNEST: Mm = 0.1
THICKEST: Mm = 6.0
"""Veneers between which a back is searched: those that a layup may have."""

MOHR = Source("textbook", "strain transformation", "curvatures of a surface turned to where no twist is left")
SEARCH = "method: laminated-plate theory, searched over the thickness"
LINEAR = "method: laminated-plate theory, linear in the moisture of the wood, turned to humidity"


@formula(
    "k_1",
    "greater principal curvature in the worse season",
    "(k_x + k_y) / 2 + sqrt(((k_x - k_y) / 2) ** 2 + (k_xy / 2) ** 2)",
    MOHR,
)
def greater_curvature(k_x: PerMm, k_y: PerMm, k_xy: PerMm) -> PerMm:
    """Greatest curvature in any direction; of another sign than the lesser one in a saddle."""
    return principal_curvatures((k_x, k_y, k_xy)).greater


@formula(
    "k_2",
    "lesser principal curvature in the worse season",
    "(k_x + k_y) / 2 - sqrt(((k_x - k_y) / 2) ** 2 + (k_xy / 2) ** 2)",
    MOHR,
)
def lesser_curvature(k_x: PerMm, k_y: PerMm, k_xy: PerMm) -> PerMm:
    """Least curvature in any direction."""
    return principal_curvatures((k_x, k_y, k_xy)).lesser


@formula("h", "driest air in which the panel stays flat enough, relative humidity", LINEAR, PLATE)
def driest_air(h: Percent) -> Percent:
    """Lower end of the band of humidity."""
    return h


@formula("h", "dampest air in which the panel stays flat enough, relative humidity", LINEAR, PLATE)
def dampest_air(h: Percent) -> Percent:
    """Upper end of the band of humidity."""
    return h


@formula(
    "t_b", "thickness of the back veneer that keeps the panel flattest through the seasons", SEARCH, PLATE
)
def balancing_thickness(t: Mm) -> Mm:
    """Thickness found for a back of its own wood and grain; of the face's where there is none yet."""
    return t


@formula("w_b", "largest bow, cup or twist that this back veneer would leave", SEARCH, PLATE)
def balanced_warp(w: Mm) -> Mm:
    """Warp left in the worse season, by the seasons alone."""
    return w


def balance_values(
    plan: Plan, warping: Warping, wet: Moisture, changes: Sequence[Percent]
) -> Iterator[Value]:
    """Shape in the worse season, band of humidity, and the back that balances.

    Parameters
    ----------
    changes
        Change of the wood's moisture content from the shop to the room, by season.
    """
    size = (plan.outline.length, plan.outline.width)
    worse = max(
        (warping.left + warping.each * change for change in changes),
        key=lambda curvature: float(np.abs(warp_in_mm(curvature, *size)).max()),
    )
    yield from _shape(plan, warping, worse)
    yield from _band(plan, warping, wet)
    found = _balancing(plan, max(changes, key=abs))
    if found is not None:
        yield balancing_thickness.value("flatness.balancing_back", t=found.best)
        yield balanced_warp.value("flatness.balanced", w=max(abs(item) for item in found.left))


def _shape(plan: Plan, warping: Warping, curvature: Floats) -> Iterator[Value]:
    """Principal curvatures, and the roll that a large panel snaps into where it bows by more than its thickness."""
    k_x, k_y, k_xy = (float(item) for item in curvature)
    yield greater_curvature.value("flatness.greater", k_x=k_x, k_y=k_y, k_xy=k_xy)
    yield lesser_curvature.value("flatness.lesser", k_x=k_x, k_y=k_y, k_xy=k_xy)
    L, B = plan.outline.length, plan.outline.width
    if np.abs(warp_in_mm(curvature, L, B)).max() <= float(warping.plate.thickness):
        return
    # the search for rolls does not ask which face is up
    shape = Warp(strain=np.zeros(3), curvature=curvature)
    for roll in snapped_cylinders(warping.plate, shape)[:1]:
        across, along = abs(math.cos(roll.angle)), abs(math.sin(roll.angle))
        span = min(L / across if across > 1e-9 else math.inf, B / along if along > 1e-9 else math.inf)
        yield bow.value("flatness.roll", k=roll.curvature, L=span)


def _band(plan: Plan, warping: Warping, wet: Moisture) -> Iterator[Value]:
    """Humidities between which bow, cup and twist stay within what the panel may do; none where no air does."""
    within = plan.layup.panel.flat_within
    band = humidity_band(
        stack=warping.stack,
        flat_at=wet.at_set,
        below_wood=np.array([ply.below_wood for ply in plan.finished]),
        T=ROOM,
        a=plan.outline.length,
        b=plan.outline.width,
        limit=(within, within, within),
    )
    if band is not None:
        yield driest_air.value("flatness.band.driest", h=100.0 * band.driest)
        yield dampest_air.value("flatness.band.dampest", h=100.0 * band.dampest)


def _balancing(plan: Plan, swing: Percent) -> BackVeneer | None:
    """Back that keeps the panel flattest: the one that is there in another thickness, or one like the face."""
    from_back = plan.finished if plan.layup.face_is_up else plan.finished[::-1]
    face = from_back[-1] if from_back[-1].side == "face" else None
    if face is None or swing == 0.0:
        return None
    has_back = from_back[0].side == "back"
    # a back like the face has the face's crossband too
    like = [replace(ply, side="back") for ply in from_back[::-1] if ply.side == "face"]
    stack: tuple[Ply, ...] = from_back if has_back else (*like, *from_back)
    change: Floats = np.full(len(stack), swing)
    return balancing_back(
        stack=laminate_of(stack),
        dM=change,
        back=0,
        a=plan.outline.length,
        b=plan.outline.width,
        thinnest=THINNEST,
        thickest=THICKEST,
    )
