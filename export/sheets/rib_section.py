"""A ribbed form in the section: cut through a bay, so that skin, stretchers and baseboard are hatched and a rib is seen.

Source: ISO 128-44 (ribs are not shown cut along their length: from memory).
"""

from collections.abc import Iterator

from ...model.form.ribs import RibForm
from ...model.plan import Plan
from ...model.shape.loop import closed
from ...model.units import Ratio
from ..drawing.curves import Polyline
from ..drawing.primitives import Item
from .bodies import outlined, pen_of, shaded
from .cut import ring
from .hatching import base_cut
from .loop_curves import joined, loop_edges


def rib_section(plan: Plan, ribs: RibForm, ratio: Ratio) -> Iterator[Item]:
    """What is cut of a ribbed form, hatched and outlined, and the rib behind it."""
    base, cut, half = plan.base, base_cut(plan), 0.5 * plan.base.outline.length
    skin = ring(plan.stack.sheet, base.lift, ribs.skins[0].low, 0.0, -half, half)
    thickness = ribs.load.skin * ratio
    yield from shaded(skin, cut, thickness, "skin")
    yield from outlined(skin, pen_of(thickness), "skin")
    boxes = [
        (x0, ribs.core.foot, x1, part.outline.box[1][1])
        for part in ribs.stretchers
        for x0, x1 in ((x, x + part.thickness) for x in part.places)
    ]
    if ribs.baseboard is not None:
        left, right = ribs.core.ends
        boxes.append((left, 0.0, right, base.board))
    for x0, z0, x1, z1 in boxes:
        edges = (Polyline(points=((x0, z0), (x1, z0), (x1, z1), (x0, z1), (x0, z0))),)
        thin = min(x1 - x0, z1 - z0) * ratio
        yield from shaded(edges, cut, thin, "base")
        yield from outlined(edges, pen_of(thin), "base")
    # the stretchers that are cut stand before the notches
    seen = closed((*ribs.core.curve, *((x, z, 0.0) for x, z in ribs.core.around())))
    yield from outlined(joined(loop_edges(seen)), pen_of(ribs.load.rib * ratio), "rib")
