"""Quantities of a layup file, read into internal floats; the only place that knows the unit library.

A quantity is a number or a text with a unit: ``600``, ``"600 mm"``, ``"23 5/8 in"``, ``'7/16"'``. Numbers are read
by our own grammar and units are looked up among those allowed; the library only says how large a unit is. All is
in fractions until the last step, so that the same job in inches and in millimetres is the same floats.

Every function raises LayupError, with an empty key for the caller to fill, when the text can't be understood.
"""

import gc
import re
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from fractions import Fraction
from functools import cache
from typing import Any

from ..model.errors import LayupError
from ..model.units import (
    Celsius,
    Gram,
    GramPerMm2,
    Mm,
    Mm3,
    Mm3PerSecond,
    MPa,
    Percent,
    Radian,
    Ratio,
    Second,
)
from . import dimension as dim
from .dimension import Dimension, Unit
from .number import LARGEST, plain_number, quoted, take_number, tidy, told

# A unit with more behind it, as in 5' 3 1/2" or 1 h 30 min.
_FOLLOWED = re.compile(r"(?P<unit>[^0-9]*?[^0-9\s.-])\s*-?\s*(?P<more>[0-9.].*)")


def read_length(value: object, bare_unit: str) -> Mm:
    """Length that is not negative; a bare number is in ``bare_unit``, ``"mm"`` or ``"in"``."""
    return read(value, dim.LENGTH, bare_unit)


def read_position(value: object, bare_unit: str) -> Mm:
    """Length from a middle or an edge, of either sign; a bare number is in ``bare_unit``."""
    return read(value, dim.POSITION, bare_unit)


def read_altitude(value: object, bare_unit: str = "") -> Mm:
    """Altitude above the sea, of either sign, in m or ft."""
    return read(value, dim.ALTITUDE, bare_unit)


def read_pressure(value: object, bare_unit: str = "") -> MPa:
    """Pressure, or the reading of a gauge below ambient, as a number that is not negative; mercury at 0 °C."""
    return read(value, dim.PRESSURE, bare_unit)


def read_temperature(value: object, bare_unit: str = "") -> Celsius:
    """Temperature on either scale, not a difference of two."""
    return read(value, dim.TEMPERATURE, bare_unit)


def read_spread(value: object, bare_unit: str = "") -> GramPerMm2:
    """Mass of adhesive per area."""
    return read(value, dim.SPREAD, bare_unit)


def read_angle(value: object, bare_unit: str = "°") -> Radian:
    """Angle of either sign; a bare number is in degrees unless said otherwise."""
    return read(value, dim.ANGLE, bare_unit)


def read_time(value: object, bare_unit: str = "") -> Second:
    """Length of time."""
    return read(value, dim.TIME, bare_unit)


def read_volume(value: object, bare_unit: str = "") -> Mm3:
    """Volume; a gallon is the US one of 231 cubic inches."""
    return read(value, dim.VOLUME, bare_unit)


def read_flow(value: object, bare_unit: str = "") -> Mm3PerSecond:
    """Volume of air per time, such as what a pump draws."""
    return read(value, dim.FLOW, bare_unit)


def read_mass(value: object, bare_unit: str = "") -> Gram:
    """Mass; ounces and pounds are avoirdupois."""
    return read(value, dim.MASS, bare_unit)


def read_percent(value: object) -> Percent:
    """Share of a hundred, such as a moisture content; a bare number is in per cent."""
    return read(value, dim.PERCENT, "%")


def read_ratio(value: object) -> Ratio:
    """Share of one; a bare number is the ratio itself, and 50 % is 0.5."""
    return read(value, dim.RATIO)


def read(value: object, dimension: Dimension, bare_unit: str = "") -> float:
    """Read a quantity of a dimension into the internal unit.

    Parameters
    ----------
    value
        A number or a text, as it stands in the file.
    dimension
        What it measures.
    bare_unit
        Name of the unit that a number without one is in; empty where it must have one.

    Raises
    ------
    LayupError
        The value is no quantity of this dimension, or less than allowed; the key is left empty.
    """
    try:
        exact = _exact(value, dimension, bare_unit)
    except LayupError as error:
        raise LayupError("", told(value), _allowed(dimension, bare_unit), error.hint) from None
    if dimension.least and exact < Fraction(dimension.least):
        unit = f" {dimension.units[0].name}" if dimension.least != "0" else ""
        allowed = f"{_allowed(dimension, bare_unit)}, not below {dimension.least}{unit}"
        raise LayupError("", told(value), allowed, _hint_below(dimension))
    return float(exact)


def _exact(value: object, dimension: Dimension, bare_unit: str) -> Fraction:
    """Read a quantity into the internal unit, exactly."""
    if isinstance(value, str):
        return _text(tidy(value), dimension, bare_unit)
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise LayupError(
            "", told(value), dimension.name, f"Write a number or a text, such as {dimension.examples[0]}."
        )
    return _in_internal(plain_number(value), _bare(dimension, bare_unit), dimension)


def _text(text: str, dimension: Dimension, bare_unit: str) -> Fraction:
    """Read a tidy text with or without a sign."""
    sign = -1 if text.startswith("-") else 1
    number, rest = take_number(text.removeprefix("-").lstrip())
    if number > LARGEST:
        raise LayupError("", quoted(text), dimension.name, "The number is too large; check it and its unit.")
    if not rest:
        return _in_internal(sign * number, _bare(dimension, bare_unit), dimension)
    unit = dimension.find(rest)
    if unit is not None:
        return _in_internal(sign * number, unit, dimension)
    return sign * _chain(number, rest, dimension)


def _chain(number: Fraction, rest: str, dimension: Dimension) -> Fraction:
    """Read a number whose unit is followed by a smaller one, as feet and inches."""
    match = _FOLLOWED.fullmatch(rest)
    head = dimension.find(match["unit"]) if match else None
    if match is None or head is None or head.name not in dimension.chain:
        raise LayupError("", quoted(rest), dimension.name, _hint_unit(rest, dimension))
    more, behind = take_number(match["more"])
    tail = dimension.find(behind)
    smaller = dimension.chain[dimension.chain.index(head.name) + 1 :]
    if more > LARGEST or (tail is not None and tail.name not in smaller):
        raise LayupError("", quoted(rest), dimension.name, f"Behind {head.name} only a smaller unit follows.")
    if not behind:
        hint = f"Write the unit of the last number too, such as {' or '.join(smaller)}."
        raise LayupError("", quoted(rest), dimension.name, hint)
    first = _in_internal(number, head, dimension)
    return first + (_in_internal(more, tail, dimension) if tail else _chain(more, behind, dimension))


def _bare(dimension: Dimension, bare_unit: str) -> Unit:
    """Give the unit of a number that has none."""
    unit = dimension.find(bare_unit)
    if unit is None:
        hint = f"Write the number with its unit as a text, such as {dimension.examples[0]}."
        raise LayupError("", "a number without a unit", dimension.name, hint)
    return unit


def _in_internal(number: Fraction, unit: Unit, dimension: Dimension) -> Fraction:
    """Carry a number from a unit into the internal one."""
    if unit.library == dimension.internal:
        return number
    size, zero = _scale(unit.library, dimension.internal)
    return number * size / unit.per + zero


@cache
def _scale(unit: str, internal: str) -> tuple[Fraction, Fraction]:
    """Ask the library for the size of a unit in the internal one, and where its zero lies."""
    zero, thousand = (_registry().convert(float(n), unit, internal) for n in (0, 1000))
    return _snapped((thousand - zero) / 1000), _snapped(zero)


def _snapped(factor: float) -> Fraction:
    """Free a factor of the rounding of floats, such as 25.4 or 5/9; a registry of fractions loads too slowly.

    Whatever it snaps to lies within 1e-14 of the library's own float.
    """
    simple = Fraction(factor).limit_denominator(10**5)
    return simple if abs(simple - factor) <= 1e-14 * abs(factor) else Fraction(factor)


@cache
def _registry() -> Any:
    """Load the library on first use; it takes longer than all the rest of a check."""
    with _hidden("scipy"), _uncollected():
        from pint import UnitRegistry

        return UnitRegistry()


@contextmanager
def _uncollected() -> Iterator[None]:
    """Keep Python from looking for garbage among thousands of objects that all stay, while they are made and later.

    Looking through them again and again takes a fifth of the time of a check.
    """
    was_enabled = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        gc.freeze()
        if was_enabled:
            gc.enable()


@contextmanager
def _hidden(package: str) -> Iterator[None]:
    """Keep the unit library from loading a package that it only asks for to know whether it is there."""
    if package in sys.modules:
        yield
        return
    # None makes an import fail as if the package were not installed
    sys.modules[package] = None  # type: ignore[assignment]
    try:
        yield
    finally:
        del sys.modules[package]


def _allowed(dimension: Dimension, bare_unit: str) -> str:
    """Say what may stand in the file, with examples and units."""
    names = ", ".join(unit.name for unit in dimension.units if unit.name)
    bare = f"; a bare number is in {bare_unit}" if bare_unit else ""
    return f"{dimension.name} such as {', '.join(dimension.examples)} (units: {names}{bare})"


def _hint_below(dimension: Dimension) -> str:
    """Say what to do about a number below the least."""
    if dimension is dim.PRESSURE:
        return "Write a gauge reading below ambient without the minus sign."
    return "Check the sign and the unit."


def _hint_unit(text: str, dimension: Dimension) -> str:
    """Say what to do about a unit that is not among those allowed."""
    if text[0] in "0123456789./-":
        return f"Write one number and one unit, such as {dimension.examples[0]}."
    for other in dim.DIMENSIONS:
        if other.name != dimension.name and other.find(text):
            return f"{quoted(text)} is a unit of {other.name.split(' ', 1)[1]}."
    from difflib import get_close_matches

    names = {spelling: unit.name for unit in dimension.units for spelling in (unit.name, *unit.spellings)}
    near = get_close_matches(dim.spelled(text), names, n=1)
    return f"{quoted(text)} is no unit known here" + (f"; did you mean {names[near[0]]}?" if near else ".")
