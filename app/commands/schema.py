"""``underbag schema``: what a layup file may hold, for editors."""

from argparse import ArgumentParser, Namespace

from ..document import as_text
from ..status import FINE
from ..terminal import Terminal
from .kind import Command


def _add(parser: ArgumentParser) -> None:
    """No arguments."""


def _run(arguments: Namespace, terminal: Terminal) -> int:
    from ..read.schema import schema

    terminal.give(as_text(schema()))
    return FINE


SCHEMA = Command(
    name="schema",
    help="print the JSON Schema of the layup file, for editors",
    about="Print the JSON Schema (draft 2020-12) of the layup file; editors complete and check a file by it.",
    add=_add,
    run=_run,
)
