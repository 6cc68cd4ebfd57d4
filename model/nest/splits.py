"""Sheets that are larger than their stock: the pieces that they are joined of, and by which rule.

Strips off a roll lap. Leaves of veneer are joined edge to edge, and end to end where none is long enough. Boards butt, in the fewest equal pieces that come out of the stock; in every second lamination
the joints lie half a piece further on, so that no two lie over each other (common practice).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from ..bag.strips import strip_count
from ..data.bench import usual
from ..materials import Board, Wood
from ..plan import Plan
from ..stack import Layer
from ..units import Count, Mm
from ..wording import both
from .leaves import least_strips, strip_width

THICKEST_LEAF: Mm = 6.0
"""Wood up to this thickness is veneer, in leaves; thicker wood is chosen by eye, board by board (common practice)."""
NARROWEST_STRIP: Mm = 30.0
"""Strips narrower than this are no joined leaves but a pattern, which has a cutting plan of its own (common practice)."""

Size = tuple[Mm, Mm]
"""Length along the panel, and width."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Split:
    """One sheet as several pieces.

    Parameters
    ----------
    kind
        What they are called.
    pieces
        Size of each.
    rule
        How they are joined.
    """

    kind: Literal["strips", "pieces"]
    pieces: tuple[Size, ...]
    rule: str

    @property
    def note(self) -> str:
        """What the sheet is made of, as the end of a sentence."""
        return f"{len(self.pieces)} {self.kind} that {self.rule}"


def split_of(plan: Plan, layer: Layer) -> Split | None:
    """Pieces of a layer off a roll or out of boards; None where it is one."""
    chosen, stock, size = plan.chosen, plan.layup.stock, (layer.blank.length, layer.blank.width)
    match layer.role:
        case "release" if chosen.release is not None:
            return _of_strips(size, chosen.release.stock_widths, stock.release_roll)
        case "absorbent" if chosen.absorbent is not None:
            return _of_strips(size, chosen.absorbent.stock_widths, stock.paper_roll)
        case "breather" if chosen.breather is not None:
            return _of_strips(size, chosen.breather.stock_widths, stock.breather_roll)
        case "caul" if chosen.caul is not None:
            return _of_boards(size, chosen.caul, plan, may_turn=True, is_shifted=False)
        case "substrate" if isinstance(chosen.substrate, Board):
            board = chosen.substrate
            laminations = [one for one in plan.stack.layers if one.role == "substrate"]
            return _of_boards(
                size,
                board,
                plan,
                may_turn=board.E == board.E_across,
                is_turned=layer.grain == "along width",
                is_shifted=laminations.index(layer) % 2 == 1,
            )
    return None


def platen_split(plan: Plan) -> Split | None:
    """Pieces of the platen; None where it is one, or where there is none."""
    board = plan.chosen.platen
    if plan.base.kind != "platen" or board is None:
        return None
    size = plan.base.outline.length, plan.base.outline.width
    return _of_boards(size, board, plan, may_turn=True, is_shifted=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class LeafSheet:
    """A sheet of veneer as the leaves that it is joined of.

    Parameters
    ----------
    wood
        What it is.
    strips, lengths
        Strips side by side, and pieces end to end in each of them.
    length, width
        Of one piece, its edges not yet trued.
    pattern
        Pieces of the pattern that the sheet is; 0 where it is none.
    """

    wood: Wood
    strips: Count
    lengths: Count
    length: Mm
    width: Mm
    pattern: int

    @property
    def note(self) -> str:
        """How it is joined, as the end of a sentence; empty where it is one leaf."""
        if self.pattern:
            return f"a pattern of {self.pattern} pieces"
        if self.strips == self.lengths == 1:
            return ""
        told = f"{self.strips:g} strips {both(self.width)} wide" if self.strips > 1 else "one strip"
        return told + (f", each of {self.lengths:g} lengths that butt" if self.lengths > 1 else "")


def leaf_sheet(plan: Plan, layer: Layer) -> LeafSheet | None:
    """Leaves of a layer of veneer; None where it is something else."""
    if layer.role not in ("veneer", "crossband", "substrate"):
        return None
    wood = plan.chosen.solid(layer.role, layer.side)
    if not isinstance(wood, Wood) or layer.thickness > THICKEST_LEAF:
        return None
    stock, blank = plan.layup.stock, layer.blank
    long, wide = (blank.width, blank.length) if layer.grain == "along width" else (blank.length, blank.width)
    asked = {"face": plan.layup.face.pieces, "back": plan.layup.back.pieces}.get(layer.key, 1)
    least = int(least_strips(b=wide, w=stock.leaf_width, j=stock.joint))
    is_pattern = asked > least and wide / asked < NARROWEST_STRIP
    strips = least if is_pattern else max(asked, least)
    lengths = max(1, math.ceil(long / stock.leaf_length - 1e-9))
    return LeafSheet(
        wood=wood,
        strips=strips,
        lengths=lengths,
        length=long / lengths,
        width=strip_width(b=wide, n=strips, j=stock.joint if strips > 1 else 0.0),
        pattern=asked if is_pattern else 0,
    )


def board_sizes(plan: Plan, board: Board) -> tuple[Size, ...]:
    """Sizes of a board that are to be had: those of the layup file, else the usual ones."""
    stock = plan.layup.stock
    if stock.board_length is not None and stock.board_width is not None:
        return ((stock.board_length, stock.board_width),)
    return board.stock_sheets


def _of_strips(size: Size, usual_widths: Sequence[Mm], own: Mm | None) -> Split | None:
    """Strips side by side, as long as the sheet is."""
    widest, lap = own or max(usual_widths, default=math.inf), usual("sheet.lap")
    long, wide = max(size), min(size)
    count = int(strip_count(b=wide, s=lap, R=widest))
    if count == 1:
        return None
    strip = (wide + (count - 1) * lap) / count
    piece = (long, strip) if size[0] >= size[1] else (strip, long)
    return Split(kind="strips", pieces=(piece,) * count, rule=f"lap by {both(lap)}")


def _of_boards(
    size: Size, board: Board, plan: Plan, *, may_turn: bool, is_shifted: bool, is_turned: bool = False
) -> Split | None:
    """Pieces that butt; the length of the stock runs along the width of the sheet where it is turned."""
    edge = plan.layup.stock.edge
    rooms = [(length - 2.0 * edge, width - 2.0 * edge) for length, width in board_sizes(plan, board)]
    ways = [*rooms, *(room[::-1] for room in rooms)] if may_turn else rooms
    ways = [room[::-1] for room in ways] if is_turned else ways
    counts = [
        (math.ceil(size[0] / along - 1e-9), math.ceil(size[1] / across - 1e-9)) for along, across in ways
    ]
    if not counts or (1, 1) in counts:
        return None
    along, across = min(counts, key=lambda count: (count[0] * count[1], count))
    columns, rows = _lengths(size[0], along, is_shifted), _lengths(size[1], across, is_shifted)
    pieces = tuple((length, width) for length in columns for width in rows)
    shifted = ", its joints half a piece beside those of its neighbours" if is_shifted else ""
    return Split(kind="pieces", pieces=pieces, rule=f"butt{shifted}")


def _lengths(whole: Mm, count: Count, is_shifted: bool) -> list[Mm]:
    """Lengths of equal pieces; shifted by half a piece, with a half one at each end."""
    each = whole / count
    if count == 1 or not is_shifted:
        return [each] * int(count)
    return [0.5 * each, *[each] * (int(count) - 1), 0.5 * each]
