"""General arrangement of the form of a taper: from its near end, from the left and from above, in first angle projection."""

from collections.abc import Iterator

import numpy as np

from ...model.form.taper_form import Carcase, TaperRibs, TaperSheets
from ...model.plan import Plan, Taper
from ...model.shape.profile import Floats
from ...model.shape.tapered_outline import TaperedOutline
from ...model.units import Mm
from ..drawing.boxes import boxes_of
from ..drawing.callout import balloon_column
from ..drawing.curves import Line, Point, Polyline, rectangle
from ..drawing.lanes import Wanted, stack_dimensions
from ..drawing.pens import CENTRE, HIDDEN, NARROW, PHANTOM, WIDE
from ..drawing.primitives import Balloon, Item, LinearDimension, Side, Stroke
from ..drawing.scale import Scale
from ..drawing.sheet import View, view_on_paper
from .form_rows import form_rows
from .loop_curves import board_strokes
from .outlines import form_above, tapered_above
from .words import Units, units_of, written

Built = TaperRibs | TaperSheets
"""A form of a taper that is built of boards."""

BETWEEN: Mm = 40.0
"""Distance on paper of the views."""
BALLOON: Mm = 16.0
"""Distance on paper of the balloons from the front view."""
CIRCLE: Mm = 5.0
"""Radius on paper of a balloon: wide enough for F10."""
DRAWN: Mm = 0.05
"""Chordal tolerance of curves."""
ACROSS = 25
"""Places across at which the top of the form is taken for the view from the left."""


def taper_view(plan: Plan, taper: Taper, scale: Scale) -> View:
    """All three views at a scale, the front view's x from the middle of the panel."""
    assert plan.form is not None
    assert plan.form.carcase is not None
    unit, form, built = 1.0 / scale.ratio, plan.form.carcase, plan.form.taper
    left, right = _extent(form)
    aside = right + BETWEEN * unit + 0.5 * form.width
    below = -BETWEEN * unit - 0.5 * form.width
    items = (
        *_front(taper, form, built),
        *_from_left(form, built, aside),
        *_from_above(plan, taper, form, built, below, unit),
    )
    view = View(name="form", scale=scale, origin=(0.0, 0.0), items=items)
    view = view.with_items(*_balloons(plan, form, built, view))
    return view.with_items(*_dimensions(form, built, view, units_of(plan), (left, right), aside, below))


def taper_span(form: Carcase) -> tuple[Mm, Mm]:
    """Size of the views without what stands between them."""
    left, right = _extent(form)
    return right - left + form.width, _top(form) + form.width


def _extent(form: Carcase) -> tuple[Mm, Mm]:
    edges = np.concatenate([form.edge(side * 0.5 * form.width) for side in (-1.0, 1.0)])
    return float(edges[:, 0].min()), float(edges[:, 0].max())


def _top(form: Carcase) -> Mm:
    return max(float(form.edge(side * 0.5 * form.width)[:, 1].max()) for side in (-1.0, 1.0))


def _front(taper: Taper, form: Carcase, built: Built | None) -> Iterator[Item]:
    """Both ends of the form, its outermost boards, and the panel's underside at both of its ends."""
    low = taper.near.stack.work[0].height
    for side in taper.states.sides.values():
        u = np.linspace(-0.5, 0.5, 201) * form.sheet.profile.length
        under = form.at(side * 0.5 * form.sheet.width, low, u)
        yield Stroke(curve=_polyline(under), pen=PHANTOM, part="panel")
    for side in (1.0, -1.0):
        edge = form.edge(side * 0.5 * form.width)
        ends = [(edge[-1, 0], 0.0), (edge[0, 0], 0.0)]
        yield Stroke(curve=_polyline(np.array([*edge, *ends, edge[0]])), pen=WIDE, part="form")
    if built is None:
        return
    for part in (built.boards[0], built.boards[-1]):
        yield from board_strokes(part.outline, part.holes, part.key)
    if not isinstance(built, TaperRibs):
        return
    for part in built.stretchers:
        (_, foot), (_, top) = part.outline.box
        for x in part.places:
            box = rectangle((x, foot), (x + part.thickness, top))
            yield Stroke(curve=box, pen=HIDDEN, part="stretcher")
    if built.baseboard is not None:
        (x0, _), (x1, _) = built.baseboard.outline.box
        yield Stroke(curve=rectangle((x0, 0.0), (x1, form.board)), pen=WIDE, part="baseboard")


def _from_left(form: Carcase, built: Built | None, middle: Mm) -> Iterator[Item]:
    """The form from its left end: its top line, the left end of its face, and the boards side by side."""
    y = np.linspace(-0.5, 0.5, ACROSS) * form.width
    cores = [form.points(float(place), 0.0, DRAWN) for place in y]
    top = [max(corner[1] for corner in core.curve) for core in cores]
    end = [core.curve[0][1] for core in cores]
    row = np.column_stack((middle + y, top))
    feet = [(row[-1, 0], 0.0), (row[0, 0], 0.0)]
    yield Stroke(curve=_polyline(np.array([*row, *feet, row[0]])), pen=WIDE, part="form")
    yield Stroke(curve=_polyline(np.column_stack((middle + y, end))), pen=WIDE, part="form")
    if form.board:
        yield Stroke(
            curve=Line(start=(float(row[0, 0]), form.board), end=(float(row[-1, 0]), form.board)), pen=WIDE
        )
    for part in () if built is None else built.boards:
        for place in (part.places[0], part.places[0] + part.thickness):
            if abs(place) < 0.5 * form.width - 1e-6:
                high = float(np.interp(place, y, end))
                start, stop = (middle + place, form.board), (middle + place, high)
                yield Stroke(curve=Line(start=start, end=stop), pen=WIDE if form.board else NARROW)
    high = _top(form)
    yield Stroke(curve=Line(start=(middle, -0.02 * high), end=(middle, 1.02 * high)), pen=CENTRE)


def _from_above(
    plan: Plan, taper: Taper, form: Carcase, built: Built | None, middle: Mm, unit: Mm
) -> Iterator[Item]:
    """The form from above: its edge, the panel on it, boards under the face."""
    half, (left, right) = 0.5 * form.width, _extent(form)
    yield Stroke(curve=_moved(form_above(form), middle), pen=WIDE, part="form")
    if isinstance(built, TaperRibs) and built.baseboard is not None:
        corners = [(x, y + middle) for x, y, _ in built.baseboard.outline.corners]
        yield Stroke(curve=Polyline(points=(*corners, corners[0])), pen=NARROW, part="baseboard")
    for part in () if built is None else built.boards:
        (x0, _), (x1, _) = part.outline.box
        for place in (part.places[0], part.places[0] + part.thickness):
            if abs(place) < half - 1e-6:
                line = Line(start=(x0, middle + place), end=(x1, middle + place))
                yield Stroke(curve=line, pen=HIDDEN if form.board else NARROW, part="rib")
    for x in (
        side for crossing in (built.crossings if isinstance(built, TaperRibs) else ()) for side in crossing
    ):
        yield Stroke(
            curve=Line(start=(x, middle - half), end=(x, middle + half)), pen=HIDDEN, part="stretcher"
        )
    panel = TaperedOutline(sheet=taper.states.pressed)
    for curve in tapered_above(panel, plan.stack.work[0].height):
        yield Stroke(curve=_moved(curve, middle), pen=PHANTOM, part="panel")
    over = 3.0 * unit
    yield Stroke(curve=Line(start=(left - over, middle), end=(right + over, middle)), pen=CENTRE)
    yield Stroke(curve=Line(start=(0.0, middle - half - over), end=(0.0, middle + half + over)), pen=CENTRE)


def _balloons(plan: Plan, form: Carcase, built: Built | None, view: View) -> tuple[Balloon, ...]:
    """Numbers of the boards, right of the front view."""
    if built is None:
        return ()
    marks = {row.key: row.mark for row in form_rows(plan)}
    tips = [(tip, marks[key]) for key, tip in _tips(form, built)]
    right = view.on_paper((_extent(form)[1], 0.0))[0]
    room = max(_top(form) * view.scale.ratio, 2.6 * CIRCLE * len(tips))
    return balloon_column(view, tips, right + BALLOON, 0.0, room, radius=CIRCLE, slope=0.1)


def _tips(form: Carcase, built: Built) -> Iterator[tuple[str, Point]]:
    """A point on every kind of board in the front view, of ribs and sheets on the outermost two."""
    if isinstance(built, TaperRibs) and built.baseboard is not None:
        (_, _), (x1, _) = built.baseboard.outline.box
        yield "baseboard", (0.97 * x1, 0.5 * form.board)
    for part in built.stretchers if isinstance(built, TaperRibs) else ():
        (_, foot), (_, top) = part.outline.box
        yield part.key, (part.places[-1] + 0.5 * part.thickness, 0.35 * foot + 0.65 * top)
    for part, curve in ((built.boards[0], built.curves[0]), (built.boards[-1], built.curves[-1])):
        x, z, _ = curve[-1]
        yield part.key, (x - 3.0, form.board + 0.9 * (z - form.board))


def _dimensions(
    form: Carcase,
    built: Built | None,
    view: View,
    units: Units,
    foot: tuple[Mm, Mm],
    aside: Mm,
    below: Mm,
) -> Iterator[LinearDimension]:
    left, _ = foot
    half, tops = (
        0.5 * form.width,
        {side: float(form.edge(side * 0.5 * form.width)[:, 1].max()) for side in (-1.0, 1.0)},
    )
    taken = boxes_of(item for item in view_on_paper(view) if isinstance(item, Balloon))
    heights = [
        Wanted(start=(left, 0.0), end=(0.0, top), text=written(top, units))
        for top in sorted(set(tops.values()))
    ]
    if form.board:
        heights.append(Wanted(start=(left, 0.0), end=(left, form.board), text=written(form.board, units)))
    yield from stack_dimensions(view, heights, Side.LEFT, left, taken)
    for side, where, edge in ((-1.0, Side.BELOW, below - half), (1.0, Side.ABOVE, below + half)):
        x = form.edge(side * 0.5 * form.width)[:, 0]
        a, b = float(x.min()), float(x.max())
        wanted = [Wanted(start=(a, edge), end=(b, edge), text=written(b - a, units))]
        yield from stack_dimensions(view, wanted, where, edge)
    wide = [Wanted(start=(aside - half, 0.0), end=(aside + half, 0.0), text=written(2.0 * half, units))]
    if isinstance(built, TaperRibs):
        first, second = sorted(part.places[0] for part in built.boards)[:2]
        pitch = f"{built.bays} × {written(built.spacing, units)}"
        wide.append(Wanted(start=(aside + first, 0.0), end=(aside + second, 0.0), text=pitch))
    yield from stack_dimensions(view, wide, Side.BELOW, 0.0)


def _polyline(points: Floats) -> Polyline:
    return Polyline(points=tuple((float(x), float(z)) for x, z in points))


def _moved(curve: Polyline, middle: Mm) -> Polyline:
    return Polyline(points=tuple((x, y + middle) for x, y in curve.points))
