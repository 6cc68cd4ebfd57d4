"""Text in columns: widths as a terminal counts them, clipping, filling and wrapping."""

import re
from unicodedata import category, combining, east_asian_width

WIDTH = 80
"""Columns that all output keeps within."""

CLIPPED = "…"

TIE = "\u00a0"
"""Blank at which no line is broken; it is printed as a plain one."""

_QUANTITY = re.compile(r"[0-9][0-9.]* \S+ \([0-9][^()]{0,20}\)")


def width(text: str) -> int:
    """Columns that a text takes on a terminal: wide signs take two, combining ones none."""
    return len(text) if text.isascii() else sum(map(_sign_width, text))


def _sign_width(sign: str) -> int:
    if combining(sign) or category(sign) in ("Mn", "Me", "Cf"):
        return 0
    return 2 if east_asian_width(sign) in ("W", "F") else 1


def clip(text: str, most: int) -> str:
    """Cut a text to so many columns, with a mark where something is left out."""
    if width(text) <= most:
        return text
    text = text[:most]
    while width(text) > most - 1:
        text = text[:-1]
    return text.rstrip() + CLIPPED


def left(text: str, columns: int) -> str:
    """Text at the left of so many columns."""
    text = clip(text, columns)
    return text + " " * (columns - width(text))


def right(text: str, columns: int) -> str:
    """Text at the right of so many columns."""
    text = clip(text, columns)
    return " " * (columns - width(text)) + text


def ends(first: str, last: str, columns: int = WIDTH) -> str:
    """Two texts at the ends of one line; the first is clipped where they meet."""
    return left(first, columns - width(last) - 1) + " " + last if last else clip(first, columns)


def wrap(text: str, indent: str = "", first: str | None = None, columns: int = WIDTH) -> list[str]:
    """Break a text into lines at its blanks, but not within a quantity such as ``12.3 mm (1/2")``.

    Words that no line can hold are broken within.

    Parameters
    ----------
    text
        What to break.
    indent, first
        What every line, and the first one, begins with.
    """
    lines, line = [], indent if first is None else first
    start, room = line, columns - width(indent)
    text = _QUANTITY.sub(lambda found: tied(found.group()), text)
    for word in _pieces(text.split(" "), room):
        candidate = line + word if line == start else f"{line} {word}"
        if width(candidate) > columns and line != start:
            lines.append(line)
            line, start = indent + word, indent
            candidate = line
        line = candidate
    whole = [*lines, line] if line.strip() else lines
    return [line.replace(TIE, " ") for line in whole]


def tied(text: str) -> str:
    """Text that is kept in one line where there is room for it."""
    return text.replace(" ", TIE)


def _pieces(words: list[str], room: int) -> list[str]:
    """Words, the longest of them in pieces."""
    pieces = []
    for word in words:
        while width(word) > room:
            head = word[:room]
            while width(head) > room:
                head = head[:-1]
            pieces.append(head)
            word = word[len(head) :]
        pieces.append(word)
    return pieces
