"""What a key of the layup file holds as it is written in a file, and its limits in words.

``written`` gives a text that a layup file may hold and that reads back as the same number.
"""

import json
import math
from collections.abc import Mapping
from types import MappingProxyType

from ..model import wording
from ..model.layup.phrase import phrase, row_words
from ..model.layup.setting import Entry, Quantity, Row, Setting


def written(quantity: Quantity, value: Entry) -> str:
    """Value of a key as a layup file writes it, with its metric unit."""
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False)
    if isinstance(value, tuple):
        return json.dumps(row_text(value), ensure_ascii=False)
    unit, size = _METRIC[quantity]
    number = _shortest(value / size)
    return f'"{number} {unit}"' if unit else number


def row_text(row: Row) -> str:
    """Pieces of a chain, or a row of lengths, as a text that reads back as the same to its last digits."""
    return row_words(
        row, lambda length: f"{_shortest(length)} mm", lambda angle: f"{_shortest(math.degrees(angle))}°"
    )


def limits(setting: Setting) -> str:
    """Smallest and largest number that a key may hold, in words."""
    low, high = _limit(setting.quantity, setting.low), _limit(setting.quantity, setting.high)
    return f"{low} to {high}"


def _limit(quantity: Quantity, number: float) -> str:
    # an angle of less than a tenth of a degree would be rounded to what is not allowed
    return f"{wording.decimal(math.degrees(number), 2)}°" if quantity == "angle" else phrase(quantity, number)


def _shortest(number: float) -> str:
    """Shortest decimal within the accuracy of the calculation."""
    return f"{number:.12g}"


_METRIC: Mapping[Quantity, tuple[str, float]] = MappingProxyType(
    {
        "length": ("mm", 1.0),
        "altitude": ("m", 1000.0),
        "angle": ("°", math.pi / 180.0),
        "pressure": ("kPa", 1e-3),
        "temperature": ("°C", 1.0),
        "spread": ("g/m²", 1e-6),
        "count": ("", 1.0),
        "number": ("", 1.0),
        "share": ("%", 1.0),
        "flow": ("L/min", 1e6 / 60.0),
        "volume": ("L", 1e6),
        "time": ("min", 60.0),
    }
)
"""The metric unit in which each quantity is written, and how large it is in the internal unit."""
