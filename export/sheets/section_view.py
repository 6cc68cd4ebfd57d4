"""The whole layup in its bag, cut along the panel's length in the middle of its width, with its sizes."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from ...model.plan import Plan
from ...model.units import Mm
from ..drawing.boxes import boxes_of, extent
from ..drawing.curves import Circle, Edge, Line, Point, Polyline, end_of, polar, start_of
from ..drawing.pens import CENTRE, NARROW
from ..drawing.primitives import Align, Item, Level, Stroke, Text
from ..drawing.scale import Scale
from ..drawing.sheet import View, view_on_paper
from .bend_sizes import bend_sizes
from .bodies import bodies, drawn
from .clear_lanes import on_paper
from .cut import along, backward, spot
from .film import Bag, bag
from .flat_sizes import flat_sizes
from .hanging import drawn_tail, hanging
from .hatching import base_cut
from .hollow import hollow
from .naming import LETTER, cut_letters, titled
from .rib_section import rib_section
from .room import room
from .valve_view import LETTER as VALVE_LETTER

NAME = "section"
LETTER_PLACES: tuple[tuple[Mm, Mm], ...] = (
    *((away, LETTER) for away in (3.5, 4.5, 5.5)),
    *((away, 3.5) for away in (2.8, 3.4, 4.0, 5.0, 6.0)),
    *((away, LETTER) for away in (7.0, 9.0, 12.0, 16.0, 22.0, 30.0, 45.0, 60.0)),
)
"""Distances on paper of a letter from its circle, with its height, in the order in which they are tried."""
LARGEST_MARK: Mm = 14.0
"""Largest radius on paper of the circle around the valve."""
LETTER_ANGLES = (45, 30, 60, 15, 75, 0, 90, -30, -60, -90, 105, 120, 135, 150, 165, 180, 210, 240)
"""Directions in degrees, in the order in which they are tried."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A circle around what a detail shows: its letter, its middle in the section and its radius, mm."""

    letter: str
    middle: Point
    radius: Mm


def section_view(plan: Plan, scale: Scale, marks: tuple[Mark, ...]) -> View:
    """Section of a plan at a scale, its origin at the lower left of the paper.

    Parameters
    ----------
    marks
        Circles around what is enlarged beside it.
    """
    unit = 1.0 / scale.ratio
    view = View(name=NAME, scale=scale, origin=(0.0, 0.0), items=tuple(_stack(plan, scale)))
    cover = _cover(plan, unit)
    marks = (*marks, *_valve_mark(cover, unit))
    view = view.with_items(*cover.items, *_trim_lines(plan, unit), *_circles(marks))
    view = view.with_items(*_lowered(cover.names, view))
    outline = _base_outline(plan)
    ribs = None if plan.form is None else plan.form.ribs
    if ribs is not None:
        view = view.with_items(*rib_section(plan, ribs, scale.ratio))
    if plan.layup.is_bent:
        sizes = bend_sizes(plan, view, cover.box, outline)
    else:
        sizes = flat_sizes(plan, view, cover.box, cover.right)
    view = view.with_items(*sizes)
    lines = [Stroke(curve=edge) for edge in outline]
    view = view.with_items(*_letters(marks, replace(view, items=(*view.items, *lines))))
    texts = [item for item in view.items if isinstance(item, Text)]
    is_solid = bool(outline) and ribs is None
    base = hollow(outline, base_cut(plan), (*sizes, *texts), view) if is_solid else ()
    return titled(replace(view, items=(*base, *view.items)), f"{cut_letters(plan)} ({scale})", _state(plan))


def _valve_mark(cover: Bag, unit: Mm) -> Iterator[Mark]:
    """Circle around the valve, where there is one."""
    if cover.valve is not None:
        middle, radius = cover.valve
        yield Mark(letter=VALVE_LETTER, middle=middle, radius=min(radius + 1.5 * unit, LARGEST_MARK * unit))


def _state(plan: Plan) -> str:
    """Say of a bend that it is drawn on its form."""
    if plan.spring is None or plan.spring.used == 0.0:
        return ""
    return "in the press, bent tighter than it comes off the form"


def _stack(plan: Plan, scale: Scale) -> Iterator[Item]:
    hung = hanging(plan)
    for body in bodies(plan, scale.ratio):
        half, tails = hung.get(body.key, (body.half, ()))
        yield from drawn(body, plan.stack.sheet, plan.base.lift, scale.ratio, -half, half)
        yield from (item for tail in tails for item in drawn_tail(body, tail, scale.ratio))


def _cover(plan: Plan, unit: Mm) -> Bag:
    """Bag of a plan, or none of it where the form is undercut and no bag is designed."""
    if not plan.is_undercut:
        return bag(plan, unit)
    sheet, lift = plan.stack.sheet, plan.base.lift
    half = max(0.5 * layer.outline.length for layer in plan.stack.layers)
    edges = (*along(sheet, lift, 0.0, -half, half), *along(sheet, lift, plan.stack.height, -half, half))
    box = extent([Stroke(curve=edge) for edge in edges])
    return Bag(items=(), names=(), box=box, left=box.low[0], right=box.high[0])


def _base_outline(plan: Plan) -> tuple[Edge, ...]:
    """Outline of the platen or form, counter-clockwise; empty where there is none to draw."""
    base = plan.base
    if base.kind == "bench" or plan.is_undercut:
        return ()
    half = 0.5 * base.outline.length
    face = along(plan.stack.sheet, base.lift, 0.0, -half, half)
    first, last = start_of(face[0]), end_of(face[-1])
    (left, high), (right, other) = base.upper[0].tolist(), base.upper[-1].tolist()
    ends = [first, (left, high), (left, 0.0), (right, 0.0), (right, other), last]
    # without shoulders the ends of the face are the corners themselves
    corners = ends if base.shoulder else [first, *ends[2:4], last]
    return (*backward(face), Polyline(points=tuple(corners)))


def _trim_lines(plan: Plan, unit: Mm) -> Iterator[Stroke]:
    """Lines along which the panel is trimmed to size afterwards."""
    if plan.layup.substrate.trim <= 0.0:
        return
    sheet, lift = plan.stack.sheet, plan.base.lift
    low_height, high_height = plan.stack.work[0].height - 1.5 * unit, plan.stack.work[-1].top + 1.5 * unit
    for below, above in _trimmed_at(plan):
        low, high = spot(sheet, lift, below, low_height), spot(sheet, lift, above, high_height)
        yield Stroke(curve=Line(start=low, end=high), pen=CENTRE, part="trim")


def _trimmed_at(plan: Plan) -> tuple[tuple[Mm, Mm], tuple[Mm, Mm]]:
    """Places t of the left and the right end of the panel, each on its lower and its upper face: the same unless cut plumb."""
    if plan.cut is None:
        half = 0.5 * plan.outline.length
        return (-half, -half), (half, half)
    lower, upper = (plan.cut.line(height)[0].box for height in (plan.cut.low, plan.cut.high))
    return (lower[0][0], upper[0][0]), (lower[1][0], upper[1][0])


def _lowered(names: tuple[Text, ...], view: View) -> Iterator[Text]:
    """Names moved down until nothing runs through them."""
    drawn, unit = room(view_on_paper(view)), 1.0 / view.scale.ratio
    for name in names:
        (x, y) = name.position
        choices = [replace(name, position=(x, y - step * unit)) for step in range(0, 40, 2)]
        yield next((one for one in choices if drawn.admits(on_paper(view, [one]))), name)


def _circles(marks: tuple[Mark, ...]) -> Iterator[Item]:
    """Circles around details."""
    for mark in marks:
        yield Stroke(
            curve=Circle(centre=mark.middle, radius=mark.radius), pen=NARROW, part=f"detail {mark.letter}"
        )


def _letters(marks: tuple[Mark, ...], view: View) -> tuple[Text, ...]:
    """Letters beside the circles, where there is room: first up and to the right."""
    letters: list[Text] = []
    for mark in marks:
        shown = view_on_paper(view.with_items(*letters))
        drawn = room(shown).with_boxes(
            boxes_of(item for item in shown if getattr(item, "part", "") == "valve")
        )
        choices = _letter_places(mark, 1.0 / view.scale.ratio)
        letters.append(next((one for one in choices if drawn.admits(on_paper(view, [one]))), choices[0]))
    return tuple(letters)


def _letter_places(mark: Mark, unit: Mm) -> list[Text]:
    return [
        Text(
            text=mark.letter,
            position=polar(mark.middle, mark.radius + away * unit, math.radians(angle)),
            height=height,
            align=Align.CENTRE,
            level=Level.MIDDLE,
        )
        for away, height in LETTER_PLACES
        for angle in LETTER_ANGLES
    ]
