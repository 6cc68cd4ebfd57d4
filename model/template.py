"""Templates: every board, sheet and film of a layup as the flat outline to be cut, at full size, with its marks."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from .bend_lines import bend_lines
from .form.part import FormPart
from .form.ribs import RibForm
from .form.skin import Skin
from .form.taper_form import TaperRibs
from .plan import Plan
from .shape.loop import Loop, LoopPoint, rectangle
from .shape.pathed import Pathed
from .shape.seat import beside
from .shape.sheet import Sheet
from .shape.taper import TaperedSheet
from .shape.unrolled import unrolled
from .stack import Layer
from .tapered_blanks import tapered_outline
from .units import Mm


@dataclass(frozen=True, slots=True)
class Mark:
    """A straight line that is drawn on the sheet and not cut, and what it is where that needs telling."""

    start: LoopPoint
    end: LoopPoint
    name: str = ""


ARROW: Mm = 60.0
"""Length of the grain arrow, where there is room for it."""

ON_EDGE: Mm = 0.05
"""A line so near the edge of a blank is its edge."""

SQUARED = 0.8
"""Share of an edge that runs along or across from which no template is needed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Template:
    """One kind of blank, flat.

    Parameters
    ----------
    key
        Stable key; the name of its file.
    quantity
        How many are cut so.
    outline, holes
        Edge and holes.
    openings
        Holes that are cut through the finished panel: drawn on the blank, not cut from it.
    marks
        Centre lines, the lines at which a bend begins and ends, the middles of what is fixed to it, the grain arrow.
    """

    key: str
    name: str
    material_name: str
    thickness: Mm
    quantity: int
    outline: Loop
    holes: tuple[Loop, ...] = ()
    openings: tuple[Loop, ...] = ()
    marks: tuple[Mark, ...] = ()

    @property
    def size(self) -> tuple[Mm, Mm]:
        """Extent along and across."""
        (x0, y0), (x1, y1) = self.outline.box
        return x1 - x0, y1 - y0

    @property
    def is_squared(self) -> bool:
        """Whether it can be set out with square, rule and compass: nearly all of its edge runs along or across."""
        corners = self.outline.corners
        straight = sum(
            abs(x1 - x0) + abs(y1 - y0)
            for (x0, y0, bulge), (x1, y1, _) in zip(corners, (*corners[1:], corners[0]), strict=True)
            if bulge == 0.0 and min(abs(x1 - x0), abs(y1 - y0)) < 1e-6
        )
        return straight >= SQUARED * self.outline.length


def templates(plan: Plan) -> tuple[Template, ...]:
    """Every kind of blank of a layup: the platen or the form's boards, then the layers from below."""
    found: dict[tuple[object, ...], Template] = {}
    for template in (*_base(plan), *_layers(plan)):
        likeness = _likeness(template)
        if likeness in found:
            same = found[likeness]
            found[likeness] = replace(same, quantity=same.quantity + template.quantity)
        else:
            found[likeness] = template
    return tuple(found.values())


def _likeness(template: Template) -> tuple[object, ...]:
    """What makes two blanks one kind: laminations are alike where they are cut alike."""
    corners = tuple(tuple(round(number, 6) for number in corner) for corner in template.outline.corners)
    kind = template.key.partition("-")[0] if template.key.startswith("substrate") else template.key
    return kind, template.material_name, template.thickness, corners


def _layers(plan: Plan) -> Iterator[Template]:
    for layer in plan.stack.layers:
        if layer.role == "adhesive":
            continue
        loop = layer.blank.edge
        yield Template(
            key=layer.key,
            name=layer.name,
            material_name=layer.material_name,
            thickness=layer.thickness / layer.blank.quantity,
            quantity=layer.blank.quantity,
            outline=loop,
            holes=layer.blank.holes,
            openings=openings(plan, layer),
            marks=tuple(_blank_marks(plan, layer, loop)),
        )


def openings(plan: Plan, layer: Layer) -> tuple[Loop, ...]:
    """Holes of the finished panel on the blank of a layer that stays in it.

    Where the panel is cut plumb: the line of the cut on the uppermost of them, as it meets the upper face.
    """
    if layer.side == "press":
        return ()
    if plan.cut is not None:
        line = plan.cut.line(plan.cut.high) if layer.top == plan.stack.work[-1].top else ()
        return tuple(unrolled(loop, layer.blank.sheet, layer.middle) for loop in line)
    return tuple(unrolled(hole, layer.blank.sheet, layer.middle) for hole in plan.outline.loops[1:])


def _base(plan: Plan) -> Iterator[Template]:
    base = plan.base
    if base.kind == "platen":
        loop = base.outline.loops[0]
        yield Template(
            key="platen",
            name="platen",
            material_name=base.material_name,
            thickness=base.lowest,
            quantity=1,
            outline=loop,
            marks=tuple(_centre_lines(loop)),
        )
    if plan.form is None:
        return
    for part in plan.form.parts:
        yield _board(part, tuple(_board_marks(part, plan.form.ribbed)))
    if plan.form.ribbed is not None:
        yield from (_skin(skin, plan.form.ribbed) for skin in plan.form.skins)


def _board(part: FormPart, marks: tuple[Mark, ...]) -> Template:
    return Template(
        key=f"form-{part.key}",
        name=f"form {part.name}",
        material_name=part.material_name,
        thickness=part.thickness,
        quantity=part.quantity,
        outline=part.outline,
        holes=part.holes,
        marks=marks,
    )


def _board_marks(part: FormPart, ribs: RibForm | TaperRibs | None) -> Iterator[Mark]:
    """Middle line of a board from its foot; on a baseboard where ribs and stretchers stand."""
    (_, y0), (_, y1) = part.outline.box
    if part.plane != "level":
        yield Mark((0.0, y0), (0.0, y0 + 0.9 * _height_at_middle(part)))
        return
    yield from _centre_lines(part.outline)
    if ribs is not None:
        for y in ribs.middles:
            left, right = _across(part.outline, y)
            if abs(y) > 1e-6:
                yield Mark((left, y), (right, y), "middle of a rib")
        yield from (
            Mark((0.5 * (a + b), y0), (0.5 * (a + b), y1), "middle of a stretcher") for a, b in ribs.crossings
        )


def _across(loop: Loop, y: Mm) -> tuple[Mm, Mm]:
    """Leftmost and rightmost x of an edge of straight lines at a height."""
    points = np.array(loop.corners)[:, :2]
    ends = np.roll(points, -1, axis=0)
    runs = (np.minimum(points[:, 1], ends[:, 1]) <= y) & (np.maximum(points[:, 1], ends[:, 1]) >= y)
    runs &= points[:, 1] != ends[:, 1]
    start, run = points[runs], (ends - points)[runs]
    x = start[:, 0] + (y - start[:, 1]) / run[:, 1] * run[:, 0]
    return float(x.min()), float(x.max())


def _height_at_middle(part: FormPart) -> Mm:
    """Height of the wood over the foot at x or y = 0."""
    points = part.outline.flattened(0.1)
    ends = np.roll(points, -1, axis=0)
    across = points[:, 0] * ends[:, 0] <= 0.0
    start, run = points[across], (ends - points)[across]
    share = np.divide(-start[:, 0], run[:, 0], out=np.zeros(len(run)), where=run[:, 0] != 0.0)
    heights = start[:, 1] + share * run[:, 1] - points[:, 1].min()
    above = heights[heights > 1e-6]
    return float(above.min()) if above.size else 0.0


def _skin(skin: Skin, ribs: RibForm | TaperRibs) -> Template:
    """A sheet of the skin with the middles of the ribs that it is fixed to."""
    a, b = 0.5 * skin.length, 0.5 * skin.width
    if skin.outline is not None and isinstance(ribs, TaperRibs):
        lines = tuple(_ways(ribs, skin))
    else:
        lines = tuple(Mark((-a, y), (a, y), "middle of a rib") for y in ribs.middles)
    return Template(
        key=f"form-{skin.key}",
        name=f"form {skin.name}",
        material_name=skin.material_name,
        thickness=skin.thickness,
        quantity=1,
        outline=skin.outline or rectangle((-a, -b), (a, b)),
        marks=lines if skin.outline is not None else (Mark((0.0, -b), (0.0, b)), *lines),
    )


def _ways(ribs: TaperRibs, skin: Skin) -> Iterator[Mark]:
    """Rows of short lines along the middle of every rib on the pattern of a skin; the first of each has its name."""
    for row in ribs.lines_on(skin):
        points = [(x, y) for x, y in row.tolist()]
        for number, (start, end) in enumerate(pairwise(points)):
            yield Mark(start, end, "" if number else "middle of a rib")


def _centre_lines(loop: Loop) -> Iterator[Mark]:
    (x0, y0), (x1, y1) = loop.box
    yield Mark((0.0, y0), (0.0, y1))
    yield Mark((x0, 0.0), (x1, 0.0))


def _blank_marks(plan: Plan, layer: Layer, loop: Loop) -> Iterator[Mark]:
    sheet = layer.blank.sheet
    if isinstance(sheet, TaperedSheet):
        yield from _rulings(sheet, layer)
        aside = np.array([0.12 * sheet.profile.length])
        x, y = sheet.unroll(aside, np.zeros(1), layer.middle)[0].tolist()
        yield from _grain(layer, x, y)
        return
    yield from _centre_lines(loop)
    yield from _bend_lines(sheet, layer, loop)
    x, y = 0.2 * layer.blank.length, 0.2 * layer.blank.width
    if isinstance(layer.outline, Pathed):
        x, y = beside((loop, *openings(plan, layer)), (x, y), 0.5 * ARROW)
    yield from _grain(layer, x, y)


def _rulings(sheet: TaperedSheet, layer: Layer) -> Iterator[Mark]:
    """The middle ruling of a tapered blank, and those at which the pieces of its bend begin and end."""
    u = np.union1d(sheet.breaks(), [0.0])
    near, far = (sheet.unroll(u, w, layer.middle) for w in tapered_outline(layer).bounds(u))
    for place, (x0, y0), (x1, y1) in zip(u.tolist(), near.tolist(), far.tolist(), strict=True):
        yield Mark((x0, y0), (x1, y1), "a bend begins or ends" if place else "")


def _bend_lines(sheet: Sheet, layer: Layer, loop: Loop) -> Iterator[Mark]:
    """Lines at which the pieces of a bend begin and end on a blank."""
    if sheet.profile.is_flat:
        return
    (_, y0), (_, y1) = loop.box
    for x, name in bend_lines_on(sheet, layer):
        yield Mark((x, y0), (x, y1), name)


def bend_lines_on(sheet: Sheet, layer: Layer) -> tuple[tuple[Mm, str], ...]:
    """Places on the blank of a layer, from its middle, at which bends begin and end, each with its name."""
    half = 0.5 * layer.outline.length
    inside = [line for line in bend_lines(sheet.profile) if abs(line.t) < half - ON_EDGE]
    places = sheet.developed(layer.middle, np.array([line.t for line in inside])).tolist()
    return tuple((x, line.name) for x, line in zip(places, inside, strict=True))


def _grain(layer: Layer, x: Mm, y: Mm) -> Iterator[Mark]:
    """Arrow with two heads along the grain, its middle at a place of the blank."""
    if not layer.grain:
        return
    along = layer.grain == "along length"
    length, width = layer.blank.length, layer.blank.width
    half = 0.5 * min(ARROW, 0.4 * (length if along else width))
    head = 0.15 * half
    for side in (-1.0, 1.0):
        tip, back = side * half, side * (half - 2.0 * head)
        for flank in (-head, head):
            yield (
                Mark((x + tip, y), (x + back, y + flank))
                if along
                else Mark((x, y + tip), (x + flank, y + back))
            )
    yield Mark((x - half, y), (x + half, y)) if along else Mark((x, y - half), (x, y + half))
