"""Where the valve sits on the upper film, or where the work is laid under a valve that is there already.

On the work the valve needs a caul below it; bare veneer would take its mark. Without a caul it sits beside the
work on a tail of breather, toward the closed end. The ruler measurements are taken on the empty bag, lying flat:
from the closed end and from the left seam, seen from the open end.
"""

from dataclasses import dataclass

from ..layup.layup import Layup
from ..stack import Stack
from ..units import Mm
from .lay import GAP, Over, bed_of, fits_on_caul, lay_under, seat_on_caul
from .section import FilmSection
from .size import BagSize


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

    over: Over
    t: Mm
    w: Mm
    radius: Mm
    from_closed_end: Mm
    from_left_seam: Mm
    work_from_closed_end: Mm
    work_from_left_seam: Mm


def valve_room(layup: Layup, stack: Stack) -> Mm:
    """Length that a valve beside the work adds to the bag, mm; 0 where it sits on the caul."""
    if fits_on_caul(layup, stack):
        return 0.0
    beside = GAP + layup.valve.diameter + layup.valve.clearance
    return max(beside - layup.bag.side_clearance, 0.0)


def place_valve(layup: Layup, stack: Stack, size: BagSize, along: FilmSection) -> ValvePlace:
    """Place the valve of a new bag, or lay the work under the valve of an owned one."""
    if layup.valve.from_closed_end is None or layup.valve.from_left_seam is None:
        return _new_valve(layup, stack, size, along)
    return _under_valve(layup, stack, size)


def _new_valve(layup: Layup, stack: Stack, size: BagSize, along: FilmSection) -> ValvePlace:
    """Valve on the caul, as near to its middle as there is room, or beside the work toward the closed end."""
    radius, closure = (
        0.5 * layup.valve.diameter,
        layup.bag.closure if size.kind in ("tube", "joined sheets") else 0.0,
    )
    room = valve_room(layup, stack)
    middle = 0.5 * size.width
    # what is left over in an owned bag stays at the open end
    film = size.needed_length - closure - 2.0 * layup.bag.side_clearance - room
    work = layup.bag.side_clearance + room + 0.5 * film
    seat = seat_on_caul(layup, stack)
    if seat is not None:
        t, w = seat
        return ValvePlace(
            over="caul",
            t=t,
            w=w,
            radius=radius,
            from_closed_end=work + t,
            from_left_seam=middle + w,
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


def _under_valve(layup: Layup, stack: Stack, size: BagSize) -> ValvePlace:
    """Lay the work in an owned bag: under the valve on a caul, beside the valve without one."""
    assert layup.valve.from_closed_end is not None
    assert layup.valve.from_left_seam is not None
    u, v = layup.valve.from_closed_end, layup.valve.from_left_seam
    laid = lay_under(bed_of(layup, stack, size), size.length, size.width, (u, v), 0.0)
    return ValvePlace(
        over=laid.over,
        t=u - laid.from_closed_end,
        w=v - laid.from_left_seam,
        radius=0.5 * layup.valve.diameter,
        from_closed_end=u,
        from_left_seam=v,
        work_from_closed_end=laid.from_closed_end,
        work_from_left_seam=laid.from_left_seam,
    )
