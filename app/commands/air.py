"""``underbag air``: the place of the valve that draws the farthest point down first, and when the air is gone."""

import math
from argparse import ArgumentParser, Namespace

from ...model.bag.air import Drawn, Pumping, best_spot, coarse_cell, drawn, fine_cell, valves_within
from ...model.bag.ground import Ground, ground_of, places
from ...model.data.bench import usual
from ...model.errors import LayupError
from ...model.units import Second
from ..document import as_text
from ..examine import Planned, examine_file
from ..quantity import read_flow, read_time
from ..read.layup_file import read_file
from ..screen.air import NO_BREATHER, Asked, air_document, air_sheet
from ..status import FINE, STOP
from ..terminal import Terminal
from .kind import Command

WITHIN = "60 s"


def _add(parser: ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="the layup file")
    parser.add_argument(
        "--within",
        metavar="TIME",
        default=WITHIN,
        help=f"time in which every place is to be drawn down, once the film lies on; {WITHIN} without it",
    )
    parser.add_argument(
        "--pump", metavar="FLOW", help='flow of the pump, such as "40 L/min"; without it, that of the file'
    )
    parser.add_argument("--json", action="store_true", help="all of it for programs, lengths in mm")


def _run(arguments: Namespace, terminal: Terminal) -> int:
    within = _within(arguments.within)
    examined = examine_file(read_file(arguments.file))
    if examined.planned is None:
        terminal.give(f"{examined.checks[0].message}\n")
        return STOP
    planned = examined.planned
    ground = _ground(planned)
    if ground is None:
        terminal.give(f"{planned.plan.layup.title}\n\n{NO_BREATHER}\n")
        return STOP
    asked = _asked(planned, ground, arguments.pump, within)
    terminal.give(as_text(air_document(asked)) if arguments.json else air_sheet(asked))
    return FINE if asked.first.slowest <= within else STOP


def _within(text: str) -> Second:
    within = read_time(text)
    if not within > 0.0:
        raise LayupError("--within", f'"{text}"', "a time of more than 0 s")
    return within


def _ground(planned: Planned) -> Ground | None:
    plan = planned.plan
    layer, material = plan.stack.find("breather"), plan.chosen.breather
    if layer is None or material is None or layer.thickness <= 0.0 or material.void_fraction <= 0.0:
        return None
    return ground_of(plan.layup, layer, material, _numbers(planned).get("air.paper", 0.0))


def _asked(planned: Planned, ground: Ground, flow: str | None, within: Second) -> Asked:
    """Choose the valve's place and follow the air."""
    plan = planned.plan
    pumping = _pumping(planned, flow)
    cell = coarse_cell(ground)
    spots = places(plan.layup, plan.stack, plan.bag, plan.valve, ground, cell)
    first: Drawn = drawn(ground, (best_spot(ground, spots, pumping, cell),), pumping, fine_cell(ground))
    return Asked(
        plan=plan,
        ground=ground,
        pumping=pumping,
        within=within,
        film_down=_numbers(planned)["air.loose"] / pumping.flow,
        choices=len(spots),
        first=first,
        enough=valves_within(ground, spots, pumping, cell, first, within),
    )


def _pumping(planned: Planned, flow: str | None) -> Pumping:
    numbers, layup = _numbers(planned), planned.plan.layup
    pump = layup.pump
    own = pump.stroke / usual("pump.stroke") if pump.kind == "hand" else pump.flow
    taken = own if flow is None else read_flow(flow)
    if not taken > 0.0 or not math.isfinite(taken):
        raise LayupError("--pump", f'"{flow}"', 'a flow of air, such as "40 L/min"')
    outside, lowest = numbers["air.pressure"], numbers["pump.lowest"]
    return Pumping(
        outside=outside,
        final=max(outside - layup.vacuum.gauge, lowest),
        lowest=lowest,
        flow=taken,
        voids=numbers["air.voids"],
    )


def _numbers(planned: Planned) -> dict[str, float]:
    return {value.key: value.number for value in planned.report.values}


AIR = Command(
    name="air",
    help="say where the valve draws best, and when the air is gone everywhere",
    about="Follow the air through the breather to the valve: the place of the valve that draws the farthest point down "
    "first, a map of times, and how many valves it takes to be done within a time.",
    add=_add,
    run=_run,
)
