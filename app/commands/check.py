"""``underbag check``: what to change, what to cut, and how large the bag is."""

from argparse import ArgumentParser, Namespace

from ..document import as_text, document
from ..examine import Examined, examine_file
from ..read.layup_file import LayupFile, read_file
from ..screen.sheet import full_sheet, short_sheet
from ..status import FINE, STOP
from ..terminal import Terminal
from .kind import Command


def _add(parser: ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="the layup file")
    shown = parser.add_mutually_exclusive_group()
    shown.add_argument("--json", action="store_true", help="all of it for programs, lengths in mm")
    shown.add_argument(
        "--all",
        action="store_true",
        help="also the checks that hold, all values with their working, all reasons",
    )


def _run(arguments: Namespace, terminal: Terminal) -> int:
    file = read_file(arguments.file)
    examined = examine_file(file)
    terminal.give(
        as_text(document(examined)) if arguments.json else _sheet(arguments, file, examined, terminal)
    )
    return STOP if examined.verdict == "stop" else FINE


def _sheet(arguments: Namespace, file: LayupFile, examined: Examined, terminal: Terminal) -> str:
    sheet = full_sheet if arguments.all else short_sheet
    return sheet(examined, file.lines(), terminal.ink)


CHECK = Command(
    name="check",
    help="say what to change, what to cut, and how large the bag is",
    about="Say what to change first; then every layer with its cut size, the bag, the valve and the main values.",
    add=_add,
    run=_run,
)
