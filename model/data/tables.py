"""Reading the tables of materials: csv files whose every value names its unit, source and basis.

Two forms. A *long* table has one row a value: ``key, property, value, low, high, unit, source, basis, note``. A
*wide* table has one row a material: columns of values, each group of them closed by its own ``…_source`` and
``…_basis`` column, and a first row with the key ``unit`` that gives the unit of every column. Both give the same
facts. Nothing is read when this module is imported; a table is read once, and a material's rows when asked for.
"""

import csv
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from ..errors import TableError
from ..source import BASES, Source
from .fact import SEPARATOR, UNITS, Fact, number_of

FOLDER = Path(__file__).parent
LONG_COLUMNS = ("key", "property", "value", "low", "high", "unit", "source", "basis", "note")
REPEATED = frozenset(("caution",))
"""Properties of a long table that one material may have several rows of."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """The cells of one table, by key.

    Parameters
    ----------
    name
        Name of the file without its ending.
    columns
        Names of the columns.
    rows
        Line and cells of every row of a key.
    """

    name: str
    columns: tuple[str, ...]
    rows: dict[str, tuple[tuple[int, tuple[str, ...]], ...]]

    @property
    def keys(self) -> tuple[str, ...]:
        """Keys of the materials, in the order of the table."""
        return tuple(key for key in self.rows if key != "unit")


@dataclass(frozen=True, slots=True, kw_only=True)
class Name:
    """What people call a material."""

    table: str
    key: str
    name: str
    aliases: tuple[str, ...]


@cache
def open_table(name: str) -> Table:
    """Read one table of this folder by its name."""
    with (FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return read_table(name, file)


def read_table(name: str, lines: Iterable[str]) -> Table:
    """Read a table out of its lines.

    Raises
    ------
    TableError
        A row has more or fewer cells than there are columns, or no key.
    """
    reader = csv.reader(lines)
    columns = tuple(next(reader))
    rows: dict[str, tuple[tuple[int, tuple[str, ...]], ...]] = {}
    for cells in reader:
        if len(cells) != len(columns):
            raise TableError(
                f"{name}.csv line {reader.line_num}: found {len(cells)} cells; allowed: {len(columns)}"
            )
        key = cells[0]
        if not key:
            raise TableError(
                f"{name}.csv line {reader.line_num}: column {columns[0]} is empty; every row needs it"
            )
        rows[key] = (*rows.get(key, ()), (reader.line_num, tuple(cells)))
    return Table(name=name, columns=columns, rows=rows)


@cache
def facts_in(name: str, key: str) -> tuple[Fact, ...]:
    """Facts of one material of one table of this folder; see ``facts_of_rows``."""
    return facts_of_rows(open_table(name), key)


def facts_of_rows(table: Table, key: str) -> tuple[Fact, ...]:
    """Facts of one material of a table.

    Raises
    ------
    TableError
        A value lacks its unit, source or basis, or names one that is not known; or the material is not there.
    """
    if key not in table.rows:
        raise TableError(f"{table.name}.csv has no row with the key {key!r}, which names.csv lists")
    return _long_facts(table, key) if table.columns == LONG_COLUMNS else _wide_facts(table, key)


def _long_facts(table: Table, key: str) -> tuple[Fact, ...]:
    facts: list[Fact] = []
    for line, cells in table.rows[key]:
        _, prop, value, low, high, unit, source, basis, note = cells
        place = f"{table.name}.csv line {line} ({key}, {prop})"
        if not prop or not value:
            raise TableError(
                f"{place}: column {'value' if prop else 'property'} is empty; every row needs it"
            )
        if prop not in REPEATED and any(fact.name == prop for fact in facts):
            raise TableError(f"{place}: the property stands twice")
        fact = Fact(
            name=prop,
            text=value,
            unit=_unit(unit, place),
            source=_source(source, basis, place),
            place=place,
            low=number_of(low, f"{place}, column low") if low else None,
            high=number_of(high, f"{place}, column high") if high else None,
            note=note,
        )
        facts.append(fact)
    return tuple(facts)


def _wide_facts(table: Table, key: str) -> tuple[Fact, ...]:
    if "unit" not in table.rows:
        raise TableError(f"{table.name}.csv: the row with the key unit, which gives the units, is missing")
    if len(table.rows[key]) > 1:
        raise TableError(f"{table.name}.csv line {table.rows[key][1][0]}: the key {key} stands twice")
    line, cells = table.rows[key][0]
    row = dict(zip(table.columns, cells, strict=True))
    units = dict(zip(table.columns, table.rows["unit"][0][1], strict=True))
    facts = []
    for columns, group in _groups(table):
        where = f"{table.name}.csv line {line} ({key}"
        source = _source(row[f"{group}_source"], row[f"{group}_basis"], f"{where}, column {group})")
        for column in columns:
            place = f"{where}, {column})"
            if not row[column]:
                raise TableError(
                    f"{place}: column {column} is empty; give a value, if need be an estimate that says so"
                )
            facts.append(
                Fact(
                    name=column,
                    text=row[column],
                    unit=_unit(units[column], place),
                    source=source,
                    place=place,
                )
            )
    return tuple(facts)


def _groups(table: Table) -> tuple[tuple[tuple[str, ...], str], ...]:
    """Columns of values between ``key`` and ``note``, each group with the name of its source column."""
    groups = []
    open_columns: list[str] = []
    for column in table.columns[1:]:
        if column.endswith("_source"):
            groups.append((tuple(open_columns), column.removesuffix("_source")))
            open_columns = []
        elif not column.endswith("_basis") and column != "note":
            open_columns.append(column)
    if open_columns:
        raise TableError(
            f"{table.name}.csv: the columns {', '.join(open_columns)} have no source column after them"
        )
    return tuple(groups)


def note_on(name: str, key: str) -> str:
    """Remark of a wide table on one material; empty where there is none, and for a long table."""
    table = open_table(name)
    return "" if table.columns == LONG_COLUMNS else table.rows[key][0][1][table.columns.index("note")]


@cache
def documents() -> dict[str, tuple[str, str]]:
    """Document and place in it of every source key."""
    return {key: (rows[0][1][1], rows[0][1][2]) for key, rows in open_table("sources").rows.items()}


@cache
def names() -> tuple[Name, ...]:
    """Names of every material, in the order of the table."""
    return tuple(
        Name(
            table=table,
            key=key,
            name=name,
            aliases=tuple(part.strip() for part in aliases.split(SEPARATOR) if part),
        )
        for rows in open_table("names").rows.values()
        for _, (table, key, name, aliases) in rows
    )


def _source(key: str, basis: str, place: str) -> Source:
    if not key:
        raise TableError(f"{place}: column source is empty; allowed: a key of sources.csv")
    if key not in documents():
        raise TableError(f"{place}: found the source {key!r}; allowed: a key of sources.csv")
    if basis not in BASES:
        raise TableError(f"{place}: found the basis {basis!r}; allowed: {', '.join(BASES)}")
    document, where = documents()[key]
    return Source(basis, document, where)  # type: ignore[arg-type]


def _unit(unit: str, place: str) -> str:
    if unit not in UNITS:
        raise TableError(f"{place}: found the unit {unit!r}; allowed: {', '.join(sorted(UNITS))}")
    return unit
