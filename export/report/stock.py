"""Stock in a report: what is taken of each, its yield, and where every piece lies."""

from collections.abc import Iterable, Iterator, Sequence

from ...model.nest.needs import Need
from ...model.nest.nesting import Nesting
from ...model.nest.rectangles import Piece as Rectangle
from ...model.nest.solid_stock import solid_pieces
from ...model.plan import Plan
from ...model.units import Mm
from ...model.wording import both, both_size, in_inches, in_mm, percent
from ..document.pieces import Cell, Column, Piece, Sentences, Subtitle, Table
from ..stock import StockSheet, largest, stock_sheets, taken

STOCK = (
    Column(name="Got", share=9),
    Column(name="Stock", share=35),
    Column(name="Take", share=38),
    Column(name="Pieces", share=8),
    Column(name="Yield", share=10),
)
SOLID = (
    Column(name="Cut", share=11),
    Column(name="Piece", share=38),
    Column(name="Length", share=17),
    Column(name="Width", share=17),
    Column(name="Thick", share=17),
)
PLACES = (
    Column(name="Sheet", share=12),
    Column(name="No.", share=7),
    Column(name="Piece", share=24),
    Column(name="From the end", share=23),
    Column(name="From the edge", share=13),
    Column(name="Along", share=11),
    Column(name="Across", share=11),
)


def stock_table(nestings: Sequence[Nesting]) -> tuple[Piece, ...]:
    """What is taken of each stock, to tick off, and what to heed."""
    table = Table(
        about="Sizes of stock are those of the layup file's [stock], else those that are usually sold.",
        columns=STOCK,
        rows=tuple(_taken(nesting) for nesting in nestings),
        head=1,
    )
    notes = tuple(dict.fromkeys(note for nesting in nestings for note in _notes(nesting)))
    return (table, *((Sentences(texts=notes),) if notes else ()))


def solid_stock(plan: Plan) -> tuple[Piece, ...]:
    """What is cut from solid stock; nothing where there is none."""
    found = solid_pieces(plan)
    if not found:
        return ()
    rows = tuple(
        (
            Cell(text=f"× {one.pieces}" if one.pieces > 1 else "", boxes=one.pieces),
            Cell(text=one.name, below=one.material),
            *(
                Cell(text=in_mm(size), below=in_inches(size))
                for size in (one.length, one.width, one.thickness)
            ),
        )
        for one in found
    )
    about = "Choose the boards by eye; sizes are those of the finished pieces. They are not laid out here."
    return (
        Subtitle(text="Cut from solid stock, not nested"),
        Table(about=about, columns=SOLID, rows=rows, head=2),
    )


def place_table(nestings: Sequence[Nesting]) -> tuple[Piece, ...]:
    """Where every piece lies on its sheet."""
    sheets = stock_sheets(nestings)
    if not sheets:
        return ()
    about = (
        "From the corner at one end and one edge to the nearest corner of the piece; along is along the grain of the "
        "stock, or off the roll."
    )
    rows = tuple(row for sheet in sheets for row in _places(sheet))
    return (Subtitle(text="Where the pieces lie"), Table(about=about, columns=PLACES, rows=rows, head=2))


def _taken(nesting: Nesting) -> tuple[Cell, ...]:
    need = nesting.need
    words = Cell(text=need.material, below=f"{both(need.thickness)} thick; {need.origin}")
    count = Cell(text=str(len(need.pieces)))
    if not nesting.sheets:
        return (Cell(text=""), words, Cell(text=f"none takes {_too_large(nesting)}"), count, Cell(text=""))
    boxes = 1 if need.kind == "roll" or len(nesting.sheets) > 24 else len(nesting.sheets)
    return (
        Cell(text="", boxes=boxes),
        words,
        Cell(text=taken(nesting), strong=True),
        count,
        Cell(text=percent(100.0 * nesting.yielded)),
    )


def _notes(nesting: Nesting) -> Iterator[str]:
    yield from nesting.need.notes
    if not nesting.sheets:
        yield f"{nesting.need.material}: {_largest(nesting.need)}; join the piece, or enter a larger one in [stock]."


def _largest(need: Need) -> str:
    length, width = largest(need)
    if width == 0.0:
        return "no usual size of it is known"
    return (
        f"the widest roll is {both(width)}"
        if need.kind == "roll"
        else f"the largest is {both_size(length, width)}"
    )


def _too_large(nesting: Nesting) -> str:
    return ", ".join(f"{piece.name} {both_size(piece.length, piece.width)}" for piece in nesting.too_large)


def _places(sheet: StockSheet) -> Iterator[tuple[Cell, ...]]:
    """Rows of a sheet: equal pieces at one distance from the edge share one, with all their distances from the end."""
    rows: dict[tuple[Rectangle, Mm], list[Mm]] = {}
    for place in sheet.laid.places:
        rows.setdefault((place.piece, place.y), []).append(place.x)
    for number, ((piece, y), found) in enumerate(rows.items()):
        ends = sorted(found)
        yield (
            Cell(text=sheet.label if number == 0 else "", below=sheet.need.material if number == 0 else ""),
            Cell(text=piece.mark),
            Cell(text=piece.name if len(ends) == 1 else f"{len(ends)} × {piece.name}"),
            Cell(text=_listed(map(_bare, ends)) + " mm", below=_listed(map(in_inches, ends))),
            *(Cell(text=in_mm(size), below=in_inches(size)) for size in (y, piece.length, piece.width)),
        )


def _listed(texts: Iterable[str]) -> str:
    return ", ".join(texts)


def _bare(length: Mm) -> str:
    return in_mm(length).removesuffix(" mm")
