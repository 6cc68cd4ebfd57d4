"""What the preview says in words: plain strings, ready to print, in the order in which they are shown."""

from dataclasses import dataclass
from typing import Literal

Status = Literal["ok", "caution", "stop", "not applicable"]


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckRow:
    """One check: how it came out, what it is, what was found, and what to change (or an empty text)."""

    status: Status
    title: str
    message: str
    change: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeRow:
    """One blank to cut: its layer's number, what it is, and length × width in mm and in inches."""

    number: str
    name: str
    material: str
    mm: str
    inches: str
    thickness: str
    quantity: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LayerRow:
    """One layer; ``key`` is that of its part in the scene, ``note`` a short line such as its blank.

    ``place`` says how high it lies, such as ``"16.4 mm above the form"``; empty for what is no layer.
    """

    key: str
    number: str
    name: str
    material: str
    note: str
    place: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A label and what belongs to it, such as ``"from the closed end"`` and ``"412 mm (16 1/4 in)"``."""

    label: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Content:
    """Everything that the preview prints.

    Parameters
    ----------
    title
        Title of the job.
    date
        Date line, or an empty text.
    status
        The worst status of all checks.
    summary
        The status in words, such as ``"2 cautions, no stop"``.
    checks
        Worst first.
    sizes
        Blanks to cut, from below upward.
    bag, valve
        Measurements of the bag, and where the valve sits.
    layers
        Every layer from below upward, then what is not a layer (form, bag, valve).
    cautions, notes
        Sentences; dangers to people, and remarks.
    """

    title: str
    date: str
    status: Status
    summary: str
    checks: tuple[CheckRow, ...]
    sizes: tuple[SizeRow, ...]
    bag: tuple[Line, ...]
    valve: tuple[Line, ...]
    layers: tuple[LayerRow, ...]
    cautions: tuple[str, ...]
    notes: tuple[str, ...]
