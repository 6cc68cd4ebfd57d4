"""The two streams that a command talks on: results on one, talk on the other."""

import os
import sys
from dataclasses import dataclass
from typing import TextIO

from .screen.ink import Ink, no_ink, printable, terminal_ink


@dataclass(frozen=True, slots=True)
class Terminal:
    """Streams of a command, each with the signs and colours that it takes.

    Parameters
    ----------
    results, talk
        Where results go, and where everything else that is said goes.
    """

    results: TextIO
    talk: TextIO

    @property
    def ink(self) -> Ink:
        """Ink for results."""
        return ink_of(self.results)

    @property
    def talk_ink(self) -> Ink:
        """Ink for talk."""
        return ink_of(self.talk)

    def give(self, text: str) -> None:
        """Write a result."""
        _write(self.results, text)

    def say(self, text: str) -> None:
        """Write what is no result: a hint, an error, how far the work is."""
        _write(self.talk, text)
        self.talk.flush()


def standard() -> Terminal:
    """Streams of this process."""
    return Terminal(sys.stdout, sys.stderr)


def ink_of(stream: TextIO) -> Ink:
    """Ink for a stream: colour on a terminal alone, and not where ``NO_COLOR`` is set."""
    is_plain = os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb" or not stream.isatty()
    return no_ink if is_plain else terminal_ink


def _write(stream: TextIO, text: str) -> None:
    stream.write(printable(text, stream.encoding or "ascii"))
