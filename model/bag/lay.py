"""Where the work lies in a bag whose valve is there already, since that can't move.

On a caul the valve sits clear of its edge, and the work lies as near under it as the clearances of the bag allow.
Without a caul, or where none of it comes under the valve, the work lies beside it, on its far side first.
"""

from dataclasses import dataclass
from math import cos, sin, sqrt
from typing import Literal

import numpy as np

from ..layup.layup import Layup
from ..shape.outline import Outline
from ..shape.pathed import Pathed
from ..shape.seat import clearance, seat
from ..stack import Stack
from ..units import Mm, Radian
from .size import CLOSED_KINDS, BagSize

GAP: Mm = 25.0
"""Room between the foot of the layup and a valve beside it, for the film to come down; common practice."""

INSIDE_CAUL: Mm = 50.0
"""Least distance from the valve's base to the edge of the caul below it; common practice."""

Over = Literal["caul", "tail", "bare work"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bed:
    """What the work asks of the place where it lies.

    Parameters
    ----------
    along, across
        Film that it takes along and across the panel.
    reach
        How far from the middle of the panel, along and across, the valve may sit on its caul; None without one that
        is large enough.
    radius
        Radius of the valve's base.
    clearance, closure
        Room beside the work to each seam, and film of the closure.
    """

    along: Mm
    across: Mm
    reach: tuple[Mm, Mm] | None
    radius: Mm
    clearance: Mm
    closure: Mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """The middle of the work by ruler from the closed end and from the left seam, and what the valve is over."""

    over: Over
    from_closed_end: Mm
    from_left_seam: Mm


def seat_on_caul(layup: Layup, stack: Stack) -> tuple[Mm, Mm] | None:
    """Place of the valve on the caul, clear of its edge and nearest to the middle; None where it has no room there."""
    caul = stack.find("caul")
    return None if caul is None else seat(caul.outline, INSIDE_CAUL + 0.5 * layup.valve.diameter)


def fits_on_caul(layup: Layup, stack: Stack) -> bool:
    """Whether the caul is large enough to carry the valve."""
    return seat_on_caul(layup, stack) is not None


def bed_of(layup: Layup, stack: Stack, size: BagSize) -> Bed:
    """What a layup asks of the place where it lies."""
    caul, radius = stack.find("caul"), 0.5 * layup.valve.diameter
    reach = None
    if caul is not None and fits_on_caul(layup, stack):
        edge = INSIDE_CAUL + radius
        reach = _reach(caul.outline, edge)
    return Bed(
        along=size.length_terms[0].amount,
        across=size.width_terms[0].amount,
        reach=reach,
        radius=radius,
        clearance=layup.bag.side_clearance,
        closure=layup.bag.closure if size.kind in CLOSED_KINDS else 0.0,
    )


def _reach(outline: Outline, room: Mm) -> tuple[Mm, Mm] | None:
    """How far from the middle a valve may sit on a caul, along and across; None where not even there."""
    if not isinstance(outline, Pathed):
        return 0.5 * outline.length - room, 0.5 * outline.width - room
    spare = float(clearance(outline.edge.flattened(0.1), np.zeros((1, 2)))[0]) - room
    # the square in the circle that is surely clear
    return (spare / sqrt(2.0),) * 2 if spare >= 0.0 else None


def lay_under(bed: Bed, length: Mm, width: Mm, valve: tuple[Mm, Mm], turn: Radian) -> Laid:
    """Lay the work in a bag with a valve.

    Parameters
    ----------
    length, width
        Inside size of the bag, lying flat.
    valve
        Its middle, from the closed end and from the left seam.
    turn
        Angle between the panel's length and the bag's.
    """
    half_along = 0.5 * (bed.along * cos(turn) + bed.across * sin(turn))
    half_across = 0.5 * (bed.along * sin(turn) + bed.across * cos(turn))
    low, high = bed.clearance + half_along, length - bed.closure - bed.clearance - half_along
    left, right = bed.clearance + half_across, width - bed.clearance - half_across
    (u, v), gap = valve, half_along + GAP + bed.radius

    def laid(along: Mm, across: Mm) -> Laid:
        t, w = u - along, v - across
        is_beside = abs(t) >= half_along + bed.radius or abs(w) >= half_across + bed.radius
        over: Over = "caul" if _on_caul(bed, t, w, turn) else "tail" if is_beside else "bare work"
        return Laid(over=over, from_closed_end=along, from_left_seam=across)

    across = min(max(v, left), right) if left <= right else 0.5 * width
    middle = min(max(u, low), high) if low <= high else 0.5 * (length - bed.closure)
    beyond = min(max(u + gap, low), max(high, low))
    tries = [middle] if bed.reach is not None else []
    tries += [place for place in (u + gap, u - gap) if low <= place <= high] or [beyond]
    found = [laid(place, across) for place in tries]
    return next((one for one in found if one.over != "bare work"), found[0])


def _on_caul(bed: Bed, t: Mm, w: Mm, turn: Radian) -> bool:
    """Whether a valve t along the bag and w across it from the middle of the work sits on the caul."""
    if bed.reach is None:
        return False
    along, across = t * cos(turn) + w * sin(turn), w * cos(turn) - t * sin(turn)
    return abs(along) <= bed.reach[0] + 1e-9 and abs(across) <= bed.reach[1] + 1e-9
