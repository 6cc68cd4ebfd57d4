"""``underbag make``: the files of a layup, in one folder."""

from argparse import ArgumentParser, ArgumentTypeError, Namespace
from typing import TYPE_CHECKING

from ...model.errors import UnderbagError
from ..columns import clip, ends
from ..examine import Examined, Planned, examine_file
from ..exports import AIR, BY_DEFAULT, EXPORTS, Export, Job
from ..read.layup_file import LayupFile, read_file
from ..read.spelling import did_you_mean, listed
from ..screen.checks import STYLES, open_checks, verdict_line
from ..status import FINE, STOP
from ..terminal import Terminal
from .kind import Command

if TYPE_CHECKING:
    from ...model.air_answer import AirAnswer
    from ..make import Made
    from ..progress import Progress

KNOWN = tuple(export.name for export in EXPORTS)


def _add(parser: ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="the layup file")
    parser.add_argument("-o", dest="folder", metavar="DIR", required=True, help="the folder to write to")
    parser.add_argument(
        "--only",
        metavar="NAMES",
        type=_chosen,
        default=BY_DEFAULT,
        help=f"some of them, with commas between: {listed(KNOWN)}; {AIR} is made only where it is named",
    )
    parser.add_argument(
        "--progress", choices=["json"], help="tell how far the work is, one JSON object a line"
    )


def _chosen(text: str) -> tuple[Export, ...]:
    """Take the exports by their names, in the order in which they are made."""
    names = {name.strip() for name in text.split(",")}
    for name in sorted(names.difference(KNOWN)):
        hint = did_you_mean(name, KNOWN)
        raise ArgumentTypeError(f"found {name!r}; allowed: {listed(KNOWN)}. {hint}".rstrip())
    return tuple(export for export in EXPORTS if export.name in names)


def _run(arguments: Namespace, terminal: Terminal) -> int:
    file = read_file(arguments.file)
    examined = examine_file(file)
    progress = _progress(arguments, terminal)
    is_for_people = arguments.progress is None
    if examined.planned is None:
        progress.failed(examined.checks[0].message)
        if is_for_people:
            terminal.give(
                _head(file, examined, terminal) + "\n\nNothing was written: no such layup can be built.\n"
            )
        return STOP
    made = _make(arguments, file, examined, examined.planned, progress)
    if is_for_people:
        terminal.give(_head(file, examined, terminal) + "\n\n" + _files(arguments.folder, made))
    return STOP if examined.verdict == "stop" else FINE


def _make(
    arguments: Namespace, file: LayupFile, examined: Examined, planned: Planned, progress: "Progress"
) -> "tuple[Made, ...]":
    from pathlib import Path

    from ..make import make

    try:
        job = Job(examined, planned, _air(arguments.only, planned))
        return make(job, arguments.only, Path(arguments.folder), file.text.encode(), progress)
    except (UnderbagError, OSError) as error:
        progress.failed(str(error))
        raise


def _air(asked: tuple[Export, ...], planned: Planned) -> "AirAnswer | None":
    """Follow the air where its map is asked for."""
    if all(export.name != AIR for export in asked):
        return None
    from ...model.air_answer import WITHIN, answer_air

    # of a taper the air is not followed
    return None if planned.plan.taper is not None else answer_air(planned.plan, planned.report, WITHIN, None)


def _progress(arguments: Namespace, terminal: Terminal) -> "Progress":
    from ..progress import Bar, Lines, Silent

    if arguments.progress == "json":
        return Lines(terminal)
    return Bar(terminal) if terminal.talk.isatty() else Silent()


def _head(file: LayupFile, examined: Examined, terminal: Terminal) -> str:
    """Say how the layup stands, and what to change."""
    ink = terminal.ink
    verdict = ink(verdict_line(examined), STYLES[examined.verdict])
    return "\n".join([clip(file.layup.title, 80), verdict, *open_checks(examined, file.lines(), ink)])


def _files(folder: str, made: "tuple[Made, ...]") -> str:
    from ..make import MANIFEST

    lines = [f"Written to {folder}:"]
    lines += [ends(f"  {one.file}", _size(one.size)) for one in made]
    return "\n".join([*lines, ends(f"  {MANIFEST}", "names the set"), ""])


def _size(size: int) -> str:
    return f"{size / 1000:.1f} kB" if size < 1_000_000 else f"{size / 1e6:.1f} MB"


MAKE = Command(
    name="make",
    help="write drawings, solids, meshes, the preview and the cut list",
    about="Write the files of a layup to a folder: each of them whole, and a manifest that names them, last. "
    "Where a check says stop they are written all the same and say so, unless the shape cannot exist.",
    add=_add,
    run=_run,
)
