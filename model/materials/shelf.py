"""Making the typed materials from their tables: a table is read on first use, a material made when asked for."""

from dataclasses import MISSING, fields
from functools import cache
from typing import Any, cast

from ..data.fact import SIZES, TEXT, YES_OR_NO, Fact
from ..data.tables import facts_in, names, open_table
from ..errors import TableError
from .consumable import Adhesive, Breather, Film, Paper, Release
from .kinds import KINDS, TABLES, M, Material
from .solid import AT_12_PERCENT, SHEAR_CORRECTION, WATER_DENSITY, Board, Wood

FROM_PRINT = {
    "density": ("SG", AT_12_PERCENT * WATER_DENSITY),
    "E_L": ("E_bend", SHEAR_CORRECTION),
}
"""Fields of a wood that are worked out of a printed column: column and factor."""

COLLECTED = {"cautions": "caution"}
"""Fields that gather every row of one property."""


def take(kind: type[M], key: str) -> M:
    """Material of a kind by its key.

    Raises
    ------
    TableError
        Its rows are unusable, or there are none.
    """
    return cast(M, _made(TABLES[kind], key))


def every(kind: type[M]) -> dict[str, M]:
    """All materials of a kind by key, in the order of their table."""
    return {key: take(kind, key) for key in open_table(TABLES[kind]).keys}


def woods() -> dict[str, Wood]:
    """Every wood by its key."""
    return every(Wood)


def boards() -> dict[str, Board]:
    """Every panel product, core and plate by its key."""
    return every(Board)


def adhesives() -> dict[str, Adhesive]:
    """Every type of adhesive by its key."""
    return every(Adhesive)


def films() -> dict[str, Film]:
    """Every bag film by its key."""
    return every(Film)


def breathers() -> dict[str, Breather]:
    """Every breather by its key."""
    return every(Breather)


def papers() -> dict[str, Paper]:
    """Every absorbent paper and cushion by its key."""
    return every(Paper)


def releases() -> dict[str, Release]:
    """Every release sheet by its key."""
    return every(Release)


@cache
def _made(table: str, key: str) -> Material:
    name = next((item.name for item in names() if item.table == table and item.key == key), "")
    if not name:
        raise TableError(f"names.csv has no row for {key} of {table}.csv")
    return make(KINDS[table], key, name, facts_in(table, key))


def make(kind: type[Material], key: str, name: str, facts: tuple[Fact, ...]) -> Material:
    """Make one material of its facts.

    Raises
    ------
    TableError
        A field that every material of the kind has is missing.
    """
    by_property = {fact.name: fact for fact in facts}
    values: dict[str, Any] = {"key": key, "name": name}
    for item in fields(kind):
        if item.name in COLLECTED:
            values[item.name] = tuple(fact.text for fact in facts if fact.name == COLLECTED[item.name])
        elif (fact := by_property.get(column_of(kind, item.name))) is not None:
            values[item.name] = (
                _value(fact) * factor if (factor := _factor(kind, item.name)) else _value(fact)
            )
        elif item.default is MISSING and item.name not in values:
            raise TableError(f"{TABLES[kind]}.csv: {key} lacks the property {column_of(kind, item.name)}")
    return kind(**values)


def column_of(kind: type[Material], field: str) -> str:
    """Property of the table that a field is made from."""
    if kind is Wood and field in FROM_PRINT:
        return FROM_PRINT[field][0]
    return COLLECTED.get(field, field)


def _factor(kind: type[Material], field: str) -> float | None:
    return FROM_PRINT[field][1] if kind is Wood and field in FROM_PRINT else None


def _value(fact: Fact) -> Any:
    """Value of a fact as the field holds it."""
    if fact.unit == YES_OR_NO:
        return fact.flag
    if fact.unit == TEXT:
        return fact.text
    if fact.unit == SIZES:
        return fact.sizes
    return fact.numbers if fact.name.startswith("stock_") else fact.number
