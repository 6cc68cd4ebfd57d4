"""How far the making of a set is: a bar for people, lines of JSON for programs, or nothing."""

import json
from dataclasses import dataclass
from typing import Protocol

from .columns import left
from .terminal import Terminal

BAR = 30
"""Columns of the bar."""


class Progress(Protocol):
    """Whoever is told how far the work is."""

    def begin(self, exports: tuple[str, ...]) -> None:
        """Hear what will be made."""

    def making(self, done: int, total: int, export: str) -> None:
        """Hear what is made now, and how many are done."""

    def wrote(self, file: str, size: int, digest: str) -> None:
        """Hear of a file that is in its place."""

    def end(self, verdict: str) -> None:
        """Hear that the set is whole."""

    def failed(self, cause: str) -> None:
        """Hear that the set was given up."""


@dataclass(frozen=True, slots=True)
class Silent:
    """Tells nothing."""

    def begin(self, exports: tuple[str, ...]) -> None:
        """Say nothing."""

    def making(self, done: int, total: int, export: str) -> None:
        """Say nothing."""

    def wrote(self, file: str, size: int, digest: str) -> None:
        """Say nothing."""

    def end(self, verdict: str) -> None:
        """Say nothing."""

    def failed(self, cause: str) -> None:
        """Say nothing."""


@dataclass(frozen=True, slots=True)
class Bar:
    """Draws a bar in the last line of a terminal, and takes it away in the end."""

    terminal: Terminal

    def begin(self, exports: tuple[str, ...]) -> None:
        """Begin with nothing drawn."""

    def making(self, done: int, total: int, export: str) -> None:
        """Draw how far the work is."""
        filled = BAR * done // total
        bar = "#" * filled + "." * (BAR - filled)
        self.terminal.say(f"\r{left(f'[{bar}] {done} of {total}  {export}', 78)}")

    def wrote(self, file: str, size: int, digest: str) -> None:
        """Say nothing: files come too fast to be read."""

    def end(self, verdict: str) -> None:
        """Take the bar away."""
        self._clear()

    def failed(self, cause: str) -> None:
        """Take the bar away."""
        self._clear()

    def _clear(self) -> None:
        self.terminal.say(f"\r{' ' * 78}\r")


@dataclass(frozen=True, slots=True)
class Lines:
    """Tells every event as one line of JSON among the results."""

    terminal: Terminal

    def begin(self, exports: tuple[str, ...]) -> None:
        """Tell what will be made."""
        self._tell(event="begin", exports=exports)

    def making(self, done: int, total: int, export: str) -> None:
        """Tell what is made now."""
        self._tell(event="making", export=export, done=done, of=total)

    def wrote(self, file: str, size: int, digest: str) -> None:
        """Tell of a file."""
        self._tell(event="wrote", file=file, bytes=size, sha256=digest)

    def end(self, verdict: str) -> None:
        """Tell how the set ended."""
        self._tell(event="end", status=verdict)

    def failed(self, cause: str) -> None:
        """Tell why the set was given up."""
        self._tell(event="failed", cause=cause)

    def _tell(self, **event: object) -> None:
        self.terminal.give(json.dumps(event, ensure_ascii=True) + "\n")
        self.terminal.results.flush()
