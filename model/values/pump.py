"""The pump: how deep it gets, and how long it takes to bring the film down and then to draw down.

A pump that is told by its deepest reading at sea level leaves the same part of the air everywhere. Wet glue holds the
bag at the vapour pressure of its water. Where the reading asked for is out of reach, times are those to nearly all
that the pump gives.
"""

from collections.abc import Iterator
from dataclasses import replace

from ..data.bench import usual
from ..data.limits import limit
from ..mechanics.evacuation import (
    drawdown_time,
    further_gain,
    hand_strokes,
    hand_time,
    lowest_pressure,
    pumping_time,
    slack_strokes,
    slack_time,
)
from ..mechanics.pressure import STANDARD_ATMOSPHERE, air_pressure, deepest_gauge, vapour_pressure
from ..plan import Plan
from ..source import Source
from ..units import Mm3, MPa, Ratio
from ..value import Value, formula
from .air import Air
from .water import gives_water

PISTON = Source("derived", "law of Boyle", "the air left at the end of the stroke just fills the pump again")
NO_LEAK = 0.0
FURTHER = (10, 15)
"""Strokes that practice adds once the needle slows."""
HUNDREDTH: Ratio = 0.01
"""What no gauge on a bag shows any more."""


@formula("p_p", "pressure that the pump leaves on dry air", "p_air * (1 - d / 0.101325)", STANDARD_ATMOSPHERE)
def pump_rest(p_air: MPa, d: MPa) -> MPa:
    """Pressure left by a pump that reads d below the air at sea level, where the air outside is p_air."""
    return p_air * (1.0 - d / 0.101325)


@formula("g", "gauge reading that the pump is run to", "min(g_t, k * g_max)", PISTON)
def pumped_to(g_t: MPa, k: Ratio, g_max: MPa) -> MPa:
    """Reading asked for, g_t, or the part k of the deepest reading g_max where that is less."""
    return min(g_t, k * g_max)


@formula("c", "air left at the end of the hand pump's stroke", "V_s * p_f / (p_0 - p_f)", PISTON)
def end_volume(V_s: Mm3, p_f: MPa, p_0: MPa) -> Mm3:
    """Volume at the end of a pump that takes in V_s and gets no deeper than p_f, with p_0 outside."""
    return V_s * p_f / (p_0 - p_f)


strokes_most = replace(hand_strokes, name="strokes after which the hand pump has given all but a hundredth")
hand_time_down = replace(hand_time, name="time to bring the film down by hand")
hand_time_draw = replace(hand_time, name="time to draw down by hand")


def pump_values(plan: Plan, air: Air) -> Iterator[Value]:
    """Deepest reading of the pump in this air with this glue, and the strokes or minutes that it takes."""
    layup = plan.layup
    outside = air_pressure(z=layup.vacuum.altitude)
    rest = pump_rest.value("pump.rest", p_air=outside, d=layup.pump.deepest)
    vapour = vapour_pressure(T=layup.press.temperature) if gives_water(plan) else 0.0
    lowest = lowest_pressure.value("pump.lowest", p_p=rest.number, Q=NO_LEAK, S=layup.pump.flow, p_v=vapour)
    reach = deepest_gauge.value("pump.reach", p_air=outside, p_w=0.0, p_u=lowest.number)
    aim = pumped_to.value(
        "pump.aim", g_t=layup.vacuum.gauge, k=limit("pump.nearly"), g_max=max(reach.number, 0.0)
    )
    yield from (rest, lowest, reach, aim)
    work = _by_hand if layup.pump.kind == "hand" else _by_motor
    yield from work(plan, air, outside, lowest.number, outside - aim.number)


def _by_motor(plan: Plan, air: Air, outside: MPa, lowest: MPa, target: MPa) -> Iterator[Value]:
    """Minutes of a powered pump."""
    flow = plan.layup.pump.flow
    down = slack_time.value("pump.time_down", V=air.loose, S=flow)
    yield down
    drawn = 0.0
    if target < outside:
        draw = drawdown_time.value("pump.time_draw", V=air.voids, S=flow, p_0=outside, p=target, p_u=lowest)
        drawn = draw.number
        yield draw
    yield pumping_time.value("pump.time", t_1=down.number, t_2=drawn)


def _by_hand(plan: Plan, air: Air, outside: MPa, lowest: MPa, target: MPa) -> Iterator[Value]:
    """Strokes of a hand pump, and what more of them still bring."""
    stroke, pace = plan.layup.pump.stroke, usual("pump.stroke")
    down = slack_strokes.value("pump.strokes_down", V=air.loose, V_s=stroke)
    time_down = hand_time_down.value("pump.time_down", n=int(down.number), t_1=pace)
    yield from (down, time_down)
    drawn = 0.0
    if target < outside:
        end = end_volume.value("pump.end", V_s=stroke, p_f=lowest, p_0=outside)
        cylinder = {"V": air.voids, "V_s": stroke, "c": end.number}
        draw = hand_strokes.value("pump.strokes_draw", p_0=outside, p=target, p_f=lowest, **cylinder)
        time_draw = hand_time_draw.value("pump.time_draw", n=int(draw.number), t_1=pace)
        drawn = time_draw.number
        yield from (end, draw, time_draw)
        nearly = lowest + HUNDREDTH * (outside - lowest)
        yield strokes_most.value("pump.strokes_most", p_0=outside, p=nearly, p_f=lowest, **cylinder)
        for strokes in FURTHER:
            yield further_gain.value(f"pump.further_{strokes}", p=target, p_f=lowest, k=strokes, **cylinder)
    yield pumping_time.value("pump.time", t_1=time_down.number, t_2=drawn)
