"""The limits that values and rules compare with, from ``limits.csv``."""

from dataclasses import dataclass
from functools import cache

from ..source import Source
from .reasoned import reasoned_rows


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit: number in internal units, unit, and the reason it stands where it does."""

    number: float
    unit: str
    reason: str
    source: Source


def numbers_in(name: str) -> dict[str, Limit]:
    """Numbers with their reasons in the table ``name``, by key.

    Raises
    ------
    TableError
        A row has no reason or an unknown basis.
    """
    return {
        row["key"]: Limit(float(row["value"]), row["unit"], row["reason"], Source(row["basis"]))  # type: ignore[arg-type]
        for row in reasoned_rows(name)
    }


@cache
def limits() -> dict[str, Limit]:
    """Every limit by key."""
    return numbers_in("limits")


def limit(key: str) -> float:
    """Number of a limit, in internal units."""
    return limits()[key].number
