"""Loading the typed materials from their tables: one small read a table, on first use, then kept."""

from dataclasses import MISSING, fields
from functools import cache
from typing import Any, TypeVar

from ..data.tables import YES_OR_NO, Fact, long_table, names, wide_table
from ..errors import TableError
from .types import (
    AT_12_PERCENT,
    SHEAR_CORRECTION,
    WATER_DENSITY,
    Adhesive,
    Board,
    Breather,
    Film,
    Material,
    Paper,
    Release,
    Wood,
)

M = TypeVar("M", Wood, Board, Adhesive, Film, Breather, Paper, Release)

TABLES: dict[type[Material], str] = {
    Wood: "woods",
    Board: "panels",
    Adhesive: "adhesives",
    Film: "films",
    Breather: "breathers",
    Paper: "papers",
    Release: "releases",
}
"""The table that each kind of material stands in."""

FROM_PRINT = {
    "density": ("SG", AT_12_PERCENT * WATER_DENSITY),
    "E_L": ("E_bend", SHEAR_CORRECTION),
}
"""Fields of a wood that are worked out of a printed column: column and factor."""

COLLECTED = {"cautions": "caution"}
"""Fields that gather every row of one property."""


@cache
def facts_by_key(kind: type[Material]) -> dict[str, tuple[Fact, ...]]:
    """Rows of the table that a kind of material stands in, by key."""
    return wide_table(TABLES[kind]) if kind is Wood else long_table(TABLES[kind])


@cache
def woods() -> dict[str, Wood]:
    """Every wood by its key."""
    return _load(Wood)


@cache
def boards() -> dict[str, Board]:
    """Every panel product, core and plate by its key."""
    return _load(Board)


@cache
def adhesives() -> dict[str, Adhesive]:
    """Every type of adhesive by its key."""
    return _load(Adhesive)


@cache
def films() -> dict[str, Film]:
    """Every bag film by its key."""
    return _load(Film)


@cache
def breathers() -> dict[str, Breather]:
    """Every breather by its key."""
    return _load(Breather)


@cache
def papers() -> dict[str, Paper]:
    """Every absorbent paper and cushion by its key."""
    return _load(Paper)


@cache
def releases() -> dict[str, Release]:
    """Every release sheet by its key."""
    return _load(Release)


def _load(kind: type[M]) -> dict[str, M]:
    facts, called = (
        facts_by_key(kind),
        {item.key: item.name for item in names() if item.table == TABLES[kind]},
    )
    if facts.keys() != called.keys():
        strays = ", ".join(sorted(facts.keys() ^ called.keys()))
        raise TableError(
            f"{TABLES[kind]}.csv and names.csv differ in: {strays}; each material stands in both"
        )
    return {key: make(kind, key, called[key], found) for key, found in facts.items()}


def make(kind: type[M], key: str, name: str, facts: tuple[Fact, ...]) -> M:
    """Make one material of its facts.

    Raises
    ------
    TableError
        A field has no row, or a row no field.
    """
    by_property = {fact.property: fact for fact in facts}
    values: dict[str, Any] = {"key": key, "name": name}
    for item in fields(kind):
        if item.name in ("key", "name", "given"):
            continue
        if item.name in COLLECTED:
            values[item.name] = tuple(fact.text for fact in facts if fact.property == COLLECTED[item.name])
            continue
        column, factor = FROM_PRINT.get(item.name, (item.name, 1.0)) if kind is Wood else (item.name, 1.0)
        fact = by_property.get(column)
        if fact is not None:
            values[item.name] = _value(fact, factor)
        elif item.default is MISSING:
            raise TableError(f"{TABLES[kind]}.csv: {key} lacks the property {column}")
    return kind(**values)


def _value(fact: Fact, factor: float) -> object:
    if fact.unit == YES_OR_NO:
        return fact.flag
    if fact.unit == "text":
        return fact.text
    if fact.unit == "mm×mm":
        return fact.pairs
    if fact.property.startswith("stock_"):
        return fact.numbers
    return fact.number * factor
