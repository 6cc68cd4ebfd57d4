"""``underbag fit``: whether a layup fits a bag that is there already, and how to lay it."""

import math
from argparse import ArgumentParser, Namespace

from ...model.bag.fit import Fit, Under, Way, fit
from ...model.bag.lay import bed_of
from ...model.bag.valve import valve_room
from ...model.errors import LayupError
from ...model.plan import Plan
from ...model.units import Mm
from ...model.wording import both, both_size
from ..columns import left, wrap
from ..examine import bagged, examine_file
from ..read.bag_size import read_bag_size
from ..read.layup_file import read_file
from ..screen.bag import SEATS
from ..status import FINE, STOP
from ..terminal import Terminal
from .kind import Command


def _add(parser: ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="the layup file")
    parser.add_argument(
        "--bag",
        metavar="LENGTHxWIDTH",
        help='inside size of the bag, lying flat, such as 1500x900 or "60 in x 36 in"; '
        "without it, the bag of the file",
    )
    parser.add_argument(
        "--valve",
        metavar="LENGTHxWIDTH",
        help="where the valve of that bag sits: from the closed end, and from the left seam as seen from the open end; "
        "without --bag, that of the file",
    )


def _run(arguments: Namespace, terminal: Terminal) -> int:
    file = read_file(arguments.file)
    planned = bagged(examine_file(file))
    if isinstance(planned, str):
        terminal.give(f"{planned}\n")
        return STOP
    plan = planned.plan
    length, width = (
        read_bag_size("--bag", arguments.bag, file.layup.unit)
        if arguments.bag
        else (plan.bag.owned_length, plan.bag.owned_width)
    )
    if length is None or width is None:
        raise LayupError("bag.length", "no bag", "--bag LENGTHxWIDTH, or [bag] length and width in the file")
    valve = _valve(arguments, plan, file.layup.unit)
    under = None if valve is None else Under(valve=valve, bed=bed_of(plan.layup, plan.stack, plan.bag))
    found = fit(plan.layup, plan.bag, valve_room(plan.layup, plan.stack), width, length, under)
    terminal.give(_told(plan.layup.title, found))
    return FINE if found.best else STOP


def _valve(arguments: Namespace, plan: Plan, unit: str) -> tuple[Mm, Mm] | None:
    """Place of the bag's valve: the one that is named, or that of the file's own bag."""
    if arguments.valve:
        return read_bag_size("--valve", arguments.valve, unit)
    own = plan.layup.valve
    if arguments.bag or own.from_closed_end is None or own.from_left_seam is None:
        return None
    return own.from_closed_end, own.from_left_seam


def _told(title: str, found: Fit) -> str:
    lines = [title, f"A bag of {both_size(found.length, found.width)} inside, lying flat.", ""]
    best = found.best
    lines += list(wrap(_verdict(found), ""))
    lines.append("")
    for way in found.ways:
        lines.append(f"  {left(way.name, 28)}{_room('along', way.spare_length)}")
        lines.append(f"  {left(_angle(way), 28)}{_room('across', way.spare_width)}")
    if best is not None:
        lines += [
            "",
            "LAY THE MIDDLE OF THE WORK",
            f"  {left('from the closed end', 44)}{both(best.middle_from_closed_end)}",
            f"  {left('from the left seam, seen from the open end', 44)}{both(best.middle_from_left_seam)}",
            *wrap(_seat(best), "  "),
        ]
    return "\n".join(lines) + "\n"


def _verdict(found: Fit) -> str:
    best, straight = found.best, found.ways[0]
    if best is straight:
        return (
            f"YES: it fits as it lies. The job may be {both(straight.spare_length)} longer "
            f"and {both(straight.spare_width)} wider."
        )
    if best is not None:
        why = (
            "as it lies, the valve would sit on the bare work"
            if straight.is_large_enough
            else f"as it lies, it lacks {both(-straight.shortest)} {_side(straight)}"
        )
        return (
            f"YES, {best.name}: {why}. The job may be {both(best.longer)} longer or {both(best.wider)} wider."
        )
    nearest = found.nearest
    if nearest.is_large_enough:
        return (
            "NO: it is large enough, but wherever the work is laid the valve sits on it, with no caul below. "
            "Lay a caul under the valve, or use a bag whose valve lies nearer to an end."
        )
    return f"NO: it lacks {both(-nearest.shortest)} {_side(nearest)}, and that is the best way to lay it ({nearest.name})."


def _seat(way: Way) -> str:
    if way.over is None:
        return (
            "Where the bag has its valve already, tell where: fit --valve 300x450. The work is laid under it."
        )
    return f"The valve then sits {SEATS[way.over]}."


def _side(way: Way) -> str:
    return "along the bag" if way.spare_length <= way.spare_width else "across the bag"


def _room(side: str, spare: float) -> str:
    word = "to spare" if spare >= 0.0 else "MISSING"
    return f"{both(abs(spare))} {word} {side}"


def _angle(way: Way) -> str:
    return f"  {math.degrees(way.turn):.0f}° to the bag" if way.turn else ""


FIT = Command(
    name="fit",
    help="say whether a layup fits a bag that is owned, and how to lay it",
    about="Hold a layup against a bag that is there already: as it lies, turned by a right angle, and on the diagonal.",
    add=_add,
    run=_run,
)
