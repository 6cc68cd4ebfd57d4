"""What a key of a layup holds, in words for people."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from .. import wording
from ..shape.profile import Run
from .setting import Entry, Quantity


def phrase(quantity: Quantity, value: Entry) -> str:
    """Value of a key in words, in both systems where it has units: ``18 mm (11/16")``."""
    if isinstance(value, str):
        return value
    if isinstance(value, tuple):
        return chain_words(value, wording.both, wording.angle)
    return _PHRASES[quantity](value)


def chain_words(
    pieces: tuple[Run, ...], length: Callable[[float], str], angle: Callable[[float], str]
) -> str:
    """Pieces of a chain in their order, with their lengths (mm) and angles (rad) told by two functions."""
    return ", ".join(_piece(piece, length, angle) for piece in pieces)


def _piece(piece: Run, length: Callable[[float], str], angle: Callable[[float], str]) -> str:
    if piece.curvature == 0.0:
        return f"straight {length(piece.length)}"
    kind = "crown" if piece.curvature > 0.0 else "hollow"
    return f"{kind} {length(1.0 / abs(piece.curvature))} through {angle(abs(piece.turn))}"


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
