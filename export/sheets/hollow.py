"""The platen or form in the section: hatched along its edge only where it is large, and not under a text.

Source: ISO 128-50 (hatching of large areas kept to a zone along the outline, interrupted for text: from memory).
"""

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Any

import numpy as np

from ...model.units import Mm
from ..drawing.boxes import text_corners
from ..drawing.curves import Curve, Edge, Polyline, flattened
from ..drawing.explode import all_exploded
from ..drawing.pens import WIDE
from ..drawing.primitives import Hatch, Item, Stroke, Text
from ..drawing.sheet import View, placed
from .hatching import Cut

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

BAND: Mm = 5.0
"""Width on paper of the hatched zone of a large part."""
LEAST: Mm = 5.0
"""Half of the least height on paper of a zone that is left white."""
AIR: Mm = 0.8
"""White around a text, on paper."""


def hollow(outline: tuple[Edge, ...], cut: Cut, over: Iterable[Item], view: View) -> tuple[Item, ...]:
    """Hatching and outline of a large part.

    Parameters
    ----------
    outline
        Edges of the part, joined head to tail.
    over
        Items of the view whose texts may stand on the part.
    """
    unit = 1.0 / view.scale.ratio
    holes = tuple(_holes(outline, over, unit))
    hatch = Hatch(
        boundary=outline, pattern=cut.pattern, turn=cut.turn, spread=cut.spread, holes=holes, part="base"
    )
    return (hatch, *(Stroke(curve=edge, pen=WIDE, part="base") for edge in outline))


def _holes(outline: tuple[Edge, ...], over: Iterable[Item], unit: Mm) -> Iterator[tuple[Curve, ...]]:
    from shapely.geometry import Polygon
    from shapely.ops import unary_union

    whole = Polygon(np.concatenate([flattened(edge, 0.02 * unit) for edge in outline]))
    inner = whole.buffer(-(BAND + LEAST) * unit).buffer(LEAST * unit)
    texts = [Polygon(corners).buffer(AIR * unit, join_style="mitre") for corners in _text_boxes(over, unit)]
    white = unary_union([inner, *texts]).intersection(whole.buffer(-0.5 * unit))
    for piece in _polygons(white):
        yield (Polyline(points=tuple((float(x), float(y)) for x, y in piece.exterior.coords)),)


def _text_boxes(items: Iterable[Item], unit: Mm) -> Iterator[Any]:
    """Corners of the texts of items, in the view's mm."""
    on_paper = (placed(item, 1.0 / unit, (0.0, 0.0)) for item in items)
    for plain in all_exploded(on_paper):
        if isinstance(plain, Text):
            yield text_corners(plain) * unit


def _polygons(shape: "BaseGeometry") -> list[Any]:
    parts = getattr(shape, "geoms", [shape])
    return [part for part in parts if part.geom_type == "Polygon" and not part.is_empty]
