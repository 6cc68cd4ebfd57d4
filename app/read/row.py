"""A row of lengths, such as the ordinates of a template, or of points, such as the corners of a panel.

Lengths stand in an array, or in a text with commas between them; points in an array of arrays of two, or in a text with
semicolons between them.
"""

from ...model.errors import LayupError
from ...model.layup.layup import BareUnit
from .. import quantity as quantities
from ..number import told

ALLOWED = "lengths with commas between them, such as '0, 12.5, 1/2 in', or an array of them"
MOST = 10_000
"""More entries are no row that anyone has measured; settling it takes far fewer."""


def read_row(value: object, unit: BareUnit) -> tuple[float, ...]:
    """Read lengths of either sign; bare numbers are in the unit of the file.

    Raises
    ------
    LayupError
        It is no row, or an entry is no length; the key is left empty for the caller.
    """
    entries: list[object]
    if isinstance(value, str):
        entries = [part.strip() for part in value.rstrip().rstrip(",").split(",", MOST)]
    elif isinstance(value, list):
        entries = value
    else:
        raise LayupError("", told(value), ALLOWED)
    if len(entries) > MOST:
        raise LayupError("", f"more than {MOST} lengths", ALLOWED)
    return tuple(quantities.read_position(entry, unit) for entry in entries)


POINTS = "points with semicolons between them, such as '0, 0; 600, 0; 500, 400', or an array of pairs"


def read_points(value: object, unit: BareUnit) -> tuple[tuple[float, float], ...]:
    """Read points of two lengths, along and across; bare numbers are in the unit of the file.

    Raises
    ------
    LayupError
        It is no row, or an entry is no pair of lengths; the key is left empty for the caller.
    """
    entries: list[object]
    if isinstance(value, str):
        entries = [part for part in value.rstrip().rstrip(";").split(";", MOST)]
    elif isinstance(value, list):
        entries = value
    else:
        raise LayupError("", told(value), POINTS)
    if len(entries) > MOST:
        raise LayupError("", f"more than {MOST} points", POINTS)
    return tuple(_point(entry, unit) for entry in entries)


def _point(entry: object, unit: BareUnit) -> tuple[float, float]:
    pair = [part.strip() for part in entry.split(",", 2)] if isinstance(entry, str) else entry
    if not isinstance(pair, list) or len(pair) != 2:
        raise LayupError("", told(entry), POINTS, "A point is two lengths: along, and across.")
    return quantities.read_position(pair[0], unit), quantities.read_position(pair[1], unit)
