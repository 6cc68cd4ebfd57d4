"""The limits that rules compare with, from ``model/data/limits.csv``."""

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from ..errors import TableError
from ..source import BASES, Source


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit: number in internal units, unit, and the reason it stands where it does."""

    number: float
    unit: str
    reason: str
    source: Source


@cache
def limits() -> dict[str, Limit]:
    """Every limit by key.

    Raises
    ------
    TableError
        A row has no reason or an unknown basis.
    """
    found: dict[str, Limit] = {}
    with files("underbag.model.data").joinpath("limits.csv").open(encoding="utf-8", newline="") as stream:
        for row in csv.DictReader(stream):
            if not row["reason"] or row["basis"] not in BASES:
                raise TableError(
                    f"limits.csv, row {row['key']}: a reason and a basis out of {', '.join(BASES)} are needed"
                )
            source = Source(row["basis"])  # type: ignore[arg-type]
            found[row["key"]] = Limit(float(row["value"]), row["unit"], row["reason"], source)
    return found


def limit(key: str) -> float:
    """Number of a limit, in internal units."""
    return limits()[key].number
