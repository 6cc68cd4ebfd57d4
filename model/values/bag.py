"""The bag and its valve, as values."""

from collections.abc import Iterator

from ..bag.size import size_values
from ..bag.valve import valve_room
from ..plan import Plan
from ..source import GEOMETRY
from ..units import Mm
from ..value import Value, formula


@formula("u", "valve: from the closed end, ruler on the flat bag", "m + t", GEOMETRY)
def valve_from_closed_end(m: Mm, t: Mm) -> Mm:
    """Ruler measurement to the valve's middle: middle of the work and the way from there along the film."""
    return m + t


@formula("v", "valve: from the left seam, ruler on the flat bag, seen from the open end", "m + w", GEOMETRY)
def valve_from_left_seam(m: Mm, w: Mm) -> Mm:
    """Ruler measurement to the valve's middle: middle of the work and the way from there across the film."""
    return m + w


def bag_values(plan: Plan) -> Iterator[Value]:
    """Film over the sections, size of the bag, place of the valve."""
    room = valve_room(plan.layup, plan.stack)
    yield from size_values(plan.layup, plan.along, plan.across, room)
    valve = plan.valve
    yield valve_from_closed_end.value(
        "valve.from_closed_end",
        m=valve.work_from_closed_end,
        t=valve.from_closed_end - valve.work_from_closed_end,
    )
    yield valve_from_left_seam.value(
        "valve.from_left_seam",
        m=valve.work_from_left_seam,
        w=valve.from_left_seam - valve.work_from_left_seam,
    )
