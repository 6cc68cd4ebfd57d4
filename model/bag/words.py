"""Where most film is needed, in words."""

from ..units import Mm
from ..wording import both
from .section import FilmSection

MIDDLE: Mm = 0.05
"""A place no farther from the middle than this lies in it."""


def most_along(section: FilmSection) -> tuple[str, str]:
    """What to call the place of a section along, and the place; the work is alike on both sides of the middle."""
    if abs(section.place) <= MIDDLE:
        return "most film along", "in the middle"
    return "most film along, off the middle by", both(abs(section.place))


def most_across(section: FilmSection) -> tuple[str, str]:
    """What to call the place of a section across, and the place."""
    if abs(section.place) <= MIDDLE:
        return "most film across", "in the middle"
    side = "left" if section.place < 0.0 else "right"
    return f"most film across, {side} of the middle by", both(abs(section.place))
