"""Reading the tables of choices: defaults and limits, each row with a basis and the reason it stands so."""

import csv
from pathlib import Path

from ..errors import TableError
from ..source import BASES

FOLDER = Path(__file__).parent


def reasoned_rows(name: str) -> tuple[dict[str, str], ...]:
    """Rows of the table ``name`` by column.

    Raises
    ------
    TableError
        A row has no reason, or a basis that is not one of ``BASES``.
    """
    with (FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as stream:
        rows = tuple(csv.DictReader(stream))
    for row in rows:
        if not row["reason"]:
            raise TableError(
                f"{name}.csv, row {row['key']}, column reason: empty; say why the value stands so"
            )
        if row["basis"] not in BASES:
            allowed = ", ".join(BASES)
            raise TableError(
                f"{name}.csv, row {row['key']}, column basis: found {row['basis']!r}; allowed: {allowed}"
            )
    return rows
