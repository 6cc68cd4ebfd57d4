"""Starting values of a layup: what holds where the file says nothing, with the reason."""

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Literal

from ..errors import TableError
from ..source import BASES, Basis

Kind = Literal["flat", "bent"]


@dataclass(frozen=True, slots=True)
class Default:
    """A starting value with its ground.

    Parameters
    ----------
    value
        The text of a choice or name, or a number in internal units.
    reason
        Why this is a sensible start.
    basis
        How firm the ground is.
    """

    value: str | float
    reason: str
    basis: Basis


@cache
def default_values(kind: Kind) -> dict[str, Default]:
    """Give the starting values of a flat or a bent layup by dotted key.

    Raises
    ------
    TableError
        A row has no reason or an unknown basis.
    """
    found: dict[str, Default] = {}
    with files("underbag.model.data").joinpath("defaults.csv").open(encoding="utf-8", newline="") as stream:
        for row in csv.DictReader(stream):
            if not row["reason"] or row["basis"] not in BASES:
                raise TableError(
                    f"defaults.csv, row {row['key']}: a reason and a basis out of {', '.join(BASES)} are needed"
                )
            if row["when"] in ("always", kind):
                value = float(row["value"]) if row["unit"] or _is_number(row["value"]) else row["value"]
                found[row["key"]] = Default(value, row["reason"], row["basis"])  # type: ignore[arg-type]
    return found


def _is_number(text: str) -> bool:
    return text.replace(".", "", 1).lstrip("-").isdigit()
