"""Air, pressure and force."""

from collections.abc import Iterator

import numpy as np

from ..mechanics.pressure import (
    air_pressure,
    bag_pressure,
    contact_pressure,
    deepest_gauge,
    force,
    vapour_pressure,
)
from ..plan import Plan
from ..source import GEOMETRY, Source
from ..units import Mm, Mm2, MPa
from ..value import Value, formula
from .support import carried_load

PUMP_REST: MPa = 0.0
"""What the best of all pumps leaves: the air of the place is the limit here, the pump's own is another value."""

NO_TENSION = 0.0
"""Pull of the film over a bend: a film that lies slack in its folds pulls nothing."""

GAUGE = Source("derived", "both sides of the bag", "the air outside presses, the air inside resists")


@formula("p", "net pressure on the work (gauge reading, inches of mercury at 0 °C)", "g", GAUGE)
def net_pressure(g: MPa) -> MPa:
    """Pressure on the work: what the gauge reads below the air outside, at every altitude."""
    return g


@formula("A_p", "area that the air presses straight down, seen from above", "x * b", GEOMETRY)
def projected_area(x: Mm, b: Mm) -> Mm2:
    """Shadow of a bent core of width b whose upper surface spans x."""
    return x * b


def press_values(plan: Plan) -> Iterator[Value]:
    """Air outside, deepest gauge, net pressure, force and contact pressure."""
    layup = plan.layup
    air = air_pressure.value("air.pressure", z=layup.vacuum.altitude)
    yield air
    vapour = vapour_pressure.value("air.vapour", T=layup.press.temperature)
    yield vapour
    yield deepest_gauge.value("air.deepest_gauge", p_air=air.number, p_w=0.0, p_u=PUMP_REST)
    net = net_pressure.value("press.net", g=layup.vacuum.gauge)
    yield net
    yield bag_pressure.value("press.bag", p_air=air.number, p=net.number)
    area = loaded_area(plan)
    yield area
    yield force.value("press.force", p=net.number, A=area.number)
    yield carried_load.value("support.load", p=net.number, A=area.number)
    if layup.is_bent:
        bend = plan.stack.sheet.profile.bend(np.zeros(1))[0]
        yield contact_pressure.value("press.contact", p=net.number, T=NO_TENSION, k=float(bend))


def loaded_area(plan: Plan) -> Value:
    """Area of the core as seen from above: what the air presses straight down."""
    core = next(layer for layer in reversed(plan.stack.work) if layer.side == "core")
    if not plan.layup.is_bent:
        outline = core.outline
        return projected_area.value("press.area", x=outline.area / outline.width, b=outline.width)
    half = 0.5 * core.outline.length
    t = plan.stack.sheet.profile.stations(plan.stack.height, 0.01)
    t = np.concatenate(([-half], t[(t > -half) & (t < half)], [half]))
    x = plan.stack.sheet.place(t, np.zeros_like(t), core.top)[:, 0]
    return projected_area.value("press.area", x=float(x.max() - x.min()), b=core.outline.width)
