"""``underbag bags``: the bags that a whole workshop's layups need."""

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator

from ...model.bag.choice import Choice, Placed, fewest, one_each, reused
from ...model.bag.needs import STRAIGHT, Bag, Job, job_of, make_of
from ...model.errors import LayupError
from ...model.plan import Plan
from ...model.units import Mm
from ...model.wording import area, both, both_size
from ..columns import ends, left, right, wrap
from ..examine import examine_file
from ..quantity import read_length
from ..read.bag_size import read_bag_size
from ..read.layup_file import read_file
from ..screen.bag import KINDS
from ..status import FINE, STOP
from ..terminal import Terminal
from .kind import Command

FEW = 3
"""Sizes of bags that a shop keeps in mind, where nothing else is asked for."""
LEAST_STEP: Mm = 5.0
MOST_STEP: Mm = 1000.0
JOB = 44
"""Columns of a job's name."""


def _add(parser: ArgumentParser) -> None:
    parser.add_argument("files", metavar="FILE", nargs="+", help="the layup files")
    parser.add_argument(
        "--most",
        metavar="K",
        type=int,
        help=f"new bags, and sizes of them, at the most; without it as many bags as need least film, and {FEW} sizes",
    )
    parser.add_argument(
        "--step", metavar="LENGTH", default="50 mm", help="steps in which bags are cut; 50 mm without it"
    )
    parser.add_argument(
        "--owned",
        metavar="LENGTHxWIDTH",
        action="append",
        default=[],
        help="inside size of a bag that is there already; may be given again. "
        "Bags that the files own are counted without it",
    )


def _run(arguments: Namespace, terminal: Terminal) -> int:
    if arguments.most is not None and arguments.most < 1:
        raise LayupError("--most", str(arguments.most), "a whole number of 1 or more")
    plans, refused, unit = [], [], "mm"
    for path in arguments.files:
        # an error is told with the file that it is in
        arguments.file = path
        file = read_file(path)
        unit = file.layup.unit if path == arguments.files[0] else unit
        examined = examine_file(file)
        if examined.planned is None:
            refused.append(f"{file.layup.title} is left out: {examined.checks[0].message}")
        else:
            plans.append(examined.planned.plan)
    arguments.file = ""
    step = _step(arguments.step, unit)
    asked = [read_bag_size("--owned", text, unit) for text in arguments.owned]
    owned = (*(Bag(length=length, width=width) for length, width in asked), *_owned_by(plans))
    jobs = tuple(job_of(plan.layup.title, plan.bag, plan.chosen.film.key) for plan in plans)
    films = {plan.chosen.film.key: plan.chosen.film.name for plan in plans}
    lines = [line for text in refused for line in wrap(text, "  ", "")]
    if jobs:
        lines += _told(jobs, owned, step, arguments.most, films)
    terminal.give("\n".join(lines) + "\n")
    return STOP if refused else FINE


def _step(text: str, unit: str) -> Mm:
    step = read_length(text, unit)
    if not LEAST_STEP <= step <= MOST_STEP:
        raise LayupError("--step", f'"{text}"', f"{LEAST_STEP:g} mm to {MOST_STEP:g} mm")
    return step


def _owned_by(plans: list[Plan]) -> Iterator[Bag]:
    """Bags that the files own, each once."""
    told = set()
    for plan in plans:
        length, width = plan.bag.owned_length, plan.bag.owned_width
        if length is None or width is None:
            continue
        bag = Bag(length=length, width=width, make=make_of(plan.bag, plan.chosen.film.key))
        if bag not in told:
            told.add(bag)
            yield bag


def _told(
    jobs: tuple[Job, ...], owned: tuple[Bag, ...], step: Mm, most: int | None, films: dict[str, str]
) -> Iterator[str]:
    count = f"{len(jobs)} layup{'s' if len(jobs) > 1 else ''}"
    yield ends(f"Bags for {count}", f"inside, lying flat, cut in steps of {both(step)}")
    least = fewest(jobs, owned)
    again = reused(jobs, owned, step, most)
    yield from _section("BAGS USED AGAIN AND AGAIN, least film", again, films, 1)
    if len(again.bags) - again.owned > least:
        yield from _section(
            "BAGS USED AGAIN AND AGAIN, fewest new ones", reused(jobs, owned, step, least), films, 1
        )
    sizes = max(least, FEW) if most is None else most
    each = one_each(jobs, sizes, owned, step)
    number = len(each.bags) - each.owned
    yield from _section(
        f"A BAG FOR EVERY JOB, out of {number} new size{'s' if number != 1 else ''}", each, films, 0
    )
    yield ""
    yield from wrap(
        "Waste is film of the bag beyond the smallest that holds the job. Bags that are owned cost nothing; "
        "in a bag for every job they are taken to be there as often as they are needed."
    )


def _section(title: str, choice: Choice, films: dict[str, str], copies: int) -> Iterator[str]:
    yield ""
    yield ends(title, f"new film {area(choice.film)}")
    for number, bag in enumerate(choice.bags):
        inside = [one for one in choice.placed if one.bag == number]
        yield ""
        yield ends(
            f"  {both_size(bag.length, bag.width)}", _copies(number < choice.owned, copies, len(inside))
        )
        if bag.make is not None:
            yield from wrap(f"{KINDS[bag.make.kind]}; {films[bag.make.film]}", "    ")
        for one in inside:
            yield _row(one)
    if len(choice.bags) > 1 or len(choice.placed) > 1:
        yield ends("  waste in all", area(choice.waste))


def _copies(is_owned: bool, copies: int, jobs: int) -> str:
    if is_owned:
        return "owned"
    return "new" if copies else f"{jobs} new"


def _row(one: Placed) -> str:
    way = "" if one.way == STRAIGHT else one.way.removesuffix(" by a right angle")
    waste = area(one.waste)
    return f"    {left(one.job.name, JOB - 16)} {left(way, 15)}{right(f'waste {waste}', 32)}".rstrip()


BAGS = Command(
    name="bags",
    help="choose the fewest or cheapest bags for many layups",
    about="Choose bags for all layups of a workshop: few that are used again and again, and one for every job out of few sizes. "
    "Jobs may be turned by a right angle; bags that are owned are used first.",
    add=_add,
    run=_run,
)
