"""What is found about the air of a plan: the best place of the valve, a map of times, and the valves that it takes.

It takes seconds to find, so it is no part of a report and is asked for by name.
"""

from dataclasses import dataclass

from .bag.air import Drawn, Pumping, best_spot, coarse_cell, drawn, fine_cell, valves_within
from .bag.air_strips import Netting, Stripped, strips_within
from .bag.ground import Ground, Spot, ground_of, places
from .data.bench import usual
from .materials.shelf import breathers
from .plan import Plan
from .report import Report
from .units import Count, Mm, Mm3PerSecond, Second

NETTING = "netting"
"""The most open breather of the table."""
TAPERED = "The air is not followed through the breather of a tapered bend; the check gives a quick look that is safe."
"""Said where it is asked for; the quick look takes the rectangle around the breather's blank."""
WITHIN: Second = 60.0
"""Time in which every place is to be drawn down once the film lies on, where nothing else is asked for."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class AirAnswer:
    """All that was found about the air of a layup.

    Parameters
    ----------
    within
        Time that is asked for.
    film_down
        Time until the film lies on; all others begin then.
    choices
        Number of places that the valve could have had.
    first, enough
        The best single valve; the fewest that are fast enough, None where none are.
    strips
        The fewest strips of netting with which that single valve is fast enough; None where it is without any, or
        where none make it so.
    """

    plan: Plan
    ground: Ground
    pumping: Pumping
    within: Second
    film_down: Second
    choices: Count
    first: Drawn
    enough: Drawn | None
    strips: Stripped | None

    def on_flat_bag(self, spot: Spot) -> tuple[Mm, Mm]:
        """Ruler measurements of a place: from the closed end and from the left seam."""
        valve = self.plan.valve
        return valve.work_from_closed_end + spot[0], valve.work_from_left_seam + spot[1]


def answer_air(plan: Plan, report: Report, within: Second, flow: Mm3PerSecond | None) -> AirAnswer | None:
    """Choose the valve's place and follow the air; None for a layup without a breather.

    Parameters
    ----------
    within
        Time in which every place is to be drawn down, once the film lies on.
    flow
        Air that the pump takes in; None for that of the layup.
    """
    numbers = {value.key: value.number for value in report.values}
    ground = _ground(plan, numbers)
    if ground is None:
        return None
    pumping = _pumping(plan, numbers, flow)
    cell = coarse_cell(ground)
    spots = places(plan.layup, plan.stack, plan.bag, plan.valve, ground, cell)
    first = drawn(ground, (best_spot(ground, spots, pumping, cell),), pumping, fine_cell(ground))
    fine = first.grid.breather.cell
    return AirAnswer(
        plan=plan,
        ground=ground,
        pumping=pumping,
        within=within,
        film_down=numbers["air.loose"] / pumping.flow,
        choices=len(spots),
        first=first,
        enough=valves_within(ground, spots, pumping, cell, first, within),
        strips=None
        if first.slowest <= within
        else strips_within(ground, first.spots[0], pumping, fine, _netting(plan), within),
    )


def _ground(plan: Plan, numbers: dict[str, float]) -> Ground | None:
    layer, material = plan.stack.find("breather"), plan.chosen.breather
    if layer is None or material is None or layer.thickness <= 0.0 or material.void_fraction <= 0.0:
        return None
    return ground_of(plan.layup, layer, material, numbers.get("air.paper", 0.0))


def _netting(plan: Plan) -> Netting:
    """Netting as wide as the tail to a valve."""
    material = breathers()[NETTING]
    return Netting(
        width=plan.layup.breather.tail,
        permeability=material.permeability,
        thickness=material.pressed_thickness,
        voids=material.void_fraction,
    )


def _pumping(plan: Plan, numbers: dict[str, float], flow: Mm3PerSecond | None) -> Pumping:
    layup = plan.layup
    pump = layup.pump
    own = pump.stroke / usual("pump.stroke") if pump.kind == "hand" else pump.flow
    outside, lowest = numbers["air.pressure"], numbers["pump.lowest"]
    return Pumping(
        outside=outside,
        final=max(outside - layup.vacuum.gauge, lowest),
        lowest=lowest,
        flow=own if flow is None else flow,
        voids=numbers["air.voids"],
    )
