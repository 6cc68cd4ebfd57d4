"""``underbag start``: a layup file to begin with."""

import os
from argparse import ArgumentParser, Namespace

from ...model.errors import ExportError, LayupError
from ..status import FINE
from ..terminal import Terminal
from .kind import Command


def _add(parser: ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="the file to write; one that exists is left alone")
    parser.add_argument("--bent", action="store_true", help="for a panel bent to an arc, not a flat one")


def _run(arguments: Namespace, terminal: Terminal) -> int:
    from ..read.starter import starter

    _write_new(arguments.file, starter("bent" if arguments.bent else "flat"))
    terminal.say(f"{arguments.file} is written. Change its sizes, then: underbag check {arguments.file}\n")
    return FINE


def _write_new(path: str, text: str) -> None:
    """Write a file that was not there before, whole or not at all."""
    try:
        with open(path, "x", encoding="utf-8", newline="\n") as stream:
            try:
                stream.write(text)
                stream.flush()
            except OSError:
                os.unlink(path)
                raise
    except FileExistsError:
        raise LayupError(
            "", "a file of that name", "a name that is still free", "Nothing was written."
        ) from None
    except (OSError, ValueError) as error:
        raise ExportError(f"{path} can't be written: {getattr(error, 'strerror', None) or error}") from None


START = Command(
    name="start",
    help="write a layup file to begin with, every key explained",
    about="Write a layup file to begin with. It names every key with its default, its limits and what it means.",
    add=_add,
    run=_run,
)
