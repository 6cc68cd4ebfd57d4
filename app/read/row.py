"""A row of lengths, such as the ordinates of a template: an array, or a text with commas between them."""

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
