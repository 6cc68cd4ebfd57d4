"""The detail in the middle of a bend: every thickness and curve to scale, height of stack and panel dimensioned."""

from collections.abc import Iterator

from ...model.plan import Plan
from ...model.units import Mm
from ..drawing.curves import Point, polar
from ..drawing.primitives import Hatch, Item, LinearDimension
from ..drawing.scale import SCALES, Scale
from ..drawing.sheet import View, view_on_paper
from .bodies import bodies, drawn
from .breaks import break_line
from .clear_lanes import on_paper
from .cut import radius_at, ring, spot, upward
from .hatching import base_cut
from .naming import titled
from .room import room
from .words import units_of, written

NAME = "middle"
HALF: Mm = 17.0
"""Half of the width of the detail on paper."""
HIGHEST: Mm = 48.0
"""Greatest height of the stack on paper."""
DEPTH: Mm = 8.0
"""How much of the form is drawn below its face, on paper."""
LETTERS: Mm = 2.5
"""Lettering height: both texts fit between their arrows on most stacks."""
AWAY: Mm = 9.0
LANE: Mm = 7.0
"""Distances on paper of the first dimension line from the end, and of the second from the first."""


def crown_scale(plan: Plan) -> Scale:
    """Largest scale at which the stack is no higher than it should be on paper."""
    fits = (scale for scale in SCALES if scale.paper <= 10 and plan.stack.height * scale.ratio <= HIGHEST)
    return next(fits, SCALES[-1])


def half_width(plan: Plan, scale: Scale) -> Mm:
    """Half of the length along the sheet that is shown."""
    radius, _ = radius_at(plan.stack.sheet, 0.0, middle_of(plan))
    return min(HALF / scale.ratio, 0.45 * plan.outline.length, 0.3 * radius)


def middle_of(plan: Plan) -> Mm:
    """Place along the sheet of what is shown: where it is bent most, the middle of an arc."""
    return plan.stack.sheet.profile.tightest()


def crown_view(plan: Plan, scale: Scale) -> View:
    """Detail in the middle of a bend at a scale, its origin at the lower left of the paper."""
    view = View(name=NAME, scale=scale, origin=(0.0, 0.0), items=tuple(_items(plan, scale)))
    view = view.with_items(*_heights(plan, view))
    where = "" if plan.stack.sheet.profile.is_even else ", where it is bent most"
    return titled(view, f"Y ({scale})", f"every thickness to scale{where}")


def _items(plan: Plan, scale: Scale) -> Iterator[Item]:
    sheet, lift, unit = plan.stack.sheet, plan.base.lift, 1.0 / scale.ratio
    half, middle = half_width(plan, scale), middle_of(plan)
    start, end = middle - half, middle + half
    for body in bodies(plan, scale.ratio):
        yield from drawn(body, sheet, lift, scale.ratio, start, end)
    depth = _depth(plan, unit)
    if not plan.is_undercut:
        cut = base_cut(plan)
        edges = ring(sheet, lift, -depth, 0.0, start, end)
        yield Hatch(boundary=edges, pattern=cut.pattern, turn=cut.turn, spread=cut.spread, part="base")
        yield break_line(spot(sheet, lift, start, -depth), spot(sheet, lift, end, -depth), unit)
    for t in (start, end):
        yield break_line(spot(sheet, lift, t, -depth), spot(sheet, lift, t, plan.stack.height), unit)


def _heights(plan: Plan, view: View) -> tuple[LinearDimension, ...]:
    """Heights of panel and stack, beside each other where their texts allow it, else at both ends."""
    unit = 1.0 / view.scale.ratio
    _, sign = radius_at(plan.stack.sheet, 0.0, middle_of(plan))
    # at the end where texts are read from the right
    end = sign * half_width(plan, view.scale)
    near, far, drawn = AWAY * unit, (AWAY + LANE) * unit, room(view_on_paper(view))
    for first, second in ((near, far), (far, near)):
        panel, stack = _panel(plan, end, first), _stack(plan, end, second)
        shown, other = on_paper(view, [panel]), on_paper(view, [stack])
        if shown.admits(other) and drawn.admits(shown) and drawn.admits(other):
            return panel, stack
    return _panel(plan, -end, near), _stack(plan, end, near)


def _panel(plan: Plan, aside: Mm, away: Mm) -> LinearDimension:
    work = plan.stack.work
    return _height(plan, aside, "panel", (work[0].height, work[-1].top), away)


def _stack(plan: Plan, aside: Mm, away: Mm) -> LinearDimension:
    return _height(plan, aside, "stack", (0.0, plan.stack.height), away)


def _depth(plan: Plan, unit: Mm) -> Mm:
    if plan.is_undercut:
        return 0.0
    return min(DEPTH * unit, 0.3 * radius_at(plan.stack.sheet, 0.0, middle_of(plan))[0])


def _height(plan: Plan, aside: Mm, name: str, heights: tuple[Mm, Mm], away: Mm) -> LinearDimension:
    """Distance of two heights along the normal at an end of the detail, dimensioned beyond it."""
    sheet, lift, t = plan.stack.sheet, plan.base.lift, middle_of(plan) + aside
    low, high = (spot(sheet, lift, t, height) for height in heights)
    angle = upward(sheet, t)
    outward = angle - 1.5707963267948966 if aside > 0.0 else angle + 1.5707963267948966
    through: Point = polar(low, away, outward)
    text = f"{name} {written(heights[1] - heights[0], units_of(plan))}"
    return LinearDimension(start=low, end=high, through=through, angle=angle, text=text, height=LETTERS)
