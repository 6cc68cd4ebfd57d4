"""What a key of a layup holds, in words for people."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from .. import wording
from .setting import Quantity


def phrase(quantity: Quantity, value: str | float) -> str:
    """Value of a key in words, in both systems where it has units: ``18 mm (11/16")``."""
    if isinstance(value, str):
        return value
    return _PHRASES[quantity](value)


def _count(number: float) -> str:
    return f"{number:.0f}"


def _flag(number: float) -> str:
    return "yes" if number else "no"


_PHRASES: Mapping[Quantity, Callable[[float], str]] = MappingProxyType(
    {
        "length": wording.both,
        "altitude": wording.altitude,
        "angle": wording.angle,
        "pressure": wording.pressure,
        "temperature": wording.temperature,
        "spread": wording.spread,
        "count": _count,
        "share": wording.percent,
        "flow": wording.flow,
        "volume": wording.volume,
        "time": wording.duration,
        "flag": _flag,
    }
)
