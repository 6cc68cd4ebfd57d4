"""What a document is made of: chapters of sentences, measurements, tables, remarks, pictures and workings.

A document knows no layup and no format. Every text is plain; the writers escape it for the place where it goes.
"""

from dataclasses import dataclass
from typing import Literal

from ..page.content import Line, Status

Size = Literal["A4", "Letter"]
"""Paper that a document is printed on: ISO 216, or the North American sheet of 8 1/2 by 11 inches."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Subtitle:
    """A heading within a chapter."""

    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Sentences:
    """Sentences, each a point of a list."""

    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Measures:
    """Labels with what belongs to each."""

    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """A cell of a table: its text, bold where it is ``strong``, a smaller line below, and boxes to tick before it."""

    text: str
    below: str = ""
    boxes: int = 0
    strong: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column of a table: its heading, and its share of the width on paper."""

    name: str
    share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table; ``head`` is the place of the column that names the rows, ``about`` the sentence above it."""

    about: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    head: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark:
    """One check at length: verdict, what was found, its numbers, what to change, why, and on what ground."""

    status: Status
    title: str
    message: str
    numbers: str
    change: str
    why: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A drawn view as inline SVG, with its name and the sentence below it."""

    name: str
    svg: str
    caption: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Working:
    """A value: name, key, how it is told, the lines of its working, and its source."""

    name: str
    key: str
    told: str
    lines: tuple[str, ...]
    source: str


Piece = Subtitle | Sentences | Measures | Table | Remark | Picture | Working


@dataclass(frozen=True, slots=True, kw_only=True)
class Chapter:
    """A part of a document; ``key`` is a word, unique within the document."""

    key: str
    title: str
    pieces: tuple[Piece, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """A whole document.

    Parameters
    ----------
    title
        Title of the job.
    kind
        What the document is, such as ``"Report"``.
    status, summary
        The worst verdict of all checks, and the same in words.
    chapters
        In reading order; one without pieces is left out.
    size
        Paper that it is printed on.
    letters
        Height of the letters on paper, in points; large for what hangs on a wall.
    """

    title: str
    kind: str
    status: Status
    summary: str
    chapters: tuple[Chapter, ...]
    size: Size = "A4"
    letters: float = 8.5
