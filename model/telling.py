"""Values in words: what number a value or a material's property has, in the units that people read."""

from collections.abc import Callable, Mapping
from typing import Any

from . import wording
from .value import Value

SPEAKERS: Mapping[str, Callable[[float], str]] = {
    "mm": wording.both,
    "mm²": wording.area,
    "mm³": wording.volume,
    "mm³/s": wording.flow,
    "MPa": wording.strength,
    "N": wording.force,
    "g": wording.mass,
    "g/mm²": wording.spread,
    "°C": wording.temperature,
    "rad": wording.angle,
    "%": wording.percent,
    "s": wording.duration,
}
"""How a value is told, by its internal unit."""

READ_IN: Mapping[str, tuple[str, float]] = {
    "mm": ("mm", 1.0),
    "mm²": ("mm²", 1.0),
    "MPa": ("MPa", 1.0),
    "g/mm³": ("kg/m³", 1e-6),
    "g/mm²": ("g/m²", 1e-6),
    "s": ("min", 60.0),
    "°C": ("°C", 1.0),
    "%": ("%", 1.0),
    "1/%": ("1/%", 1.0),
    "1": ("", 1.0),
}
"""The unit that a material's property is read in, by its internal unit: its name, and its size in that unit."""


def tell(value: Value) -> str:
    """Tell the number of a value, in both systems where its unit has a customary one."""
    return tell_number(value.number, value.unit)


def tell_number(number: float, unit: str) -> str:
    """Tell a number in internal units, in both systems where its unit has a customary one."""
    if unit in SPEAKERS:
        return SPEAKERS[unit](number)
    told = wording.by_size(number, 4)
    return told if unit in ("1", "") else f"{told} {unit}"


def tell_property(number: float, unit: str) -> str:
    """Tell a material's number in internal units in the unit that people read, such as ``616 kg/m³``."""
    name, size = READ_IN.get(unit, (unit, 1.0))
    return f"{wording.by_size(number / size, 4)} {name}".strip()


def tell_other(value: Any) -> str:
    """Tell what is no single number: a text, yes or no, stock thicknesses, sizes of sheets."""
    match value:
        case bool():
            return "yes" if value else "no"
        case tuple() if all(isinstance(one, tuple) for one in value):
            return ", ".join(" × ".join(f"{size:g}" for size in one) for one in value) + " mm"
        case tuple() if all(isinstance(one, float) for one in value):
            return ", ".join(f"{one:g}" for one in value) + " mm"
        case tuple():
            return "; ".join(map(str, value))
    return str(value)
