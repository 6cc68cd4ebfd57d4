"""How a number is held against a limit: the few comparisons that all rules share."""

from ..units import Mm
from .rule import Finding, Place, Status


def at_most(
    value: float,
    limit: float,
    unit: str,
    *,
    broken: Status,
    message: str,
    change: str,
    remedy: str,
    place: Place,
) -> Finding:
    """Judge a number that must not be above a limit; at the limit it holds."""
    return _judged(limit - value, value, limit, unit, broken, message, change, remedy, place)


def at_least(
    value: float,
    limit: float,
    unit: str,
    *,
    broken: Status,
    message: str,
    change: str,
    remedy: str,
    place: Place,
) -> Finding:
    """Judge a number that must not be below a limit; at the limit it holds."""
    return _judged(value - limit, value, limit, unit, broken, message, change, remedy, place)


def holds(is_so: bool, *, broken: Status, message: str, change: str, remedy: str, place: Place) -> Finding:
    """Judge something that is so or not, without a number."""
    return Finding(
        status="ok" if is_so else broken,
        value=1.0 if is_so else 0.0,
        limit=1.0,
        margin=0.0 if is_so else -1.0,
        unit="",
        message=message,
        change="" if is_so else change,
        remedy="" if is_so else remedy,
        place=place,
    )


ROUNDING: Mm = 1e-9
"""Numbers closer than this are equal: sums of the same lengths may differ in the last digit."""


def _judged(
    margin: float,
    value: float,
    limit: float,
    unit: str,
    broken: Status,
    message: str,
    change: str,
    remedy: str,
    place: Place,
) -> Finding:
    is_kept = margin >= -ROUNDING * max(abs(value), abs(limit), 1.0)
    return Finding(
        status="ok" if is_kept else broken,
        value=value,
        limit=limit,
        margin=margin,
        unit=unit,
        message=message,
        change="" if is_kept else change,
        remedy="" if is_kept else remedy,
        place=place,
    )
