"""Pieces laid onto sheets of one size so that a saw can cut them: every cut goes from edge to edge of what is left.

The packing library tries its rules; the layout that takes the fewest sheets is kept and, of those, the one that
leaves the largest part of the last sheet whole.

Source: Jylänki, "A thousand ways to pack the bin" (2010), guillotine rules, as the packing library follows them.
"""

from collections.abc import Iterator, Sequence
from itertools import product
from math import ceil, floor
from typing import Any

from ..units import Mm
from .rectangles import Laid, Piece, Place

STEP: Mm = 0.01
"""The packing library counts in whole steps of this; pieces are rounded up to it, sheets down."""
MOST_KINDS = 3
"""Kinds of piece without grain up to which every choice of lying along or across is tried."""


def lay_on_sheets(
    pieces: Sequence[Piece], length: Mm, width: Mm, kerf: Mm, edge: Mm
) -> tuple[Laid, ...] | None:
    """Lay pieces onto as few sheets as can be found; None where one of them is larger than a sheet.

    Parameters
    ----------
    length, width
        Size of a sheet along and across its grain.
    kerf
        Width of a cut: what is left between pieces.
    edge
        What is trimmed off every edge of a sheet first.
    """
    room = (length - 2.0 * edge, width - 2.0 * edge)
    if not pieces or not all(_fits(piece, *room) for piece in pieces):
        return () if not pieces else None
    # a cut beside the last piece may run off the sheet
    bin_size = (_whole(room[0] + kerf, floor), _whole(room[1] + kerf, floor))
    best: tuple[tuple[int, int], list[list[tuple[int, int, Piece]]]] | None = None
    for lying in _ways_to_lie(pieces, *room):
        for found in _packed(lying, bin_size, kerf):
            score = (len(found), _end_of_last(found, kerf))
            if best is None or score < best[0]:
                best = (score, found)
    assert best is not None
    return tuple(
        Laid(
            length=length,
            width=width,
            places=tuple(Place(piece=piece, x=edge + STEP * x, y=edge + STEP * y) for x, y, piece in sheet),
        )
        for sheet in best[1]
    )


def _fits(piece: Piece, length: Mm, width: Mm) -> bool:
    """Whether a piece fits into a room, turned if it may be."""
    return any(
        _whole(one.length, ceil) <= _whole(length, floor) and _whole(one.width, ceil) <= _whole(width, floor)
        for one in (piece, *((piece.turned(),) if piece.may_turn else ()))
    )


def _whole(size: Mm, rounded: Any) -> int:
    """Size in whole steps; what is a step but for the last digit of a float is that step."""
    return int(rounded(round(size / STEP, 4)))


def _ways_to_lie(pieces: Sequence[Piece], length: Mm, width: Mm) -> Iterator[tuple[Piece, ...]]:
    """Choices of lying along or across: of every kind of piece that may turn, or of all alike where there are many."""
    kinds = list(dict.fromkeys((one.length, one.width) for one in pieces if one.may_turn))
    many = len(kinds) > MOST_KINDS
    for turns in product((False, True), repeat=1 if many else len(kinds)):
        turned = {
            kind: turns[0] if many else turn for kind, turn in zip(kinds, turns * len(kinds), strict=False)
        }
        way = tuple(one.turned() if one.may_turn and turned[one.length, one.width] else one for one in pieces)
        # what fits only the other way is laid that way
        yield tuple(one if _fits(_fixed(one), length, width) else one.turned() for one in way)


def _fixed(piece: Piece) -> Piece:
    return Piece(mark=piece.mark, name=piece.name, length=piece.length, width=piece.width)


def _packed(
    pieces: tuple[Piece, ...], bin_size: tuple[int, int], kerf: Mm
) -> Iterator[list[list[tuple[int, int, Piece]]]]:
    """Layouts by every rule: for each sheet the corners of its pieces in steps."""
    import rectpack

    rules = (
        rectpack.GuillotineBssfSas,
        rectpack.GuillotineBssfMaxas,
        rectpack.GuillotineBafSas,
        rectpack.GuillotineBafLas,
        rectpack.GuillotineBlsfMinas,
    )
    orders = (rectpack.SORT_AREA, rectpack.SORT_LSIDE, rectpack.SORT_SSIDE)
    for rule, order in product(rules, orders):
        packer = rectpack.newPacker(
            bin_algo=rectpack.PackingBin.BFF, pack_algo=rule, sort_algo=order, rotation=False
        )
        for number, piece in enumerate(pieces):
            packer.add_rect(_whole(piece.length + kerf, ceil), _whole(piece.width + kerf, ceil), rid=number)
        # joining free rooms across cuts would leave layouts that no saw can cut
        packer.add_bin(*bin_size, count=len(pieces), merge=False)
        packer.pack()
        if len(packer.rect_list()) < len(pieces):
            continue
        yield [[(rect.x, rect.y, pieces[rect.rid]) for rect in sheet] for sheet in packer]


def _end_of_last(found: list[list[tuple[int, int, Piece]]], kerf: Mm) -> int:
    """Area in steps that the last sheet needs at its corner: the smaller, the more is left whole."""
    last = found[-1]
    x = max(x + _whole(piece.length + kerf, ceil) for x, _, piece in last)
    y = max(y + _whole(piece.width + kerf, ceil) for _, y, piece in last)
    return x * y
