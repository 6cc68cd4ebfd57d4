"""How long the air takes through the breather, at a quick look; ``underbag air`` follows it exactly."""

from collections.abc import Iterator

from ..bag.air import ENOUGH, drawn_down
from ..materials.shelf import breathers
from ..materials.solid import CELL_WALL_DENSITY
from ..mechanics.airflow import AIR_VISCOSITY, disc_far_time
from ..mechanics.pressure import air_pressure
from ..plan import Plan
from ..source import GEOMETRY
from ..units import Mm, Mm2, Ratio
from ..value import Value, formula
from .air import paper_voids

PAPER_ALONE = "no-breather"
"""Row of the breathers that stands for film upon paper."""


@formula(
    "R",
    "from the valve to the farthest corner of the breather",
    "sqrt((l / 2 + abs(t)) ** 2 + (b / 2 + abs(w)) ** 2)",
    GEOMETRY,
)
def farthest_corner(l: Mm, b: Mm, t: Mm, w: Mm) -> Mm:
    """Distance from a valve t along and w across from the middle of a breather l long and b wide."""
    return float(((0.5 * l + abs(t)) ** 2 + (0.5 * b + abs(w)) ** 2) ** 0.5)


def breather_values(plan: Plan, voids: dict[str, float]) -> Iterator[Value]:
    """The way of the air and its time; through the paper where there is no breather, and none where neither is there.

    ``voids`` are the values of the air in breather and paper, by key.
    """
    through = _through(plan, voids)
    gauge = plan.layup.vacuum.gauge
    outside = air_pressure(z=plan.layup.vacuum.altitude)
    # a reading that the air can't give is a stop of its own
    if through is None or gauge >= outside:
        return
    length, width, share, permeability = through
    valve = plan.valve
    way = farthest_corner.value(
        "air.reach",
        l=length,
        b=width,
        t=valve.from_closed_end - valve.work_from_closed_end,
        w=valve.from_left_seam - valve.work_from_left_seam,
    )
    yield way
    yield disc_far_time.value(
        "air.way",
        mu=AIR_VISCOSITY,
        phi=share,
        R=max(way.number, valve.radius),
        a=valve.radius,
        k=permeability,
        p_0=outside,
        p=drawn_down(p_0=outside, p_e=outside - gauge, e=ENOUGH),
    )


def _through(plan: Plan, voids: dict[str, float]) -> tuple[Mm, Mm, Ratio, Mm2] | None:
    """Length, width, part that is air and permeability of what the air flows through."""
    breather, layer = plan.chosen.breather, plan.stack.find("breather")
    if breather is not None and layer is not None and layer.thickness > 0.0:
        # paper below empties into the breather
        share = breather.void_fraction + voids.get("air.paper", 0.0) / layer.volume
        return layer.blank.length, layer.blank.width, share, breather.permeability
    paper, layer = plan.chosen.absorbent, plan.stack.find("absorbent")
    if paper is None or layer is None or paper.pressed_thickness <= 0.0 or not paper.lets_air:
        return None
    share = max(paper_voids(b=paper.basis_weight, t=paper.pressed_thickness, rho=CELL_WALL_DENSITY), 0.0)
    return layer.blank.length, layer.blank.width, share, breathers()[PAPER_ALONE].permeability
