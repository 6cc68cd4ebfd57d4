"""Where the valve sits on the upper film, or where the work is laid under a valve that is there already.

On the work the valve needs a caul below it; bare veneer would take its mark. Without a caul it sits beside the
work on a tail of breather, toward the closed end. The ruler measurements are taken on the empty bag, lying flat:
from the closed end and from the left seam, seen from the open end.
"""

from dataclasses import dataclass
from typing import Literal

from ..base import Base
from ..layup.layup import Layup
from ..stack import Stack
from ..units import Mm
from .section import FilmSection
from .size import BagSize

GAP: Mm = 25.0
"""Room between the foot of the layup and a valve beside it, for the film to come down; common practice."""

INSIDE_CAUL: Mm = 50.0
"""Least distance from the valve's base to the edge of the caul below it; common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ValvePlace:
    """The valve and the work in the bag.

    Parameters
    ----------
    over
        ``"caul"``, ``"tail"`` (breather beside the work) or ``"bare work"`` where an owned bag leaves no other place.
    t, w
        Middle of the valve in panel coordinates, mm: along and across from the middle of the panel, on the film.
    radius
        Radius of its base, mm.
    from_closed_end, from_left_seam
        Ruler measurements to its middle on the flat bag, mm.
    work_from_closed_end, work_from_left_seam
        Ruler measurements to the middle of the work on the flat bag, mm.
    """

    over: Literal["caul", "tail", "bare work"]
    t: Mm
    w: Mm
    radius: Mm
    from_closed_end: Mm
    from_left_seam: Mm
    work_from_closed_end: Mm
    work_from_left_seam: Mm


def fits_on_caul(layup: Layup, stack: Stack) -> bool:
    """Whether the caul is large enough to carry the valve."""
    caul = stack.find("caul")
    need = layup.valve.diameter + 2.0 * INSIDE_CAUL
    return caul is not None and min(caul.outline.length, caul.outline.width) >= need


def valve_room(layup: Layup, stack: Stack) -> Mm:
    """Length that a valve beside the work adds to the bag, mm; 0 where it sits on the caul."""
    if fits_on_caul(layup, stack):
        return 0.0
    beside = GAP + layup.valve.diameter + layup.valve.clearance
    return max(beside - layup.bag.side_clearance, 0.0)


def place_valve(
    layup: Layup, stack: Stack, base: Base, size: BagSize, along: FilmSection, across: FilmSection
) -> ValvePlace:
    """Place the valve of a new bag, or lay the work under the valve of an owned one."""
    if layup.valve.from_closed_end is None or layup.valve.from_left_seam is None:
        return _new_valve(layup, stack, size, along)
    return _under_valve(layup, stack, size, along, across)


def _new_valve(layup: Layup, stack: Stack, size: BagSize, along: FilmSection) -> ValvePlace:
    """Valve in the middle of the caul, or beside the work toward the closed end."""
    radius, closure = (
        0.5 * layup.valve.diameter,
        layup.bag.closure if size.kind in ("tube", "joined sheets") else 0.0,
    )
    room = valve_room(layup, stack)
    middle = 0.5 * size.width
    # what is left over in an owned bag stays at the open end
    film = size.needed_length - closure - 2.0 * layup.bag.side_clearance - room
    work = layup.bag.side_clearance + room + 0.5 * film
    if fits_on_caul(layup, stack):
        return ValvePlace(
            over="caul",
            t=0.0,
            w=0.0,
            radius=radius,
            from_closed_end=work,
            from_left_seam=middle,
            work_from_closed_end=work,
            work_from_left_seam=middle,
        )
    beside = 0.5 * along.foot + GAP + radius
    return ValvePlace(
        over="tail",
        t=-beside,
        w=0.0,
        radius=radius,
        from_closed_end=work - 0.5 * film - GAP - radius,
        from_left_seam=middle,
        work_from_closed_end=work,
        work_from_left_seam=middle,
    )


def _under_valve(
    layup: Layup, stack: Stack, size: BagSize, along: FilmSection, across: FilmSection
) -> ValvePlace:
    """Lay the work in an owned bag: under the valve on a caul, beside the valve without one."""
    assert layup.valve.from_closed_end is not None
    assert layup.valve.from_left_seam is not None
    u, v, radius = layup.valve.from_closed_end, layup.valve.from_left_seam, 0.5 * layup.valve.diameter
    closure = layup.bag.closure if size.kind in ("tube", "joined sheets") else 0.0
    clearance, half_film = layup.bag.side_clearance, 0.5 * size.length_terms[0].amount
    half_across = 0.5 * size.width_terms[0].amount
    low, high = clearance + half_film, size.length - closure - clearance - half_film
    left, right = clearance + half_across, size.width - clearance - half_across
    across_middle = min(max(v, left), right) if left <= right else 0.5 * size.width
    caul = stack.find("caul")
    if caul is not None and fits_on_caul(layup, stack):
        # as near to the valve as the clearances of the bag let the work lie
        along_middle = min(max(u, low), high) if low <= high else 0.5 * (size.length - closure)
        t, w = u - along_middle, v - across_middle
        reach_t = 0.5 * caul.outline.length - INSIDE_CAUL - radius
        reach_w = 0.5 * caul.outline.width - INSIDE_CAUL - radius
        on_caul = abs(t) <= reach_t and abs(w) <= reach_w
        beside = abs(t) >= half_film + radius or abs(w) >= half_across + radius
        return _laid(
            "caul" if on_caul else "tail" if beside else "bare work",
            u,
            v,
            t,
            w,
            radius,
            along_middle,
            across_middle,
        )
    gap = half_film + GAP + radius
    beyond, before = u + gap, u - gap
    options = [middle for middle in (beyond, before) if low <= middle <= high]
    along_middle = options[0] if options else min(max(beyond, low), max(high, low))
    t, w = u - along_middle, v - across_middle
    is_beside = abs(t) >= half_film + radius
    return _laid("tail" if is_beside else "bare work", u, v, t, w, radius, along_middle, across_middle)


def _laid(
    over: Literal["caul", "tail", "bare work"], u: Mm, v: Mm, t: Mm, w: Mm, radius: Mm, along: Mm, across: Mm
) -> ValvePlace:
    return ValvePlace(
        over=over,
        t=t,
        w=w,
        radius=radius,
        from_closed_end=u,
        from_left_seam=v,
        work_from_closed_end=along,
        work_from_left_seam=across,
    )
