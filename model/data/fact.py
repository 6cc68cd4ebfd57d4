"""One value of a material as a table gives it: text, unit, source, and where it stands."""

from dataclasses import dataclass

from ..errors import TableError
from ..source import Source

TEXT = "text"
YES_OR_NO = "yes/no"
SIZES = "mm×mm"
UNITS = frozenset(("1", "%", "1/%", "mm", "mm²", SIZES, "MPa", "s", "°C", "g/mm²", "g/mm³", TEXT, YES_OR_NO))
"""The units that a table may use: internal ones, plain text, and yes or no."""
SEPARATOR = ";"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """One value of a material as the table gives it.

    Parameters
    ----------
    name
        Property of the material; a column of a wide table.
    text
        The value as written.
    unit
        Internal unit, ``text``, ``yes/no`` or ``mm×mm``.
    source
        Where it comes from.
    place
        Table, line, key and column, for an error text.
    low, high
        The usual range; None where none is known.
    note
        A remark; may be empty.
    """

    name: str
    text: str
    unit: str
    source: Source
    place: str
    low: float | None = None
    high: float | None = None
    note: str = ""

    @property
    def number(self) -> float:
        """The value as a number in internal units."""
        return number_of(self.text, self.place)

    @property
    def numbers(self) -> tuple[float, ...]:
        """The values of a list such as ``3; 6; 9``."""
        return tuple(number_of(part, self.place) for part in self.text.split(SEPARATOR))

    @property
    def sizes(self) -> tuple[tuple[float, float], ...]:
        """The values of a list of sizes such as ``2440×1220; 3050×1525``."""
        found = []
        for size in self.text.split(SEPARATOR):
            length, cross, width = size.partition("×")
            if not cross:
                raise TableError(f"{self.place}: found {self.text!r}; allowed: sizes such as 2440×1220")
            found.append((number_of(length, self.place), number_of(width, self.place)))
        return tuple(found)

    @property
    def flag(self) -> bool:
        """Whether the value is yes."""
        if self.text not in ("yes", "no"):
            raise TableError(f"{self.place}: found {self.text!r}; allowed: yes or no")
        return self.text == "yes"


def number_of(text: str, place: str) -> float:
    """Read the number that a cell holds; raises ``TableError`` with the place where it holds none."""
    try:
        return float(text)
    except ValueError:
        raise TableError(f"{place}: found {text!r}; allowed: a number") from None
