"""Where every table and key of a TOML text stands, for messages that point at a line.

Neither TOML library tells the place of a value. This index walks over a text that the standard library has
already accepted, so it only has to find keys, not to judge them; where it loses its way it gives what it has.

A place is named by a dotted path: ``panel.length``, ``"odd key".x``, and ``pieces[2].species`` for the third table
or element of an array, counted from 0.
"""

import json
import re
from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass, field

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_LAST = re.compile(r'\.?(?:[A-Za-z0-9_-]+|"(?:[^"\\]|\\.)*")$|\[[0-9]+\]$')
_SPACE = re.compile(r"[ \t]*")
_BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_KEY = re.compile(r"[A-Za-z0-9_-]+|\"(?:[^\"\\]|\\.)*\"|'[^']*'")
# A closing run of three to five quotes: up to two of them still belong to the text.
_TEXT = re.compile(
    r"\"\"\"(?:[^\\]|\\.)*?\"{3,5}|'''.*?'{3,5}|\"(?:[^\"\\]|\\.)*\"|'[^']*'",
    re.DOTALL,
)
_PLAIN = re.compile(r"[^,\]}\n#]+")


@dataclass(frozen=True, slots=True)
class Position:
    """A place in a text; line and column are counted from 1."""

    line: int
    column: int


def positions(text: str) -> dict[str, Position]:
    """Find the place of every table, key and array element of a valid TOML text, by dotted path.

    A table that is only implied, such as ``a`` in ``[a.b]``, stands where it is first named.
    """
    walk = _Walk(text)
    try:
        walk.document()
    except (_LostError, RecursionError):
        pass
    starts = [0, *(match.end() for match in re.finditer("\n", text))]
    lines = {path: bisect_right(starts, at) for path, at in walk.found.items()}
    return {path: Position(lines[path], at - starts[lines[path] - 1] + 1) for path, at in walk.found.items()}


def nearest(index: Mapping[str, Position], path: str) -> Position | None:
    """Give the place of a path, or of the closest table around it: a missing key has no place of its own."""
    while path and path not in index:
        path = _LAST.sub("", path) if _LAST.search(path) else ""
    return index.get(path)


def join(path: str, key: str) -> str:
    """Put a key behind a dotted path, in quotes where it needs them."""
    part = key if _BARE.fullmatch(key) else json.dumps(key, ensure_ascii=False)
    return f"{path}.{part}" if path else part


def element(path: str, number: int) -> str:
    """Put the number of an element behind the path of an array."""
    return f"{path}[{number}]"


class _LostError(Exception):
    """The walk met something that valid TOML does not have."""


@dataclass(slots=True)
class _Walk:
    """A walk through a text from its beginning, noting the offset at which each path is named."""

    text: str
    at: int = 0
    found: dict[str, int] = field(default_factory=dict)
    counts: dict[str, int] = field(default_factory=dict)

    def document(self) -> None:
        table = ""
        self.take(_BLANK)
        while self.at < len(self.text):
            if self.sees("["):
                table = self.header()
            else:
                self.pair(table)
            self.take(_BLANK)

    def header(self) -> str:
        """Walk over ``[a.b]`` or ``[[a.b]]``; give the path of the table that begins here."""
        marks = "[[" if self.text.startswith("[[", self.at) else "["
        self.at += len(marks)
        *outer, (last, at) = self.keys()
        self.at += len(marks)
        path = ""
        for key, start in outer:
            path = join(path, key)
            self.found.setdefault(path, start)
            if path in self.counts:
                path = element(path, self.counts[path] - 1)
        path = join(path, last)
        if marks == "[[":
            self.found.setdefault(path, at)
            number = self.counts.get(path, 0)
            self.counts[path] = number + 1
            path = element(path, number)
        self.found[path] = at
        return path

    def pair(self, table: str) -> None:
        """Walk over ``a.b = value`` of a table."""
        path = table
        for key, start in self.keys():
            path = join(path, key)
            self.found.setdefault(path, start)
        self.expect("=")
        self.value(path)

    def keys(self) -> list[tuple[str, int]]:
        """Walk over a dotted key; give its parts and their offsets."""
        parts = []
        while True:
            self.take(_SPACE)
            start = self.at
            parts.append((_unquoted(self.take(_KEY)), start))
            self.take(_SPACE)
            if not self.sees("."):
                return parts
            self.at += 1

    def value(self, path: str) -> None:
        self.take(_SPACE)
        if self.sees("["):
            self.array(path)
        elif self.sees("{"):
            self.inline(path)
        else:
            self.take(_TEXT if self.sees('"') or self.sees("'") else _PLAIN)

    def array(self, path: str) -> None:
        self.expect("[")
        self.take(_BLANK)
        number = 0
        while not self.sees("]"):
            self.found[element(path, number)] = self.at
            self.value(element(path, number))
            self.separate("]")
            number += 1
        self.at += 1

    def inline(self, path: str) -> None:
        self.expect("{")
        self.take(_BLANK)
        while not self.sees("}"):
            self.pair(path)
            self.separate("}")
        self.at += 1

    def separate(self, end: str) -> None:
        """Walk over the comma behind an element; behind the last one it may be missing."""
        self.take(_BLANK)
        if not self.sees(end):
            self.expect(",")
            self.take(_BLANK)

    def sees(self, mark: str) -> bool:
        return self.text.startswith(mark, self.at)

    def expect(self, mark: str) -> None:
        if not self.sees(mark):
            raise _LostError
        self.at += len(mark)

    def take(self, pattern: re.Pattern[str]) -> str:
        match = pattern.match(self.text, self.at)
        if match is None:
            raise _LostError
        self.at = match.end()
        return match.group()


def _unquoted(key: str) -> str:
    """Give the name that a key as written stands for."""
    if key.startswith("'"):
        return key[1:-1]
    if key.startswith('"'):
        from tomllib import TOMLDecodeError, loads

        try:
            return str(loads(f"key = {key}")["key"])
        except TOMLDecodeError:
            raise _LostError from None
    return key
