"""What is wrong with a file or a command, told so that it can be mended."""

from collections.abc import Iterator

from ...model.errors import LayupError
from ...model.layup.sections import SECTIONS
from ..columns import CLIPPED, WIDTH, clip, width, wrap
from .ink import Ink, visible

LONGEST = 600
"""Signs of what is allowed that are told at most."""
LONGEST_FOUND = 200
"""Signs of what was found that are told at most; more is no help to anybody."""


def mistake(path: str, error: LayupError, ink: Ink) -> str:
    """Say what is wrong in a layup file: the place, what was found, what is allowed, and what to do."""
    return "\n".join(_lines(path, error, ink)) + "\n"


def plain_mistake(text: str, ink: Ink) -> str:
    """Say in a sentence what went wrong."""
    return "\n".join(ink(line, "stop") for line in wrap(_short(text))) + "\n"


def _lines(path: str, error: LayupError, ink: Ink) -> Iterator[str]:
    parts = [f"line {error.line}" if error.line else "", clip(_key(error.key), WIDTH // 2)]
    where = "".join(f", {part}" for part in parts if part)
    yield ink(_end(visible(path), WIDTH - width(where)) + where, "stop")
    yield from wrap(clip(visible(error.found), LONGEST_FOUND), " " * 11, "  found:   ")
    yield from wrap(_short(error.allowed), " " * 11, "  allowed: ")
    if error.hint:
        yield from (ink(line, "heading") for line in wrap(_short(error.hint), "  "))


def _key(key: str) -> str:
    """Key as the file has it: the table in brackets, and its key."""
    table, _, name = _short(key).rpartition(".")
    if table:
        return f"[{table}] {name}"
    return f"[{name}]" if name in SECTIONS else name


def _end(path: str, most: int) -> str:
    """End of a path, where the name of the file is."""
    return path if width(path) <= most else CLIPPED + clip(path[::-1], most)[: most - 1][::-1].lstrip(CLIPPED)


def _short(text: str) -> str:
    return clip(visible(text), LONGEST)
