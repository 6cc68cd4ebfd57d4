"""Reading the tables of materials: csv files whose every value names its unit, source and basis.

Two forms. A *long* table has one row a value: ``key, property, value, low, high, unit, source, basis, note``. A
*wide* table has one row a material: columns of values, each group of them closed by its own ``…_source`` and
``…_basis`` column, and a first row with the key ``unit`` that gives the unit of every column. Both are read into
the same facts. Nothing is read when this module is imported.
"""

import csv
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from ..errors import TableError
from ..source import BASES, Source

FOLDER = Path(__file__).parent
LONG_COLUMNS = ("key", "property", "value", "low", "high", "unit", "source", "basis", "note")
TEXT = "text"
YES_OR_NO = "yes/no"
UNITS = frozenset(
    ("1", "%", "1/%", "mm", "mm²", "mm×mm", "MPa", "s", "°C", "g/mm²", "g/mm³", TEXT, YES_OR_NO)
)
"""The units that a table may use: internal ones, plain text, and yes or no."""
SEPARATOR = ";"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """One value of a material as the table gives it.

    Parameters
    ----------
    property
        What it is of the material; a column of a wide table.
    text
        The value as written.
    low, high
        The usual range; None where none is known.
    unit
        Internal unit, ``text`` or ``yes/no``.
    source
        Where it comes from.
    note
        A remark; may be empty.
    place
        Table, line and column, for an error text.
    """

    property: str
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
        return _number(self.text, self.place)

    @property
    def numbers(self) -> tuple[float, ...]:
        """The values of a list such as ``3; 6; 9``."""
        return tuple(_number(part, self.place) for part in self.text.split(SEPARATOR))

    @property
    def pairs(self) -> tuple[tuple[float, float], ...]:
        """The values of a list of sizes such as ``2440×1220; 3050×1525``."""
        sizes = tuple(
            tuple(_number(part, self.place) for part in size.split("×"))
            for size in self.text.split(SEPARATOR)
        )
        if any(len(size) != 2 for size in sizes):
            raise TableError(f"{self.place}: found {self.text!r}; allowed: sizes such as 2440×1220")
        return tuple((size[0], size[1]) for size in sizes)

    @property
    def flag(self) -> bool:
        """Whether the value is yes."""
        if self.text not in ("yes", "no"):
            raise TableError(f"{self.place}: found {self.text!r}; allowed: yes or no")
        return self.text == "yes"


@dataclass(frozen=True, slots=True, kw_only=True)
class Name:
    """What people call a material."""

    table: str
    key: str
    name: str
    aliases: tuple[str, ...]


@cache
def documents() -> dict[str, tuple[str, str]]:
    """Document and place of every source key."""
    return {row["key"]: (row["document"], row["place"]) for _, row in _rows("sources")}


@cache
def names() -> tuple[Name, ...]:
    """Names of every material, in the order of the table."""
    found = []
    for line, row in _rows("names"):
        if not row["key"] or not row["name"]:
            raise TableError(f"names.csv line {line}: key and name must not be empty")
        aliases = tuple(part.strip() for part in row["aliases"].split(SEPARATOR) if part.strip())
        found.append(Name(table=row["table"], key=row["key"], name=row["name"], aliases=aliases))
    return tuple(found)


def long_table(table: str) -> dict[str, tuple[Fact, ...]]:
    """Facts of every material of a long table, by key.

    Raises
    ------
    TableError
        A row lacks its unit, source or basis, or names one that is not known.
    """
    return long_facts(table, _rows(table))


def long_facts(table: str, rows: Iterable[tuple[int, dict[str, str]]]) -> dict[str, tuple[Fact, ...]]:
    """Read the numbered rows of a long table; see ``long_table``."""
    facts: dict[str, list[Fact]] = {}
    for line, row in rows:
        where = f"{table}.csv line {line} ({row.get('key')}, {row.get('property')})"
        for column in LONG_COLUMNS:
            if row.get(column) is None:
                raise TableError(f"{where}: column {column} is missing")
        for column in ("key", "property", "value"):
            if not row[column].strip():
                raise TableError(f"{where}: column {column} is empty; every row needs it")
        fact = Fact(
            property=row["property"],
            text=row["value"],
            unit=_unit(row["unit"], where),
            source=_source(row["source"], row["basis"], where),
            place=where,
            low=_number(row["low"], f"{where}, column low") if row["low"] else None,
            high=_number(row["high"], f"{where}, column high") if row["high"] else None,
            note=row["note"],
        )
        facts.setdefault(row["key"], []).append(fact)
    return {key: tuple(found) for key, found in facts.items()}


def wide_table(table: str) -> dict[str, tuple[Fact, ...]]:
    """Facts of every material of a wide table, by key.

    Raises
    ------
    TableError
        A column lacks its unit, or a value its source or basis.
    """
    return wide_facts(table, _rows(table))


def wide_facts(table: str, rows: Iterable[tuple[int, dict[str, str]]]) -> dict[str, tuple[Fact, ...]]:
    """Read the numbered rows of a wide table, the row of units first; see ``wide_table``."""
    numbered = iter(rows)
    line, units = next(numbered)
    if units["key"] != "unit":
        raise TableError(f"{table}.csv line {line}: the first row must have the key unit and give the units")
    groups = _groups(table, tuple(units))
    facts: dict[str, tuple[Fact, ...]] = {}
    for line, row in numbered:
        where = f"{table}.csv line {line} ({row['key']})"
        if row["key"] in facts:
            raise TableError(f"{where}: the key {row['key']} stands twice")
        found = []
        for columns, group in groups:
            source = _source(row[f"{group}_source"], row[f"{group}_basis"], f"{where}, column {group}")
            for column in columns:
                place = f"{where}, column {column}"
                if not (row[column] or "").strip():
                    raise TableError(f"{place} is empty; give a value, if need be an estimate marked as such")
                unit = _unit(units[column], place)
                found.append(Fact(property=column, text=row[column], unit=unit, source=source, place=place))
        facts[row["key"]] = tuple(found)
    return facts


def _groups(table: str, columns: tuple[str, ...]) -> tuple[tuple[tuple[str, ...], str], ...]:
    """Columns of values between ``key`` and ``note``, each group with the name of its source column."""
    groups = []
    open_columns: list[str] = []
    for column in columns[1:]:
        if column.endswith("_source"):
            groups.append((tuple(open_columns), column.removesuffix("_source")))
            open_columns = []
        elif not column.endswith("_basis") and column != "note":
            open_columns.append(column)
    if open_columns:
        raise TableError(
            f"{table}.csv: the columns {', '.join(open_columns)} have no source column after them"
        )
    return tuple(groups)


def _rows(table: str) -> Iterator[tuple[int, dict[str, str]]]:
    """Rows of a table with their line, the header being line 1."""
    with (FOLDER / f"{table}.csv").open(encoding="utf-8", newline="") as file:
        reader = csv.DictReader(file)
        for row in reader:
            yield reader.line_num, row


def _source(key: str | None, basis: str | None, where: str) -> Source:
    if not key:
        raise TableError(f"{where}: the source is empty; allowed: a key of sources.csv")
    if key not in documents():
        raise TableError(f"{where}: found the source {key!r}; allowed: a key of sources.csv")
    if basis not in BASES:
        raise TableError(f"{where}: found the basis {basis!r}; allowed: {', '.join(BASES)}")
    document, place = documents()[key]
    return Source(basis, document, place)  # type: ignore[arg-type]


def _unit(unit: str | None, where: str) -> str:
    if unit not in UNITS:
        raise TableError(f"{where}: found the unit {unit!r}; allowed: {', '.join(sorted(UNITS))}")
    return unit


def _number(text: str, place: str) -> float:
    try:
        return float(text)
    except ValueError:
        raise TableError(f"{place}: found {text!r}; allowed: a number") from None
