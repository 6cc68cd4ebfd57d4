"""Regions of a map where it is no less than a level, as closed lines between the middles of its cells.

Every square between four neighbouring middles is crossed where the level lies on its sides, by straight parts; parts
of neighbouring squares meet on their common side, so that they join to loops.
"""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Side = tuple[int, int, int]
"""A side of a square: row and column of its first middle, and 0 for along a row, 1 for along a column."""


def regions(field: Floats, level: float) -> list[Floats]:
    """Closed loops ``(n, 2)`` around all that is no less than a level.

    Parameters
    ----------
    field
        ``(rows, columns)`` finite values at the middles of cells.
    level
        What is inside.

    Returns
    -------
    list
        Points column, row, in cells; 0 is the middle of the first cell. Loops at the edge of the map pass a whole
        cell outside of its outermost middles.
    """
    # the values go on for one cell past the edge, and end there
    wide = np.pad(np.pad(field, 1, mode="edge"), 1, constant_values=min(float(field.min()), level) - 1.0)
    after: dict[Side, Side] = {}
    inside = wide >= level
    mixed = inside[:-1, :-1] + 2 * inside[:-1, 1:] + 4 * inside[1:, 1:] + 8 * inside[1:, :-1]
    for row, column in np.argwhere((mixed > 0) & (mixed < 15)).tolist():
        after.update(_parts(int(mixed[row, column]), row, column, wide, level))
    loops = []
    while after:
        first, at = after.popitem()
        loop = [first, at]
        while at != first:
            at = after.pop(at)
            loop.append(at)
        loops.append(np.array([_crossing(side, wide, level) for side in loop[:-1]]) - 2.0)
    return loops


# sides of a square: 0 first row, 1 last column, 2 last row, 3 first column; the inside lies on one hand throughout
_WAYS: dict[int, tuple[tuple[int, int], ...]] = {
    1: ((3, 0),),
    2: ((0, 1),),
    3: ((3, 1),),
    4: ((1, 2),),
    6: ((0, 2),),
    7: ((3, 2),),
    8: ((2, 3),),
    9: ((2, 0),),
    11: ((2, 1),),
    12: ((1, 3),),
    13: ((1, 0),),
    14: ((0, 3),),
}
_SADDLES: dict[tuple[int, bool], tuple[tuple[int, int], ...]] = {
    (5, True): ((3, 2), (1, 0)),
    (5, False): ((3, 0), (1, 2)),
    (10, True): ((0, 3), (2, 1)),
    (10, False): ((0, 1), (2, 3)),
}
"""Two opposite corners inside: joined where the middle of the square is inside too, else apart."""


def _parts(mixed: int, row: int, column: int, wide: Floats, level: float) -> list[tuple[Side, Side]]:
    if mixed in (5, 10):
        is_joined = bool(wide[row : row + 2, column : column + 2].mean() >= level)
        ways = _SADDLES[mixed, is_joined]
    else:
        ways = _WAYS[mixed]
    sides = ((row, column, 0), (row, column + 1, 1), (row + 1, column, 0), (row, column, 1))
    return [(sides[begin], sides[end]) for begin, end in ways]


def _crossing(side: Side, wide: Floats, level: float) -> tuple[float, float]:
    row, column, way = side
    one = float(wide[row, column])
    other = float(wide[row + 1, column] if way else wide[row, column + 1])
    share = (level - one) / (other - one)
    return (column, row + share) if way else (column + share, row)
