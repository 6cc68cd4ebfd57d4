"""The layers as they can be told apart at a scale, cut and hatched.

Source: ISO 128-50 (thin sections may be black: from memory). From what thickness on paper a sheet is hatched is our
own choice.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from ...model.plan import Plan
from ...model.shape.sheet import Sheet
from ...model.stack import Layer
from ...model.units import Mm, Ratio
from ..drawing.curves import Edge
from ..drawing.pens import NARROW, WIDE, Pen
from ..drawing.primitives import Hatch, Item, Stroke
from .cut import ring
from .hatching import Cut, cut_of

BLACK: Mm = 0.6
"""Thickness on paper below which a sheet is black."""
BARE: Mm = 1.1
"""Thickness on paper below which a sheet is outlined only."""
STOUT: Mm = 2.0
"""Thickness on paper from which an outline is wide."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """One cut part of the stack: between two heights, from the middle to both sides.

    Parameters
    ----------
    key
        Key of its layer, or ``"substrate"`` for laminations that are drawn as one.
    half
        Half its length along the sheet.
    cut
        How it is hatched.
    """

    key: str
    low: Mm
    high: Mm
    half: Mm
    cut: Cut


def bodies(plan: Plan, ratio: Ratio) -> tuple[Body, ...]:
    """Layers from below, without the glue lines too thin to leave white.

    Laminations that would be too thin to hatch are one body, glue included.
    """
    layers = plan.stack.layers
    core = [layer for layer in layers if layer.side == "core"]
    sheets = [layer for layer in core if layer.role == "substrate"]
    parted = len(sheets) == 1 or sheets[0].thickness * ratio >= BARE
    found: list[Body] = []
    for layer in layers:
        if layer.side == "core" and not parted:
            if layer is core[0]:
                whole = cut_of(plan, sheets[0])
                half = 0.5 * layer.outline.length
                found.append(Body(key="substrate", low=layer.height, high=core[-1].top, half=half, cut=whole))
        elif layer.role != "adhesive":
            number = sheets.index(layer) if layer in sheets else 0
            found.append(_body(plan, layer, number))
    return tuple(found)


def _body(plan: Plan, layer: Layer, number: int) -> Body:
    return Body(
        key=layer.key,
        low=layer.height,
        high=layer.top,
        half=0.5 * layer.outline.length,
        cut=cut_of(plan, layer, number),
    )


def drawn(body: Body, sheet: Sheet, lift: Mm, ratio: Ratio, start: Mm, end: Mm) -> Iterator[Item]:
    """Hatching and outline of a body from one place of the sheet to another."""
    edges = ring(sheet, lift, body.low, body.high, start, end)
    thickness = (body.high - body.low) * ratio
    yield from shaded(edges, body.cut, thickness, body.key)
    yield from outlined(edges, pen_of(thickness), body.key)


def shaded(edges: tuple[Edge, ...], cut: Cut, thickness: Mm, part: str) -> Iterator[Item]:
    """Hatching of an outline by its thickness on paper: black, none or the pattern."""
    if thickness < BLACK:
        yield Hatch(boundary=edges, pattern="solid", part=part)
    elif thickness >= BARE:
        yield Hatch(boundary=edges, pattern=cut.pattern, turn=cut.turn, spread=cut.spread, part=part)


def outlined(edges: tuple[Edge, ...], pen: Pen, part: str) -> Iterator[Item]:
    """Strokes along edges."""
    yield from (Stroke(curve=edge, pen=pen, part=part) for edge in edges)


def pen_of(thickness: Mm) -> Pen:
    """Wide line for what is thick on paper, narrow for thin sheets."""
    return WIDE if thickness >= STOUT else NARROW
