"""``underbag together``: several panels pressed at once in one bag."""

from argparse import ArgumentParser, Namespace

from ...model.together import together
from ..document import as_text
from ..examine import Planned, bagged, examine_file
from ..read.bag_size import read_bag_size
from ..read.layup_file import read_file
from ..screen.together import is_in_time, together_document, together_sheet
from ..status import FINE, STOP
from ..terminal import Terminal
from .kind import Command


def _add(parser: ArgumentParser) -> None:
    parser.add_argument(
        "files", metavar="FILE", nargs="+", help="the layup files; one that is given twice is pressed twice"
    )
    parser.add_argument(
        "--bag",
        metavar="LENGTHxWIDTH",
        help='inside size of a bag that is there, such as 1500x900 or "60 in x 36 in"; '
        "without it, a new one of least film",
    )
    parser.add_argument("--json", action="store_true", help="all of it for programs, lengths in mm")


def _run(arguments: Namespace, terminal: Terminal) -> int:
    planned: list[Planned] = []
    unit = "mm"
    for path in arguments.files:
        # an error is told with the file that it is in
        arguments.file = path
        file = read_file(path)
        unit = file.layup.unit if path == arguments.files[0] else unit
        one = bagged(examine_file(file))
        if isinstance(one, str):
            terminal.give(f"{file.layup.title}: {one}\n")
            return STOP
        planned.append(one)
    arguments.file = ""
    owned = read_bag_size("--bag", arguments.bag, unit) if arguments.bag else None
    reports = tuple(one.report for one in planned)
    found = together(tuple(one.plan for one in planned), reports, owned)
    least, safe = (max(report.value(key).number for report in reports) for key in ("time.least", "time.safe"))
    terminal.give(
        as_text(together_document(found, (least, safe)))
        if arguments.json
        else together_sheet(found, (least, safe), terminal.ink)
    )
    return FINE if found.fits and is_in_time(found) else STOP


TOGETHER = Command(
    name="together",
    help="lay several panels out in one bag, for one pressing",
    about="Lay several panels out in one bag with a gap between them, each either way round: the bag of least film, or one "
    "that is there already; where each lies, where the valve sits, and whether the glue stays open long enough.",
    add=_add,
    run=_run,
)
