"""What one key of the layup file may hold: its quantity, limits, choices and a word of help.

The sections of a layup are plain dataclasses; each field carries a ``Setting`` in its metadata. Reading,
the JSON schema, the starter file and the page are all made from these records, so that nothing is said twice.
"""

from collections.abc import Mapping
from dataclasses import Field, dataclass, field, fields
from functools import cache
from types import MappingProxyType
from typing import Any, Literal

from ..shape.profile import Run

Quantity = Literal[
    "text",
    "choice",
    "length",
    "altitude",
    "angle",
    "pressure",
    "temperature",
    "spread",
    "count",
    "share",
    "flow",
    "volume",
    "time",
    "flag",
    "number",
    "chain",
    "lengths",
    "points",
]

Row = tuple[Run, ...] | tuple[float, ...] | tuple[tuple[float, float], ...]
"""Pieces of a chain of arcs and straight runs, lengths, or points."""

Entry = str | float | Row
"""What a key may hold: a text, a number in internal units, or a row of parts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """One key of the layup file.

    Parameters
    ----------
    quantity
        What kind of thing the key holds.
    help
        One sentence for the person who writes the file.
    low, high
        Smallest and largest number allowed, in internal units, both included.
    choices
        The words allowed for a choice; for ``text`` the name of the table that is searched, if any.
    table
        Name of the material table that a text is looked up in; empty for free text.
    longest
        Most characters of a free text, which is one line.
    refused
        Words that people write for a choice though no layup can have it: what is wrong with them is told where the
        whole layup is known.
    """

    quantity: Quantity
    help: str
    low: float = 0.0
    high: float = 0.0
    choices: tuple[str, ...] = ()
    table: str = ""
    longest: int = 0
    refused: tuple[str, ...] = ()


def setting(quantity: Quantity, help: str, low: float = 0.0, high: float = 0.0) -> Any:
    """Declare a numeric field of a section, with its limits in internal units."""
    return field(metadata={"setting": Setting(quantity=quantity, help=help, low=low, high=high)})


def choice(help: str, *choices: str, refused: tuple[str, ...] = ()) -> Any:
    """Declare a field that holds one of a few words."""
    return field(
        metadata={"setting": Setting(quantity="choice", help=help, choices=choices, refused=refused)}
    )


def chain(help: str) -> Any:
    """Declare a field that holds a chain of tangent arcs and straight runs."""
    return field(metadata={"setting": Setting(quantity="chain", help=help)})


def lengths(help: str, low: float, high: float) -> Any:
    """Declare a field that holds a row of lengths, each within limits in internal units."""
    return field(metadata={"setting": Setting(quantity="lengths", help=help, low=low, high=high)})


def points(help: str, low: float, high: float) -> Any:
    """Declare a field that holds a row of points, each of two lengths within limits in internal units."""
    return field(metadata={"setting": Setting(quantity="points", help=help, low=low, high=high)})


def text(help: str, table: str) -> Any:
    """Declare a field that holds a name which is looked up in a table of materials."""
    return field(metadata={"setting": Setting(quantity="text", help=help, table=table)})


def line(help: str, longest: int) -> Any:
    """Declare a field that holds one line of free text, or is left open."""
    return field(metadata={"setting": Setting(quantity="text", help=help, longest=longest)})


@cache
def settings_of(section: type) -> Mapping[str, Setting]:
    """Give the settings of a section by field name, in the order of the file."""
    return MappingProxyType(
        {item.name: setting_of(item) for item in fields(section) if "setting" in item.metadata}
    )


def setting_of(item: "Field[Any]") -> Setting:
    """Give the setting that a field carries."""
    found: Setting = item.metadata["setting"]
    return found
