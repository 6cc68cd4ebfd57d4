"""Starting values of a layup: what holds where the file says nothing, with the reason."""

from dataclasses import dataclass
from functools import cache
from typing import Literal

from ..data.reasoned import reasoned_rows
from ..source import Basis

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
    for row in reasoned_rows("defaults"):
        if row["when"] in ("always", kind):
            value = float(row["value"]) if row["unit"] or _is_number(row["value"]) else row["value"]
            found[row["key"]] = Default(value, row["reason"], row["basis"])  # type: ignore[arg-type]
    return found


def _is_number(text: str) -> bool:
    return text.replace(".", "", 1).lstrip("-").isdigit()
