"""Pieces laid onto a roll as they are cut at the bench: a length off the roll, then slit into pieces side by side.

Source: Coffman, Garey, Johnson, Tarjan, "Performance bounds for level-oriented two-dimensional packing algorithms",
SIAM Journal on Computing 9 (1980): first fit by falling height takes at most 1.7 times the least possible length and
one height more (from memory).
"""

from collections.abc import Sequence
from itertools import product

from ..units import Mm
from .rectangles import Laid, Piece, Place

MOST_KINDS = 5
"""Kinds of piece up to which every choice of lying along or across is tried."""


def lay_on_roll(pieces: Sequence[Piece], width: Mm) -> Laid | None:
    """Lay pieces onto a roll so that a short length is taken; None where one of them is wider than the roll."""
    kinds = list(dict.fromkeys((one.length, one.width) for one in pieces if one.may_turn))
    many = len(kinds) > MOST_KINDS
    found = []
    for turns in product((False, True), repeat=1 if many else len(kinds)):
        turned = {
            kind: turns[0] if many else turn for kind, turn in zip(kinds, turns * len(kinds), strict=False)
        }
        way = [one.turned() if one.may_turn and turned[one.length, one.width] else one for one in pieces]
        way = [one.turned() if one.may_turn and one.width > width else one for one in way]
        if all(one.width <= width for one in way):
            found.append(_by_rows(way, width))
    return min(found, key=lambda laid: laid.length, default=None)


def _by_rows(pieces: Sequence[Piece], width: Mm) -> Laid:
    """First fit by falling length: a piece goes into the first row that has room for it, else begins a new one."""
    rows: list[list[Piece]] = []
    for piece in sorted(pieces, key=lambda one: (-one.length, -one.width)):
        for row in rows:
            if sum(one.width for one in row) + piece.width <= width:
                row.append(piece)
                break
        else:
            rows.append([piece])
    places, x = [], 0.0
    for row in rows:
        y = 0.0
        for piece in row:
            places.append(Place(piece=piece, x=x, y=y))
            y += piece.width
        x += row[0].length
    return Laid(length=x, width=width, places=tuple(places))
