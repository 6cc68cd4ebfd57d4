"""What a command is: its words for the help, its arguments, and what it does."""

from argparse import ArgumentParser, Namespace
from collections.abc import Callable
from dataclasses import dataclass

from ..terminal import Terminal


@dataclass(frozen=True, slots=True, kw_only=True)
class Command:
    """One command.

    Parameters
    ----------
    name
        What is typed.
    help
        What it does, in one line.
    about
        What it does, at length.
    add
        Adds its arguments to a parser.
    run
        Does it and gives the status for the shell; raises LayupError for a file that can't be used, and
        ExportError or OSError for what can't be made or written.
    """

    name: str
    help: str
    about: str
    add: Callable[[ArgumentParser], None]
    run: Callable[[Namespace, Terminal], int]
