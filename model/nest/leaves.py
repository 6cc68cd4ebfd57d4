"""A sheet of veneer joined of strips: how many, and how wide each is cut from its leaf."""

from math import ceil

from ..source import COMMON_PRACTICE
from ..units import Count, Mm
from ..value import formula


@formula("n", "strips side by side in a sheet of veneer", "max(ceil(b / (w - j) - 1e-9), 1)", COMMON_PRACTICE)
def least_strips(b: Mm, w: Mm, j: Mm) -> Count:
    """Strips of leaves w wide, each losing j where its edges are trued, that a sheet b wide takes at the least."""
    return max(ceil(b / (w - j) - 1e-9), 1)


@formula("s", "width of a strip before its edges are trued", "b / n + j", COMMON_PRACTICE)
def strip_width(b: Mm, n: Count, j: Mm) -> Mm:
    """Width of each of n strips of a sheet b wide, each losing j where its edges are trued."""
    return b / n + j
