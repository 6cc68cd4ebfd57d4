"""Dimensions beside a view, moved outward until nothing that is drawn runs through their texts."""

from collections.abc import Sequence

from ...model.units import Mm
from ..drawing.boxes import boxes_of
from ..drawing.lanes import Wanted, stack_dimensions
from ..drawing.primitives import Balloon, Item, LinearDimension, Side, Text
from ..drawing.sheet import View, placed, view_on_paper
from .room import Room, room

STEP: Mm = 3.0
STEPS = 20
"""How far on paper the first lane is moved out at a time, and how often."""


def clear_lanes(
    view: View, wanted: Sequence[Wanted], side: Side, edge: Mm, first: Mm = 7.0, height: Mm = 3.5
) -> tuple[LinearDimension, ...]:
    """Dimensions on one side of a view, in lanes clear of everything that is drawn in it.

    Parameters
    ----------
    edge
        The outermost y or x of the outline, in the view's mm.
    first
        Least distance on paper of the first lane from the edge.
    """
    shown = view_on_paper(view)
    drawn = room(shown)
    boxes = boxes_of(item for item in shown if isinstance(item, Text | Balloon))

    def lanes(away: Mm) -> tuple[LinearDimension, ...]:
        return stack_dimensions(view, wanted, side, edge, boxes, height=height, first=first + away)

    tries = (lanes(step * STEP) for step in range(STEPS))
    return next((found for found in tries if drawn.admits(on_paper(view, found))), lanes(0.0))


def on_paper(view: View, items: Sequence[Item]) -> Room:
    """Room of items of a view, on paper."""
    return room(placed(item, view.scale.ratio, view.origin) for item in items)
