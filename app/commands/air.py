"""``underbag air``: the place of the valve that draws the farthest point down first, and when the air is gone."""

import math
from argparse import ArgumentParser, Namespace
from pathlib import Path

from ...model.air_answer import TAPERED, answer_air
from ...model.errors import ExportError, LayupError
from ...model.units import Mm3PerSecond, Second
from ..document import as_text
from ..examine import bagged, examine_file
from ..quantity import read_flow, read_time
from ..read.layup_file import read_file
from ..screen.air import NO_BREATHER, air_document, air_sheet
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
    parser.add_argument("-o", dest="picture", metavar="PICTURE", help="write the map as a picture, in SVG")


def _run(arguments: Namespace, terminal: Terminal) -> int:
    within, flow = _within(arguments.within), _flow(arguments.pump)
    planned = bagged(examine_file(read_file(arguments.file)))
    if isinstance(planned, str):
        terminal.give(f"{planned}\n")
        return STOP
    plan = planned.plan
    if plan.taper is not None:
        terminal.give(f"{plan.layup.title}\n\n{TAPERED}\n")
        return STOP
    answer = answer_air(plan, planned.report, within, flow)
    if answer is None:
        terminal.give(f"{plan.layup.title}\n\n{NO_BREATHER}\n")
        return STOP
    if arguments.picture:
        from ...export.air_map import air_picture

        _write(arguments.picture, air_picture(answer))
    terminal.give(as_text(air_document(answer)) if arguments.json else air_sheet(answer))
    return FINE if answer.first.slowest <= within else STOP


def _within(text: str) -> Second:
    within = read_time(text)
    if not within > 0.0:
        raise LayupError("--within", f'"{text}"', "a time of more than 0 s")
    return within


def _flow(text: str | None) -> Mm3PerSecond | None:
    if text is None:
        return None
    flow = read_flow(text)
    if not flow > 0.0 or not math.isfinite(flow):
        raise LayupError("--pump", f'"{text}"', 'a flow of air, such as "40 L/min"')
    return flow


def _write(path: str, content: bytes) -> None:
    from ..whole_file import write_whole

    if not path.endswith(".svg"):
        raise ExportError(f"{path} can't be written: the picture is an SVG; let its name end in .svg")
    write_whole(Path(path), content)


AIR = Command(
    name="air",
    help="say where the valve draws best, and when the air is gone everywhere",
    about="Follow the air through the breather to the valve: the place of the valve that draws the farthest point down "
    "first, a map of times, and how many valves it takes to be done within a time.",
    add=_add,
    run=_run,
)
