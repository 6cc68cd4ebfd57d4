"""Dimensions of the section of flat work: panel above, platen below, height of the stack at the right."""

from ...model.plan import Plan
from ...model.units import Mm
from ..drawing.lanes import Wanted
from ..drawing.paper import Box
from ..drawing.primitives import Item, Side
from ..drawing.sheet import View
from .clear_lanes import clear_lanes
from .words import units_of, written


def flat_sizes(plan: Plan, view: View, cover: Box, right: Mm) -> tuple[Item, ...]:
    """Dimensions around the section.

    Parameters
    ----------
    cover
        Box around film and valve, in the view's mm.
    right
        Right end of what is drawn.
    """
    work, base, layers = plan.stack.work, plan.base, plan.stack.layers
    zero = base.lift - plan.stack.sheet.reference
    half, top = 0.5 * plan.outline.length, zero + work[-1].top
    panel = [
        Wanted(
            start=(-half, top), end=(half, top), text=f"panel {written(plan.outline.length, units_of(plan))}"
        )
    ]
    left, foot = base.foot
    platen = [
        Wanted(start=(left, 0.0), end=(foot, 0.0), text=f"platen {written(foot - left, units_of(plan))}")
    ]
    stack = Wanted(
        start=(foot, base.lowest),
        end=(0.5 * layers[-1].outline.length, zero + layers[-1].top),
        text=f"stack {written(plan.stack.height, units_of(plan))}",
    )
    above = clear_lanes(view, panel, Side.ABOVE, cover.high[1])
    below = clear_lanes(view, platen if base.kind == "platen" else [], Side.BELOW, cover.low[1], first=10.0)
    drawn = view.with_items(*above, *below)
    return (*above, *below, *clear_lanes(drawn, [stack], Side.RIGHT, right))
