"""What a key of a layup holds, in words for people."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from .. import wording
from ..shape.profile import Run
from .setting import Entry, Quantity, Row


def phrase(quantity: Quantity, value: Entry) -> str:
    """Value of a key in words, in both systems where it has units: ``18 mm (11/16")``."""
    if isinstance(value, str):
        return value
    if isinstance(value, tuple):
        return row_words(value, wording.both, wording.angle)
    return _PHRASES[quantity](value)


def row_words(row: Row, length: Callable[[float], str], angle: Callable[[float], str]) -> str:
    """Parts of a row in their order, lengths (mm) and angles (rad) told by two functions."""
    if any(isinstance(one, tuple) and not isinstance(one, Run) for one in row):
        return "; ".join(", ".join(length(place) for place in one) for one in row)  # type: ignore[union-attr]
    return ", ".join(_piece(one, length, angle) if isinstance(one, Run) else length(one) for one in row)  # type: ignore[arg-type]


def _piece(piece: Run, length: Callable[[float], str], angle: Callable[[float], str]) -> str:
    if piece.curvature == 0.0:
        return f"straight {length(piece.length)}"
    kind = "crown" if piece.curvature > 0.0 else "hollow"
    return f"{kind} {length(1.0 / abs(piece.curvature))} through {angle(abs(piece.turn))}"


def _count(number: float) -> str:
    return f"{number:.0f}"


def _number(number: float) -> str:
    return f"{number:.4g}"


def _flag(number: float) -> str:
    return "yes" if number else "no"


_PHRASES: Mapping[Quantity, Callable[[float], str]] = MappingProxyType(
    {
        "length": wording.both,
        "lengths": wording.both,
        "altitude": wording.altitude,
        "angle": wording.angle,
        "pressure": wording.pressure,
        "temperature": wording.temperature,
        "spread": wording.spread,
        "points": wording.both,
        "count": _count,
        "number": _number,
        "share": wording.percent,
        "flow": wording.flow,
        "volume": wording.volume,
        "time": wording.duration,
        "flag": _flag,
    }
)
