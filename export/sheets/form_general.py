"""General arrangement of a form: from the front, from the left and from above, in first angle projection."""

from collections.abc import Iterator

from ...model.form.pile import SheetForm
from ...model.form.ribs import RibForm
from ...model.plan import Plan
from ...model.units import Mm
from ..drawing.boxes import boxes_of
from ..drawing.callout import balloon_column
from ..drawing.curves import Line, Point, rectangle
from ..drawing.lanes import Wanted, stack_dimensions
from ..drawing.pens import CENTRE, HIDDEN, NARROW, PHANTOM, WIDE, Pen
from ..drawing.primitives import Balloon, Item, LinearDimension, Side, Stroke
from ..drawing.scale import Scale
from ..drawing.sheet import View, placed, view_on_paper
from .cut import ring, spot
from .form_rows import form_rows
from .loop_curves import board_strokes, edges_of
from .words import Units, units_of, written

BETWEEN: Mm = 40.0
"""Distance on paper of the views, with room for balloons and dimensions."""

BALLOON: Mm = 16.0
"""Distance on paper of the balloons from the front view."""
CIRCLE: Mm = 5.0
"""Radius on paper of a balloon: wide enough for F10."""


def general_view(plan: Plan, front: tuple[Item, ...], scale: Scale) -> View:
    """All three views at a scale, the front view's x from the middle of the panel.

    Parameters
    ----------
    front
        What is seen from the front, by ``front_items``; the same at every scale.
    """
    unit = 1.0 / scale.ratio
    left, right = plan.base.foot
    aside = right + BETWEEN * unit + 0.5 * plan.base.outline.width
    below = -BETWEEN * unit - 0.5 * plan.base.outline.width
    items = (*front, *_from_left(plan, aside), *_from_above(plan, below, unit))
    view = View(name="form", scale=scale, origin=(0.0, 0.0), items=items)
    balloons = _balloons(plan, view)
    view = view.with_items(*balloons)
    return view.with_items(*_dimensions(plan, view, units_of(plan), (left, right), aside, below))


def general_span(plan: Plan) -> tuple[Mm, Mm]:
    """Size of the views without what stands between them."""
    left, right = plan.base.foot
    return right - left + plan.base.outline.width, plan.base.highest + plan.base.outline.width


def front_items(plan: Plan) -> Iterator[Item]:
    """Outermost rib or sheet, skin and board, stretchers behind, the panel as it lies."""
    base, sheet = plan.base, plan.stack.sheet
    half = 0.5 * plan.outline.length
    panel = ring(sheet, base.lift, plan.stack.work[0].height, plan.stack.work[-1].top, -half, half)
    yield from (Stroke(curve=edge, pen=PHANTOM, part="panel") for edge in panel)
    built = plan.form.built if plan.form is not None else None
    match built:
        case RibForm():
            yield from board_strokes(built.rib.outline, built.rib.holes, "rib")
            ends = 0.5 * base.outline.length
            for skin in built.skins:
                edges = ring(sheet, base.lift, skin.low, skin.high, -ends, ends)
                yield from (Stroke(curve=edge, pen=NARROW, part=skin.key) for edge in edges)
            if built.baseboard is not None:
                (x0, _), (x1, _) = built.baseboard.outline.box
                yield Stroke(curve=rectangle((x0, 0.0), (x1, base.board)), pen=WIDE, part="baseboard")
            for x0, x1, top in _uprights(built):
                box = rectangle((x0, built.core.foot), (x1, top))
                yield Stroke(curve=box, pen=HIDDEN, part="stretcher")
        case SheetForm():
            yield from board_strokes(built.sheet.outline, (), "sheet")
        case None:
            section = [(float(x), float(z), 0.0) for x, z in base.section]
            yield from (Stroke(curve=e, pen=WIDE, part="form") for e in edges_of((*section, section[0])))


def _uprights(ribs: RibForm) -> Iterator[tuple[Mm, Mm, Mm]]:
    """Left and right side and top of every stretcher."""
    for part in ribs.stretchers:
        (_, (_, top)) = part.outline.box
        for x in part.places:
            yield x, x + part.thickness, top


def _from_left(plan: Plan, middle: Mm) -> Iterator[Item]:
    """The form from its left end: ribs or sheets side by side, and above them what rises behind."""
    base = plan.base
    half, top = 0.5 * base.outline.width, base.highest
    yield Stroke(curve=rectangle((middle - half, 0.0), (middle + half, top)), pen=WIDE, part="form")
    built = plan.form.built if plan.form is not None else None
    level = float(base.upper[0, 1])
    if isinstance(built, RibForm):
        side = level if base.shoulder else built.core.curve[0][1]
        yield from _level(middle - half, middle + half, base.board)
        yield from _level(middle - half, middle + half, side)
        for y in built.rib.places:
            yield from _upright(middle + y, base.board, side)
            yield from _upright(middle + y + built.rib.thickness, base.board, side)
    if isinstance(built, SheetForm):
        for y in built.sheet.places[1:]:
            yield from _upright(middle + y, 0.0, top, NARROW)
    if level < top - 1e-6:
        yield from _level(middle - half, middle + half, level)
    yield Stroke(curve=Line(start=(middle, -0.02 * top), end=(middle, 1.02 * top)), pen=CENTRE)


def _from_above(plan: Plan, middle: Mm, unit: Mm) -> Iterator[Item]:
    """The form from above: its edge, the panel on it, ribs and stretchers under the skin."""
    base = plan.base
    left, right = base.foot
    half = 0.5 * base.outline.width
    yield Stroke(curve=rectangle((left, middle - half), (right, middle + half)), pen=WIDE, part="form")
    built = plan.form.built if plan.form is not None else None
    if isinstance(built, RibForm):
        for y in built.rib.places:
            for side in (y, y + built.rib.thickness):
                if abs(abs(side) - half) > 1e-6:
                    yield Stroke(
                        curve=Line(start=(left, middle + side), end=(right, middle + side)),
                        pen=HIDDEN,
                        part="rib",
                    )
        for x in (side for crossing in built.crossings for side in crossing):
            yield Stroke(
                curve=Line(start=(x, middle - half), end=(x, middle + half)), pen=HIDDEN, part="stretcher"
            )
    if isinstance(built, SheetForm):
        for y in built.sheet.places[1:]:
            yield Stroke(
                curve=Line(start=(left, middle + y), end=(right, middle + y)), pen=NARROW, part="sheet"
            )
    yield from _panel_from_above(plan, middle)
    over = 3.0 * unit
    yield Stroke(curve=Line(start=(left - over, middle), end=(right + over, middle)), pen=CENTRE)
    yield Stroke(curve=Line(start=(0.0, middle - half - over), end=(0.0, middle + half + over)), pen=CENTRE)


def _panel_from_above(plan: Plan, middle: Mm) -> Iterator[Item]:
    """Edge of the finished panel's underside."""
    half, low = 0.5 * plan.outline.length, plan.stack.work[0].height
    ends = [spot(plan.stack.sheet, plan.base.lift, t, low)[0] for t in (-half, half)]
    wide = 0.5 * plan.outline.width
    box = rectangle((min(ends), middle - wide), (max(ends), middle + wide))
    yield Stroke(curve=box, pen=PHANTOM, part="panel")


def _balloons(plan: Plan, view: View) -> tuple[Balloon, ...]:
    """Numbers of the boards, right of the front view."""
    marks = {row.key: row.mark for row in form_rows(plan)}
    tips = [(tip, marks[key]) for key, tip in _tips(plan)]
    if not tips:
        return ()
    right = view.on_paper((plan.base.foot[1], 0.0))[0]
    height = plan.base.highest * view.scale.ratio
    room = max(height, 2.6 * CIRCLE * len(tips))
    return balloon_column(view, tips, right + BALLOON, 0.0, room, radius=CIRCLE, slope=0.1)


def _tips(plan: Plan) -> Iterator[tuple[str, Point]]:
    """A point on every kind of board in the front view, near its right end."""
    built = plan.form.built if plan.form is not None else None
    base, sheet = plan.base, plan.stack.sheet
    half = 0.5 * base.outline.length
    if isinstance(built, SheetForm):
        x, z = spot(sheet, base.lift, 0.7 * half, 0.0)
        yield "sheet", (x, 0.5 * z)
    if not isinstance(built, RibForm):
        return
    if built.baseboard is not None:
        yield "baseboard", (0.93 * built.core.ends[1], 0.5 * base.board)
    for part in built.stretchers:
        (_, (_, top)) = part.outline.box
        yield part.key, (part.places[-1] + 0.5 * part.thickness, 0.35 * built.core.foot + 0.65 * top)
    x = 0.78 * built.core.ends[1]
    yield "rib", (x, built.core.foot + 0.5 * built.core.depth(x - 1.0, x + 1.0))
    for number, skin in enumerate(built.skins):
        t = (0.86 + 0.06 * number) * half
        yield skin.key, spot(sheet, base.lift, t, 0.5 * (skin.low + skin.high))


def _dimensions(
    plan: Plan, view: View, units: Units, foot: tuple[Mm, Mm], aside: Mm, below: Mm
) -> Iterator[LinearDimension]:
    base = plan.base
    left, right = foot
    half, top, ratio = 0.5 * base.outline.width, base.highest, view.scale.ratio
    taken = boxes_of(item for item in view_on_paper(view) if isinstance(item, Balloon))
    heights = [Wanted(start=(left, 0.0), end=(left, top), text=written(top, units))]
    if not base.shoulder and base.lowest < top - 1.0:
        end = float(base.upper[0, 1])
        heights.append(Wanted(start=(left, 0.0), end=(left, end), text=written(end, units)))
    if base.board:
        heights.append(Wanted(start=(left, 0.0), end=(left, base.board), text=written(base.board, units)))
    upright = stack_dimensions(view, heights, Side.LEFT, left, taken)
    yield from upright
    length = [
        Wanted(start=(left, below - half), end=(right, below - half), text=written(right - left, units))
    ]
    yield from stack_dimensions(view, length, Side.BELOW, below - half)
    wide = [Wanted(start=(aside - half, 0.0), end=(aside + half, 0.0), text=written(2.0 * half, units))]
    built = plan.form.built if plan.form is not None else None
    places = built.rib.places if isinstance(built, RibForm) else ()
    if isinstance(built, RibForm):
        a, b = aside + places[0], aside + places[1]
        pitch = f"{built.bays} × {written(built.spacing, units)}"
        wide.append(Wanted(start=(a, 0.0), end=(b, 0.0), text=pitch))
    yield from stack_dimensions(view, wide, Side.BELOW, 0.0)
    if base.shoulder:
        inner = float(base.face[0, 0])
        flat = Wanted(start=(left, top), end=(inner, top), text=written(inner - left, units))
        beside = [*taken, *boxes_of(placed(item, ratio, view.origin) for item in upright)]
        yield from stack_dimensions(view, [flat], Side.ABOVE, top, beside)


def _level(start: Mm, end: Mm, height: Mm) -> Iterator[Item]:
    yield Stroke(curve=Line(start=(start, height), end=(end, height)), pen=WIDE, part="form")


def _upright(x: Mm, low: Mm, high: Mm, pen: Pen = WIDE) -> Iterator[Item]:
    yield Stroke(curve=Line(start=(x, low), end=(x, high)), pen=pen, part="form")
