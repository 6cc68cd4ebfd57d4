"""One value of a layup file, read by what its key holds and kept within its limits.

Lengths may be bare numbers, in the unit that the file names at its top; so may angles, in degrees, and shares, in
per cent. All other quantities have no unit that goes without saying, and need theirs.
"""

import math
from collections.abc import Callable, Mapping
from types import MappingProxyType

from ...model.errors import LayupError
from ...model.layup.layup import BareUnit
from ...model.layup.phrase import phrase
from ...model.layup.setting import Entry, Quantity, Row, Setting
from .. import quantity as quantities
from ..number import told
from ..phrase import limits
from .chain import read_chain
from .row import read_points, read_row
from .spelling import did_you_mean, listed


def read_entry(key: str, setting: Setting, value: object, unit: BareUnit) -> Entry:
    """Value of a key in internal units, or its text.

    Parameters
    ----------
    key
        Dotted key, for the message of an error.
    setting
        What the key holds.
    value
        What stands in the file.
    unit
        What a bare length means.

    Raises
    ------
    LayupError
        The value is of another kind, or beyond the limits of its key.
    """
    if setting.quantity in ("text", "choice"):
        return _text(key, setting, value)
    if setting.quantity == "flag":
        if not isinstance(value, bool):
            raise LayupError(key, told(value), "true or false", setting.help)
        return value
    if setting.quantity in ROWS:
        return _row(key, setting, value, unit)
    try:
        number = _reader(setting)(value, unit)
    except LayupError as error:
        raise LayupError(key, error.found, _allowed(setting, error.allowed), error.hint) from None
    if not setting.low <= number <= setting.high:
        found = told(value) if isinstance(value, str) else phrase(setting.quantity, number)
        raise LayupError(key, found, limits(setting), setting.help)
    return number


def _row(key: str, setting: Setting, value: object, unit: BareUnit) -> Entry:
    try:
        return ROWS[setting.quantity](value, unit)
    except LayupError as error:
        raise LayupError(key, error.found, error.allowed, error.hint) from None


def _text(key: str, setting: Setting, value: object) -> str:
    allowed = listed(setting.choices) if setting.choices else "a text in quotes"
    if not isinstance(value, str):
        raise LayupError(key, told(value), allowed, setting.help)
    if setting.longest and (not value.isprintable() or len(value) > setting.longest):
        raise LayupError(key, told(value), f"one line of up to {setting.longest} characters", setting.help)
    if setting.choices and value not in (*setting.choices, *setting.refused):
        raise LayupError(key, told(value), allowed, did_you_mean(value, setting.choices) or setting.help)
    return value


def _allowed(setting: Setting, kind: str) -> str:
    """Say what may stand there: how to write it, and how small and large it may be."""
    return kind if setting.quantity == "count" else f"{kind}; from {limits(setting)}"


def _reader(setting: Setting) -> Callable[[object, BareUnit], float]:
    # what may lie on either side of a middle; of all other lengths nobody should read of signs
    if setting.quantity == "length" and setting.low < 0.0:
        return quantities.read_position
    return _READERS[setting.quantity]


def _number(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise LayupError("", told(value), "a number, without quotes")
    return float(value)


def _count(value: object, unit: BareUnit) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise LayupError("", told(value), "a whole number, without quotes")
    if isinstance(value, float) and not value.is_integer():
        raise LayupError("", told(value), "a whole number")
    # what is beyond all limits needs no exact float, only to be told
    return float(max(min(value, 10**12), -(10**12)))


ROWS: Mapping[Quantity, Callable[[object, BareUnit], Row]] = MappingProxyType(
    {"chain": read_chain, "lengths": read_row, "points": read_points}
)
"""Quantities of several parts, with what reads them."""

_READERS: Mapping[Quantity, Callable[[object, BareUnit], float]] = MappingProxyType(
    {
        "length": quantities.read_length,
        "altitude": lambda value, unit: quantities.read_altitude(value),
        "angle": lambda value, unit: quantities.read_angle(value),
        "pressure": lambda value, unit: quantities.read_pressure(value),
        "temperature": lambda value, unit: quantities.read_temperature(value),
        "spread": lambda value, unit: quantities.read_spread(value),
        "count": _count,
        "number": lambda value, unit: _number(value),
        "share": lambda value, unit: quantities.read_percent(value),
        "flow": lambda value, unit: quantities.read_flow(value),
        "volume": lambda value, unit: quantities.read_volume(value),
        "time": lambda value, unit: quantities.read_time(value),
    }
)
