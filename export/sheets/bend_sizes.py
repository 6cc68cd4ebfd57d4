"""Dimensions of the section of bent work: chord, rise, radii and the lengths of the arcs.

Chord, rise and radius are those of the show face; the form's face gets its own radius and arc, since the form is
made to them.
"""

import math
from collections.abc import Callable, Sequence
from itertools import combinations

import numpy as np

from ...model.plan import Plan
from ..drawing.boxes import extent
from ..drawing.curves import Edge, Point
from ..drawing.lanes import Wanted
from ..drawing.paper import Box
from ..drawing.primitives import ArcDimension, Balloon, Item, Side, Stroke
from ..drawing.sheet import View, view_on_paper
from .arc_size import arc_size
from .clear_lanes import clear_lanes, on_paper
from .cut import spot
from .faces import Face, show_height
from .radius_size import radius_size, radius_with_room
from .radius_spots import half_spots, other_spots, tightest_spots
from .room import room
from .words import units_of, written

Step = Callable[[View], Sequence[Item]]
"""Some of the dimensions, placed where the view has room."""


def bend_sizes(plan: Plan, view: View, cover: Box, outline: Sequence[Edge]) -> tuple[Item, ...]:
    """Dimensions around the section of a bend.

    Parameters
    ----------
    cover
        Box around film and valve, in the view's mm.
    outline
        Outline of the form, which is not yet in the view.
    """
    whole = view.with_items(*(Stroke(curve=edge) for edge in outline))
    valve = [item for item in view.items if isinstance(item, Balloon) or getattr(item, "part", "") == "valve"]
    show, face = Face(name="show face", height=show_height(plan)), Face(name="form face", height=0.0)

    def below(drawn: View) -> Sequence[Item]:
        return clear_lanes(drawn, _level(plan), Side.BELOW, cover.low[1], first=10.0)

    def show_arc(drawn: View) -> Sequence[Item]:
        return [arc_size(plan, drawn, show, valve, ())]

    def form_arc(drawn: View) -> Sequence[Item]:
        return [arc_size(plan, drawn, face, valve, outline)]

    def rise(drawn: View) -> Sequence[Item]:
        arcs = [item for item in view_on_paper(drawn) if isinstance(item, ArcDimension)]
        right = drawn.in_view(extent(arcs).high)[0] if arcs else cover.high[0]
        return clear_lanes(drawn, [_rise(plan)], Side.RIGHT, max(cover.high[0], right))

    def radii(drawn: View) -> Sequence[Item]:
        if plan.stack.sheet.profile.is_even:
            first = radius_size(plan, drawn, show, half_spots(plan, -1.0), outline)
            return first, radius_size(plan, drawn.with_items(first), face, half_spots(plan, 1.0), outline)
        found: list[Item] = [radius_size(plan, drawn, face, tightest_spots(plan), outline)]
        found.append(radius_size(plan, drawn.with_items(*found), show, tightest_spots(plan), outline))
        for spots in other_spots(plan):
            more = radius_with_room(plan, drawn.with_items(*found), face, spots, outline)
            found += [] if more is None else [more]
        return found

    orders: tuple[tuple[Step, ...], ...] = (
        (below, show_arc, form_arc, rise, radii),
        (below, rise, show_arc, form_arc, radii),
        (show_arc, form_arc, below, rise, radii),
        (rise, radii, below, show_arc, form_arc),
    )
    found = [_in_order(whole, order) for order in orders[:1]]
    for order in orders[1:]:
        if _is_clear(whole, found[-1]):
            return found[-1]
        found.append(_in_order(whole, order))
    return found[-1] if _is_clear(whole, found[-1]) else found[0]


def _in_order(view: View, steps: Sequence[Step]) -> tuple[Item, ...]:
    """Items of the steps, each placed where those before have left room."""
    found: list[Item] = []
    for step in steps:
        found += step(view.with_items(*found))
    return tuple(found)


def _is_clear(view: View, found: Sequence[Item]) -> bool:
    """Whether no text of the items lies on anything, nor anything of them on a text."""
    rooms = [on_paper(view, [item]) for item in found]
    drawn = room(view_on_paper(view))
    apart = all(one.clears(other) for one, other in combinations(rooms, 2))
    return apart and all(drawn.clears(one) for one in rooms)


def _level(plan: Plan) -> list[Wanted]:
    """Chord of the show face, and length of the form."""
    first, _, last = _show_points(plan)
    wanted = [Wanted(start=first, end=last, text=f"chord {written(math.dist(first, last), units_of(plan))}")]
    if not plan.is_undercut:
        left, right = _feet(plan)
        wanted.append(
            Wanted(start=left, end=right, text=f"form {written(right[0] - left[0], units_of(plan))}")
        )
    return wanted


def _rise(plan: Plan) -> Wanted:
    """Rise of the show face: of its middle over the chord, or of its highest over its lowest place."""
    first, crown, last = _show_points(plan)
    if plan.stack.sheet.profile.is_even:
        low, high, rise = last, crown, abs(crown[1] - 0.5 * (first[1] + last[1]))
    else:
        points = _show_row(plan)
        low, high = min(points, key=lambda point: point[1]), max(points, key=lambda point: point[1])
        rise = high[1] - low[1]
    return Wanted(start=low, end=high, text=f"rise {written(rise, units_of(plan))}")


def _show_row(plan: Plan) -> list[Point]:
    """Points along the show face, close to each other."""
    sheet, half = plan.stack.sheet, 0.5 * plan.outline.length
    t = np.concatenate(([-half], sheet.profile.places(), [half]))
    t = t[np.abs(t) <= half]
    points = sheet.place(t, np.zeros_like(t), show_height(plan))[:, [0, 2]] + np.array([0.0, plan.base.lift])
    return [(x, z) for x, z in points.tolist()]


def _show_points(plan: Plan) -> tuple[Point, Point, Point]:
    """First end, middle and last end of the show face."""
    sheet, lift, half = plan.stack.sheet, plan.base.lift, 0.5 * plan.outline.length
    height = show_height(plan)
    return spot(sheet, lift, -half, height), spot(sheet, lift, 0.0, height), spot(sheet, lift, half, height)


def _feet(plan: Plan) -> tuple[Point, Point]:
    """Leftmost and rightmost point of the form; at its foot where its ends stand upright."""
    upper = plan.base.upper
    ends = upper[int(upper[:, 0].argmin())], upper[int(upper[:, 0].argmax())]
    (left, left_level), (right, right_level) = (end.tolist() for end in ends)
    stands = left == float(upper[0, 0]) and right == float(upper[-1, 0])
    return ((left, 0.0), (right, 0.0)) if stands else ((left, left_level), (right, right_level))
