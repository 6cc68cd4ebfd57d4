"""``underbag bags``: the bags that a whole workshop's layups need."""

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator

from ...model.bag.choice import fewest, one_each, reused
from ...model.bag.lay import bed_of
from ...model.bag.needs import Bag, Job, job_of, make_of
from ...model.errors import LayupError
from ...model.plan import Plan
from ...model.units import Mm
from ..columns import wrap
from ..document import as_text
from ..examine import bagged, examine_file
from ..quantity import read_length
from ..read.bag_size import read_bag_size
from ..read.layup_file import read_file
from ..screen.bag_choice import Section, bags_document, bags_sheet
from ..status import FINE, STOP
from ..terminal import Terminal
from .kind import Command

FEW = 3
"""Sizes of bags that a shop keeps in mind, where nothing else is asked for."""
LEAST_STEP: Mm = 5.0
MOST_STEP: Mm = 1000.0


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
    parser.add_argument("--json", action="store_true", help="all of it for programs, lengths in mm")


def _run(arguments: Namespace, terminal: Terminal) -> int:
    if arguments.most is not None and arguments.most < 1:
        raise LayupError("--most", str(arguments.most), "a whole number of 1 or more")
    plans, refused, unit = [], [], "mm"
    for path in arguments.files:
        # an error is told with the file that it is in
        arguments.file = path
        file = read_file(path)
        unit = file.layup.unit if path == arguments.files[0] else unit
        planned = bagged(examine_file(file))
        if isinstance(planned, str):
            refused.append(f"{file.layup.title} is left out: {planned}")
        else:
            plans.append(planned.plan)
    arguments.file = ""
    step = _step(arguments.step, unit)
    asked = [read_bag_size("--owned", text, unit) for text in arguments.owned]
    owned = (*(Bag(length=length, width=width) for length, width in asked), *_owned_by(plans))
    jobs = tuple(
        job_of(plan.layup.title, plan.bag, plan.chosen.film.key, bed_of(plan.layup, plan.stack, plan.bag))
        for plan in plans
    )
    films = {plan.chosen.film.key: plan.chosen.film.name for plan in plans}
    sections = tuple(_sections(jobs, owned, step, arguments.most)) if jobs else ()
    if arguments.json:
        terminal.give(as_text(bags_document(step, sections, refused)))
        return STOP if refused else FINE
    lines = [line for text in refused for line in wrap(text, "  ", "")]
    if jobs:
        lines += bags_sheet(len(jobs), step, sections, films)
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
        valve = plan.layup.valve
        place = None
        if valve.from_closed_end is not None and valve.from_left_seam is not None:
            place = valve.from_closed_end, valve.from_left_seam
        bag = Bag(length=length, width=width, make=make_of(plan.bag, plan.chosen.film.key), valve=place)
        if bag not in told:
            told.add(bag)
            yield bag


def _sections(jobs: tuple[Job, ...], owned: tuple[Bag, ...], step: Mm, most: int | None) -> Iterator[Section]:
    """Answers to both questions: bags used again, and a bag for every job."""
    least = fewest(jobs, owned)
    again = reused(jobs, owned, step, most)
    yield Section(key="reused", title="BAGS USED AGAIN AND AGAIN, least film", choice=again, copies=1)
    if len(again.bags) - again.owned > least:
        few = reused(jobs, owned, step, least)
        yield Section(key="fewest", title="BAGS USED AGAIN AND AGAIN, fewest new ones", choice=few, copies=1)
    each = one_each(jobs, max(least, FEW) if most is None else most, owned, step)
    number = len(each.bags) - each.owned
    title = f"A BAG FOR EVERY JOB, out of {number} new size{'s' if number != 1 else ''}"
    yield Section(key="one each", title=title, choice=each, copies=0)


BAGS = Command(
    name="bags",
    help="choose the fewest or cheapest bags for many layups",
    about="Choose bags for all layups of a workshop: few that are used again and again, and one for every job out of few sizes. "
    "Jobs may be turned by a right angle; bags that are owned are used first.",
    add=_add,
    run=_run,
)
