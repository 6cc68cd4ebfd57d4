"""Leaks: how far the gauge may fall in the first minutes, and what the fall seen in a leak test means.

The fall that is allowed goes on evenly, which is the safe way to read it. What a test shows counts all the air in the
bag, that in the wood too, so that the leak told is the most that it can be.
"""

from collections.abc import Iterator
from dataclasses import replace

from ..data.bench import usual
from ..data.limits import limit
from ..mechanics.evacuation import duty_cycle
from ..mechanics.leak import free_air, hole_diameter, leak_rate, linear_fall, linear_hold
from ..mechanics.pressure import air_pressure
from ..plan import Plan
from ..source import COMMON_PRACTICE
from ..units import MPa, Ratio, Second
from ..value import Value, formula
from .air import Air

LOOKS: tuple[Second, ...] = (300.0, 1800.0)
"""When the gauge is looked at after the pump is shut off: within five minutes, and again after half an hour."""

NARROWEST: MPa = 1e-6
"""Least distance from the pump's own lowest pressure that its pace is told for."""


@formula("g_l", "least gauge reading at the end of the press time", "g * k", COMMON_PRACTICE)
def least_reading(g: MPa, k: Ratio) -> MPa:
    """Part k of the reading g that still has to press when the glue has set."""
    return g * k


ALLOWED = tuple(
    replace(linear_fall, name=f"fall of the gauge that is allowed in the first {words}, the pump shut off")
    for words in ("five minutes", "half hour")
)
"""Falls that are allowed by each look."""


def leak_values(plan: Plan, air: Air, lowest: MPa, cure: Second) -> Iterator[Value]:
    """Falls allowed at each look for a press time, and the leak that a test has shown.

    Parameters
    ----------
    plan
        The plan.
    air
        Air in the bag.
    lowest
        Lowest pressure of the pump without a leak.
    cure
        Time that the pressure has to hold.
    """
    gauge = plan.layup.vacuum.gauge
    least = least_reading.value("leak.least", g=gauge, k=limit("leak.held"))
    yield least
    for key, allowed, look in zip(("leak.fall_5", "leak.fall_30"), ALLOWED, LOOKS, strict=True):
        yield allowed.value(key, g=gauge, g_l=least.number, t=min(look, cure), t_c=cure)
    if plan.layup.vacuum.fall is not None:
        yield from _tested(plan, air, lowest, least.number, plan.layup.vacuum.fall)


def _tested(plan: Plan, air: Air, lowest: MPa, least: MPa, fall: MPa) -> Iterator[Value]:
    """Leak by the fall of a test, as air of the room, as one hole, and what it means for pressure and pump."""
    vacuum, pump = plan.layup.vacuum, plan.layup.pump
    outside = air_pressure(z=vacuum.altitude)
    rate = leak_rate.value("leak.rate", V=air.voids + air.wood, d=fall, t=LOOKS[0])
    flow = free_air.value("leak.free_air", Q=rate.number, p_a=outside)
    yield from (rate, flow)
    yield hole_diameter.value(
        "leak.hole", q=flow.number, C=usual("hole.shape"), T=plan.layup.press.temperature
    )
    yield linear_hold.value("leak.holds", g=vacuum.gauge, g_l=least, d=fall, t=LOOKS[0])
    if pump.kind == "powered":
        above = max(outside - vacuum.gauge - lowest, NARROWEST)
        yield duty_cycle.value("leak.duty", Q=rate.number, S=pump.flow, p=above)
