"""What a layup takes of each stock: the pieces to cut, and the sheets, leaves or rolls that they can be cut from."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from ..bag.film_cut import FilmCut
from ..materials import Board, Breather, Paper, Release
from ..plan import Plan
from ..stack import Layer
from ..units import Mm
from .rectangles import Piece
from .splits import LeafSheet, Split, board_sizes, leaf_sheet, platen_split, split_of

Kind = Literal["board", "leaf", "roll"]

OWN = "the layup file"


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """Pieces of one stock.

    Parameters
    ----------
    kind
        Boards are sawn, leaves of veneer and rolls are cut with a knife.
    material
        Its name.
    sizes
        Length and width of the sheets that are to be had, along and across the grain; of a roll its width alone
        matters, and its length is 0.
    kerf, edge
        What a cut takes, and what is trimmed off every edge of a sheet.
    origin
        Where the sizes come from.
    notes
        What has to be heeded, as sentences.
    """

    kind: Kind
    material: str
    thickness: Mm
    pieces: tuple[Piece, ...]
    sizes: tuple[tuple[Mm, Mm], ...]
    kerf: Mm
    edge: Mm
    origin: str
    notes: tuple[str, ...] = ()
    wholes: tuple[Piece, ...] = ()
    """What is joined of pieces, as if it came in one."""


def excess(need: Need, piece: Piece) -> Mm:
    """How far a piece reaches past the size of its stock that takes it best; not above zero where it fits."""
    lying = ((piece.length, piece.width), *(((piece.width, piece.length),) if piece.may_turn else ()))
    return min(
        _past(length, width, along - 2.0 * need.edge if along else math.inf, across - 2.0 * need.edge)
        for along, across in need.sizes
        for length, width in lying
    )


def _past(length: Mm, width: Mm, along: Mm, across: Mm) -> Mm:
    """How far a rectangle reaches past a room; a roll has no end."""
    return max(length - along, width - across)


def needs_of(plan: Plan) -> tuple[Need, ...]:
    """Every need of a plan: boards, then veneers, then what comes off rolls; pieces of one stock together."""
    found = [*_boards(plan), *_leaves(plan), *_rolls(plan)]
    joined: dict[tuple[Kind, str, int], Need] = {}
    for need in found:
        key = (need.kind, need.material, round(1e4 * need.thickness) if need.kind != "roll" else 0)
        joined[key] = _joined(joined[key], need) if key in joined else need
    return tuple(joined.values())


def _joined(one: Need, other: Need) -> Need:
    notes = tuple(dict.fromkeys((*one.notes, *other.notes)))
    return Need(
        kind=one.kind,
        material=one.material,
        thickness=one.thickness,
        pieces=(*one.pieces, *other.pieces),
        sizes=one.sizes,
        kerf=one.kerf,
        edge=one.edge,
        origin=one.origin,
        notes=notes,
        wholes=(*one.wholes, *other.wholes),
    )


def _boards(plan: Plan) -> Iterator[Need]:
    platen = plan.chosen.platen
    if plan.base.kind == "platen" and platen is not None:
        outline = plan.base.outline
        piece = Piece(mark="P", name="platen", length=outline.length, width=outline.width, may_turn=True)
        yield _joined_of(_board(plan, platen, plan.base.lowest, (piece,)), platen_split(plan))
    yield from _form(plan)
    for number, layer in enumerate(plan.stack.layers, 1):
        if layer.role == "substrate" and isinstance(plan.chosen.substrate, Board):
            board = plan.chosen.substrate
            free = board.E == board.E_across
            need = _board(plan, board, layer.thickness, _pieces(number, layer, may_turn=free))
            yield _joined_of(need, split_of(plan, layer), is_turned=layer.grain == "along width")
        elif layer.role == "caul" and plan.chosen.caul is not None:
            need = _board(plan, plan.chosen.caul, layer.thickness, _pieces(number, layer, may_turn=True))
            yield _joined_of(need, split_of(plan, layer))


def _joined_of(need: Need, split: Split | None, is_turned: bool = False) -> Need:
    """Need of what a sheet is joined of, where no stock takes it in one; turned where the grain runs across it."""
    if split is None:
        return need
    first = need.pieces[0]
    pieces = tuple(
        replace(first, length=width, width=length)
        if is_turned
        else replace(first, length=length, width=width)
        for length, width in split.pieces
    )
    note = f"Join the {first.name}, {need.material}, of {split.note}."
    return replace(need, pieces=pieces * len(need.pieces), notes=(*need.notes, note), wholes=need.pieces)


def _form(plan: Plan) -> Iterator[Need]:
    """Boards of the form, which may lie any way round, and its skin, which bends along its length."""
    design, board = plan.form, plan.chosen.form
    if design is None or design.built is None or board is None or plan.is_undercut:
        return
    for part in design.parts:
        length, width = part.size
        piece = Piece(mark="F", name=part.name, length=length, width=width, may_turn=True)
        yield _board(plan, board, part.thickness, (piece,) * part.quantity)
    for skin in design.skins:
        free = board.E == board.E_across
        piece = Piece(mark="F", name=skin.name, length=skin.length, width=skin.width, may_turn=free)
        yield _board(plan, board, skin.thickness, (piece,))


def _board(plan: Plan, board: Board, thickness: Mm, pieces: tuple[Piece, ...]) -> Need:
    stock = plan.layup.stock
    own = stock.board_length is not None and stock.board_width is not None
    return Need(
        kind="board",
        material=board.name,
        thickness=thickness,
        pieces=pieces,
        sizes=board_sizes(plan, board),
        kerf=stock.kerf,
        edge=stock.edge,
        origin=OWN if own else "the usual sheets",
    )


def _leaves(plan: Plan) -> Iterator[Need]:
    for number, layer in enumerate(plan.stack.layers, 1):
        sheet = leaf_sheet(plan, layer)
        if sheet is not None:
            yield _leaf(plan, number, layer, sheet)


def _leaf(plan: Plan, number: int, layer: Layer, sheet: LeafSheet) -> Need:
    stock = plan.layup.stock
    piece = Piece(mark=str(number), name=layer.name, length=sheet.length, width=sheet.width)
    settled = {one.key: one for one in plan.layup.settled}
    own = settled["stock.leaf_length"].given or settled["stock.leaf_width"].given
    whole = replace(piece, length=sheet.lengths * sheet.length)
    return Need(
        kind="leaf",
        material=f"{sheet.wood.name} veneer",
        thickness=layer.thickness,
        pieces=(piece,) * int(sheet.strips * sheet.lengths),
        sizes=((stock.leaf_length, stock.leaf_width),),
        kerf=0.0,
        edge=0.0,
        origin=OWN if own else "usual leaves",
        notes=tuple(_leaf_notes(layer, sheet)),
        wholes=(whole,) if sheet.lengths > 1 else (),
    )


def _leaf_notes(layer: Layer, sheet: LeafSheet) -> Iterator[str]:
    if sheet.pattern:
        yield f"The {layer.name} is {sheet.note}: it needs a cutting plan of its own and more veneer."
    elif sheet.strips > 1:
        yield f"The {layer.name} is joined of {sheet.strips:g} strips; keep the leaves of a match together."
    if sheet.lengths > 1:
        yield (
            f"No leaf is as long as the {layer.name}: {sheet.lengths:g} lengths butt in each strip, where it shows; "
            "stagger the butts from strip to strip, or get longer leaves."
        )


def _rolls(plan: Plan) -> Iterator[Need]:
    chosen, stock = plan.chosen, plan.layup.stock
    for number, layer in enumerate(plan.stack.layers, 1):
        pieces = _pieces(number, layer, may_turn=True)
        if layer.role == "release" and chosen.release is not None:
            yield _roll(chosen.release, stock.release_roll, layer, pieces, split_of(plan, layer))
        elif layer.role == "absorbent" and chosen.absorbent is not None:
            yield _roll(chosen.absorbent, stock.paper_roll, layer, pieces, split_of(plan, layer))
        elif layer.role == "breather" and chosen.breather is not None:
            yield _roll(chosen.breather, stock.breather_roll, layer, pieces, split_of(plan, layer))
    if plan.film is not None and not plan.is_undercut:
        yield _film(plan, plan.film)


def _film(plan: Plan, cut: FilmCut) -> Need:
    """The film of a new bag, on the roll and the way round that the bag was cut for."""
    sizes = [(piece.length, piece.width) for sheet in cut.sheets for piece in sheet.pieces]
    along = sizes if cut.run == "along" else [(width, length) for length, width in sizes]
    pieces = tuple(Piece(mark="B", name="bag film", length=length, width=width) for length, width in along)
    own = plan.layup.bag.roll is not None
    return Need(
        kind="roll",
        material=f"{plan.chosen.film.name}{', tube' if cut.is_tube else ''}",
        thickness=plan.layup.bag.thickness,
        pieces=pieces,
        sizes=((0.0, cut.roll),),
        kerf=0.0,
        edge=0.0,
        origin=OWN if own else "the usual tubes" if cut.is_tube else "the usual rolls",
    )


def _roll(
    material: Release | Paper | Breather,
    own: Mm | None,
    layer: Layer,
    pieces: tuple[Piece, ...],
    split: Split | None,
) -> Need:
    """What comes off a roll; a sheet wider than every roll is laid of strips that lap."""
    widths = material.stock_widths if own is None else (own,)
    notes: tuple[str, ...] = ()
    if split is not None:
        long, wide = max(split.pieces[0]), min(split.pieces[0])
        strip = replace(pieces[0], length=long, width=wide)
        pieces = (strip,) * (len(split.pieces) * len(pieces))
        notes = (f"Lay the {layer.name}, {material.name}, of {split.note}.",)
    return Need(
        kind="roll",
        material=material.name,
        thickness=layer.thickness / layer.blank.quantity,
        pieces=pieces,
        sizes=tuple((0.0, width) for width in widths),
        kerf=0.0,
        edge=0.0,
        origin="the usual rolls" if own is None else OWN,
        notes=notes,
    )


def _pieces(number: int, layer: Layer, *, may_turn: bool) -> tuple[Piece, ...]:
    """Pieces of a layer's blank, their length along its grain."""
    blank = layer.blank
    across = layer.grain == "along width"
    length, width = (blank.width, blank.length) if across else (blank.length, blank.width)
    piece = Piece(mark=str(number), name=layer.name, length=length, width=width, may_turn=may_turn)
    return (piece,) * blank.quantity
