"""Dimensions of the section of bent work: chord, rise, radii and the lengths of the arcs.

Chord, rise and radius are those of the show face; the form's face gets its own radius and arc, since the form is
made to them.
"""

import math
from collections.abc import Sequence
from dataclasses import replace

from ...model.plan import Plan
from ...model.units import Mm
from ..drawing.boxes import extent
from ..drawing.curves import Edge, Point
from ..drawing.lanes import Wanted
from ..drawing.paper import Box
from ..drawing.primitives import Balloon, Item, Side, Stroke
from ..drawing.sheet import View, placed
from .arc_size import arc_size
from .clear_lanes import clear_lanes
from .cut import spot
from .faces import Face, show_height
from .radius_size import radius_size
from .words import size


def bend_sizes(plan: Plan, view: View, cover: Box, outline: Sequence[Edge]) -> tuple[Item, ...]:
    """Dimensions around the section of a bend.

    Parameters
    ----------
    cover
        Box around film and valve, in the view's mm.
    outline
        Outline of the form, which is not yet in the view.
    """
    found: list[Item] = []
    form = [Stroke(curve=edge) for edge in outline]
    valve = [item for item in view.items if isinstance(item, Balloon) or getattr(item, "part", "") == "valve"]

    def drawn() -> View:
        return replace(view, items=(*view.items, *found, *form))

    show, face = Face(name="show face", height=show_height(plan)), Face(name="form face", height=0.0)
    found.append(arc_size(plan, drawn(), show, valve, ()))
    found.append(arc_size(plan, drawn(), face, valve, outline))
    arcs = extent(placed(item, view.scale.ratio, view.origin) for item in found)
    found += _straight_sizes(plan, drawn(), cover, max(cover.high[0], view.in_view(arcs.high)[0]))
    for one, side in ((show, -1.0), (face, 1.0)):
        found.append(radius_size(plan, drawn(), one, side, outline))
    return tuple(found)


def _straight_sizes(plan: Plan, view: View, cover: Box, right: Mm) -> tuple[Item, ...]:
    sheet, lift, half = plan.stack.sheet, plan.base.lift, 0.5 * plan.outline.length
    height = show_height(plan)
    first, crown, last = (spot(sheet, lift, t, height) for t in (-half, 0.0, half))
    chord = math.dist(first, last)
    below = [Wanted(start=first, end=last, text=f"chord {size(chord)}")]
    if not plan.is_undercut:
        left, right_foot = _feet(plan)
        below.append(Wanted(start=left, end=right_foot, text=f"form {size(right_foot[0] - left[0])}"))
    rise = abs(crown[1] - 0.5 * (first[1] + last[1]))
    under = clear_lanes(view, below, Side.BELOW, cover.low[1], first=10.0)
    beside = [Wanted(start=last, end=crown, text=f"rise {size(rise)}")]
    return (*under, *clear_lanes(view.with_items(*under), beside, Side.RIGHT, right))


def _feet(plan: Plan) -> tuple[Point, Point]:
    """Leftmost and rightmost point of the form; at its foot where its ends stand upright."""
    upper = plan.base.upper
    ends = upper[int(upper[:, 0].argmin())], upper[int(upper[:, 0].argmax())]
    (left, left_level), (right, right_level) = (end.tolist() for end in ends)
    stands = left == float(upper[0, 0]) and right == float(upper[-1, 0])
    return ((left, 0.0), (right, 0.0)) if stands else ((left, left_level), (right, right_level))
