"""Where most film is needed, in words."""

from ..units import Mm
from ..wording import both
from .section import FilmSection

MIDDLE: Mm = 0.05
"""A place no farther from the middle than this lies in it."""


def most_along(section: FilmSection) -> str:
    """Place of a section along; the work is alike on both sides of it."""
    if abs(section.place) <= MIDDLE:
        return "in the middle of the width"
    return f"{both(abs(section.place))} from the middle of the width"


def most_across(section: FilmSection) -> str:
    """Place of a section across."""
    if abs(section.place) <= MIDDLE:
        return "in the middle of the length"
    side = "left" if section.place < 0.0 else "right"
    return f"{both(abs(section.place))} {side} of the middle"
