"""Values of the user's own in place of those of the tables."""

import math
from collections.abc import Mapping
from dataclasses import replace
from typing import Any, get_type_hints

from ..errors import LayupError
from ..units import unit_of
from .consumable import Adhesive, Film
from .kinds import M, Material

LEAST: Mapping[type, Mapping[str, float]] = {
    Adhesive: {
        "density": 1e-5,
        "open_time": 1.0,
        "press_time_least_flat": 1.0,
        "press_time_safe_flat": 1.0,
        "press_time_least_bent": 1.0,
        "press_time_safe_bent": 1.0,
        "rate_doubles_per": 1.0,
    },
    Film: {"thickness": 1e-3, "modulus": 1e-2},
}
"""Least numbers of what can't be zero, since something is divided by it; in internal units."""


def replace_values(material: M, values: Mapping[str, float]) -> M:
    """Give a copy of a material with values of the user's own, which remembers which those are.

    Parameters
    ----------
    values
        Field and number in internal units, such as ``{"E_L": 12000.0}``.

    Raises
    ------
    LayupError
        The material has no such number, or the number can't be.
    """
    allowed = units_of(type(material))
    for name, number in values.items():
        if name not in allowed:
            # difflib is slow to import and only a mistake needs it
            from difflib import get_close_matches

            close = get_close_matches(name, list(allowed), n=1)
            hint = f'Did you mean "{close[0]}"?' if close else ""
            raise LayupError("", f'the property "{name}" of {material.name}', ", ".join(allowed), hint)
        if isinstance(number, bool) or not math.isfinite(number):
            raise LayupError("", f"{name} of {number!r}", "a finite number")
        if number < 0 and allowed[name] != "°C":
            raise LayupError("", f"{name} of {number:g} {allowed[name]}", "zero or more")
        least = LEAST.get(type(material), {}).get(name, number)
        if number < least:
            raise LayupError(
                "", f"{name} of {number:g} {allowed[name]}", f"{least:g} {allowed[name]} or more"
            )
    changes: dict[str, Any] = {name: float(number) for name, number in values.items()}
    return replace(material, **changes, given=material.given | frozenset(values))


def units_of(kind: type[Material]) -> dict[str, str]:
    """Fields of a kind of material that hold a number, with the symbol of their unit."""
    found = {}
    for name, annotation in get_type_hints(kind, include_extras=True).items():
        for part in (annotation, *getattr(annotation, "__args__", ())):
            try:
                found[name] = unit_of(part)
                break
            except TypeError:
                continue
    return found
