"""One sheet of stock with the pieces laid onto it, each named and sized within its own outline."""

import math
from collections.abc import Iterator

from ...model.nest.rectangles import Place
from ...model.units import Mm, Radian
from ...model.wording import percent
from ..drawing.curves import Line, Point, rectangle
from ..drawing.dimension import arrow
from ..drawing.lanes import Wanted, stack_dimensions
from ..drawing.lettering import DEPTH, LINE, RISE, text_width
from ..drawing.pens import HIDDEN, NARROW, WIDE
from ..drawing.primitives import Align, Item, Side, Stroke, Text
from ..drawing.scale import Scale
from ..drawing.sheet import View, placed
from ..stock import StockSheet
from .naming import titled
from .words import Units, thin, written, written_size

LETTERS: tuple[Mm, ...] = (3.5, 2.5, 1.8)
EASY: tuple[Mm, ...] = (3.5, 2.5)
"""Heights of letters that are read at the saw."""
FULL = 3
"""How many of the choices of words tell a piece's name and its size."""
AIR: Mm = 1.0
"""Free space on paper around the words of a piece."""
ARROW: Mm = 16.0
"""Length on paper of the arrow along the grain, or off the roll."""


def nest_view(sheet: StockSheet, units: Units, scale: Scale) -> View:
    """View of a sheet of stock at a scale, its corner at the origin."""
    laid, unit = sheet.laid, 1.0 / scale.ratio
    items: list[Item] = [
        Stroke(curve=rectangle((0.0, 0.0), (laid.length, laid.width)), pen=NARROW, part="stock")
    ]
    edge = sheet.need.edge
    if edge > 0.0:
        inner = rectangle((edge, edge), (laid.length - edge, laid.width - edge))
        items.append(Stroke(curve=inner, pen=HIDDEN, part="trimmed edge"))
    for place in laid.places:
        items += _piece(place, units, scale)
    items += _arrow(sheet, unit)
    view = View(name=sheet.label, scale=scale, origin=(0.0, 0.0), items=tuple(items))
    length = Wanted(start=(0.0, 0.0), end=(laid.length, 0.0), text=written(laid.length, units))
    width = Wanted(start=(0.0, 0.0), end=(0.0, laid.width), text=written(laid.width, units))
    dimensions = [
        *stack_dimensions(view, [length], Side.BELOW, 0.0),
        *stack_dimensions(view, [width], Side.LEFT, 0.0),
    ]
    return titled(view.with_items(*dimensions), *_names(sheet, units, scale))


def _names(sheet: StockSheet, units: Units, scale: Scale) -> tuple[str, str]:
    need = sheet.need
    many = f"{sheet.count} alike, " if sheet.count > 1 else ""
    pieces = len(sheet.laid.places)
    saw = (
        f"cuts {thin(need.kerf, units)}, edges trimmed by {thin(need.edge, units)}, "
        if need.kind == "board"
        else ""
    )
    return (
        f"{sheet.label}  {need.material}, {thin(need.thickness, units)}",
        f"{many}{pieces} piece{'s' if pieces > 1 else ''}, yield {percent(100.0 * sheet.laid.yielded)}, {saw}scale {scale}",
    )


def _piece(place: Place, units: Units, scale: Scale) -> Iterator[Item]:
    piece = place.piece
    high = (place.x + piece.length, place.y + piece.width)
    yield Stroke(curve=rectangle((place.x, place.y), high), pen=WIDE, part=piece.name)
    middle = (place.x + 0.5 * piece.length, place.y + 0.5 * piece.width)
    room = (piece.length * scale.ratio - 2.0 * AIR, piece.width * scale.ratio - 2.0 * AIR)
    choices = list(_choices(place, units))
    tries = [(lines, EASY) for lines in choices[:FULL]] + [(lines, LETTERS) for lines in choices]
    for lines, heights in tries:
        fitting = _fitting(lines, room, heights)
        if fitting is not None:
            yield from _set(lines, middle, *fitting, 1.0 / scale.ratio)
            return


def is_told(sheet: StockSheet, units: Units, scale: Scale) -> bool:
    """Whether every piece carries its name and its size in letters that are read easily."""
    for place in sheet.laid.places:
        room = (
            place.piece.length * scale.ratio - 2.0 * AIR,
            place.piece.width * scale.ratio - 2.0 * AIR,
        )
        full = list(_choices(place, units))[:FULL]
        if all(_fitting(lines, room, EASY) is None for lines in full):
            return False
    return True


def _choices(place: Place, units: Units) -> Iterator[tuple[str, ...]]:
    """Lines that a piece may carry, the fullest first."""
    piece = place.piece
    name = " ".join(part for part in (piece.mark, piece.name) if part)
    whole, metric, inches = (
        written_size(piece.length, piece.width, one) for one in (units, Units.METRIC, Units.INCH)
    )
    yield (name, whole)
    yield (f"{name}, {whole}",)
    yield (name, metric, f"[{inches}]") if units is Units.BOTH else (name, whole)
    yield (piece.mark, inches if units is Units.INCH else metric)
    yield (piece.mark,)


def _fitting(
    lines: tuple[str, ...], room: tuple[Mm, Mm], heights: tuple[Mm, ...]
) -> tuple[Mm, Radian] | None:
    """Largest height at which lines fit into a room on paper, and their direction: level, else upright."""
    for height in heights:
        wide = max(text_width(line, height) for line in lines)
        deep = height * (RISE + DEPTH + LINE * (len(lines) - 1))
        for turn, (along, across) in ((0.0, room), (0.5 * math.pi, room[::-1])):
            if wide <= along and deep <= across:
                return height, turn
    return None


def _set(lines: tuple[str, ...], middle: Point, height: Mm, turn: Radian, unit: Mm) -> Iterator[Text]:
    """Lines about a point, one below the other as they are read."""
    top = 0.5 * height * (LINE * (len(lines) - 1) - RISE + DEPTH)
    for number, line in enumerate(lines):
        up = (top - LINE * height * number) * unit
        place = (middle[0] - math.sin(turn) * up, middle[1] + math.cos(turn) * up)
        yield Text(text=line, position=place, height=height, align=Align.CENTRE, turn=turn)


def _arrow(sheet: StockSheet, unit: Mm) -> Iterator[Item]:
    """Arrow above the stock: along its grain, or off the roll; none where neither matters."""
    need, laid = sheet.need, sheet.laid
    is_grained = need.kind == "leaf" or (
        need.kind == "board" and any(not place.piece.may_turn for place in laid.places)
    )
    if not is_grained and need.kind != "roll":
        return
    y = laid.width + 4.0 * unit
    low, high = (0.0, y), (min(ARROW * unit, laid.length), y)
    yield Stroke(curve=Line(start=low, end=high), pen=NARROW, part="grain")
    yield placed(arrow((0.0, 0.0), 0.0), unit, high)
    if is_grained:
        yield placed(arrow((0.0, 0.0), math.pi), unit, low)
    words = "grain" if is_grained else "off the roll"
    yield Text(text=words, position=(high[0] + 2.0 * unit, y - 0.9 * unit), height=2.5)
