"""Strips off a roll that make a sheet wider than the roll, and where the seams between them lie.

Neighbouring strips lap by the width of a seam. Where the seams lie is free within what the roll leaves; they are
kept as far from the valve as can be, since no valve seals on a seam.
"""

from math import ceil

from ..source import COMMON_PRACTICE
from ..units import Count, Mm
from ..value import formula

Strip = tuple[Mm, Mm]
"""Where a strip begins, and its width."""


@formula("n", "strips side by side in one sheet", "max(ceil((b - s) / (R - s)), 1)", COMMON_PRACTICE)
def strip_count(b: Mm, s: Mm, R: Mm) -> Count:
    """Strips of width R, lapped by seams s, that a sheet of width b takes."""
    # a sheet that is just as wide as whole strips takes no more of them for the last digit
    return max(ceil((b - s) / (R - s) - 1e-9), 1)


def strips(extent: Mm, roll: Mm, seam: Mm, keep_from: Mm, least: Mm) -> tuple[Strip, ...]:
    """Strips of a sheet, from one edge to the other.

    Parameters
    ----------
    extent
        Width of the sheet across its strips.
    roll, seam
        Width of the roll, and of the lap between strips.
    keep_from
        Place of the valve, from the same edge.
    least
        Narrowest strip that can be joined, where the sheet is not narrower itself.
    """
    count = int(strip_count(b=extent, s=seam, R=roll))
    if count == 1:
        return ((0.0, extent),)
    pace = roll - seam
    rest = extent - (count - 1) * pace
    # first and last share what the whole strips between them leave
    shared = rest + roll
    low = min(max(rest, least), 0.5 * shared)
    free = [low, shared - low]
    between = [keep_from + 0.5 * seam - (k + 0.5) * pace for k in range(count - 2)]
    free += [first for first in between if low <= first <= shared - low]

    def distance(first: Mm) -> Mm:
        return min(abs(place - keep_from) for place in _seams(first, count, seam, pace))

    first = max(free, key=lambda first: (round(distance(first), 6), first))
    starts = [0.0, *(first - seam + k * pace for k in range(count - 1))]
    ends = [start + roll for start in starts[1:-1]]
    return tuple((start, end - start) for start, end in zip(starts, [first, *ends, extent], strict=True))


def seam_places(made: tuple[Strip, ...], seam: Mm) -> tuple[Mm, ...]:
    """Middles of the seams between strips, from the edge where the first strip begins."""
    return tuple(start + 0.5 * seam for start, _ in made[1:])


def _seams(first: Mm, count: Count, seam: Mm, pace: Mm) -> list[Mm]:
    return [first - 0.5 * seam + k * pace for k in range(count - 1)]


def rows_on_roll(widths: list[Mm], roll: Mm) -> Count:
    """Lengths to take off a roll for pieces of equal length: narrow ones lie side by side, the widest first."""
    left: list[Mm] = []
    for wide in sorted(widths, reverse=True):
        place = next((n for n, room in enumerate(left) if room >= wide - 1e-9), None)
        if place is None:
            left.append(roll - wide)
        else:
            left[place] -= wide
    return len(left)
