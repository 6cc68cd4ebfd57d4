"""Both curves of a bend: the form's face, and the panel's underside when it has sprung open.

The form stands on its foot as on the bench; the released panel is laid on its middle, in line with it there.
"""

from collections.abc import Iterator

import numpy as np

from ...model.plan import Plan
from ...model.shape.profile import Floats
from ...model.shape.sheet import Sheet
from ...model.units import Mm
from ..drawing.curves import Line, Point, Polyline
from ..drawing.lanes import Wanted, stack_dimensions
from ..drawing.pens import CENTRE, PHANTOM, WIDE
from ..drawing.primitives import Align, Item, LinearDimension, Side, Stroke
from ..drawing.scale import Scale
from ..drawing.sheet import View
from ..drawing.table import Column
from .compose import Rows
from .cut import along
from .words import Units, units_of, written

PLACES = 21
"""Places at which the opening is told, both ends included."""

OPENING = (
    Column(heading="Place along the panel", width=82.0, align=Align.RIGHT),
    Column(heading="The panel stands off by", width=82.0, align=Align.RIGHT),
)


def curves_view(plan: Plan, scale: Scale) -> View:
    """Both curves over the panel's length: the form's as it stands, the panel's laid on its middle."""
    half, low = 0.5 * plan.outline.length, plan.stack.work[0].height
    face, free = _both(plan)
    items: list[Item] = [
        *_stroked(plan.stack.sheet, low, half, face, "form"),
        *_stroked(plan.released, low, half, free, "panel"),
    ]
    every = np.vstack((face, free))
    (x0, y0), (x1, y1) = every.min(axis=0).tolist(), every.max(axis=0).tolist()
    over = 3.0 / scale.ratio
    items.append(Stroke(curve=Line(start=(0.0, y0 - over), end=(0.0, y1 + over)), pen=CENTRE))
    view = View(name="curves", scale=scale, origin=(0.0, 0.0), items=tuple(items))
    return view.with_items(*_dimensions(view, face, free, (x0, y0, x1, y1), units_of(plan)))


def curves_span(plan: Plan) -> tuple[Mm, Mm]:
    """Size of both curves together."""
    every = np.vstack(_both(plan))
    width, height = np.ptp(every, axis=0).tolist()
    return width, max(height, 0.05 * width)


def opening_rows(plan: Plan) -> Rows:
    """Rows of how far the released panel stands off the form, place by place from its middle."""
    half = 0.5 * plan.outline.length
    face, free = _both(plan)
    t = np.linspace(-half, half, len(face))
    away = np.hypot(*(free - face).T)
    kept = np.linspace(0, len(face) - 1, PLACES).round().astype(int)
    is_even = bool(np.allclose(away, away[::-1], atol=1e-4))
    sign, units = "± " if is_even else "", units_of(plan)
    return [
        (sign + written(float(t[i]), units), written(float(away[i]), units))
        for i in kept[PLACES // 2 if is_even else 0 :].tolist()
    ]


def _both(plan: Plan) -> tuple[Floats, Floats]:
    """Points of both curves, their common middle at the origin."""
    half, low, lean = 0.5 * plan.outline.length, plan.stack.work[0].height, _normal(plan.stack.sheet)
    return _laid(plan.stack.sheet, low, half, lean), _laid(plan.released, low, half, lean)


def _normal(sheet: Sheet) -> Floats:
    """Normal of a sheet in its middle, as the form stands."""
    return np.asarray(sheet.profile.normals(np.zeros(1))[0])


def _laid(sheet: Sheet, height: Mm, half: Mm, lean: Floats) -> Floats:
    """Points ``(n, 2)`` of a curve, its middle at the origin and its normal there turned to ``lean``."""
    t = np.linspace(-half, half, 401)
    points = sheet.place(t, np.zeros_like(t), height)[:, [0, 2]]
    (a, b), (x, z) = _normal(sheet).tolist(), lean.tolist()
    # by the angle from the curve's own normal to the other
    c, s = a * x + b * z, a * z - b * x
    return np.asarray((points - points[200]) @ np.array([[c, s], [-s, c]]))


def _stroked(sheet: Sheet, height: Mm, half: Mm, laid: Floats, part: str) -> Iterator[Item]:
    pen = WIDE if part == "form" else PHANTOM
    profile = sheet.profile
    # an arc or a run stands level in its own middle only where it is even: else the points stand for it
    if len(profile.pieces) == 1 and abs(laid[0, 0] + laid[-1, 0]) < 1e-6:
        lift = -float(sheet.place(np.zeros(1), np.zeros(1), height)[0, 2])
        for edge in along(sheet, lift, height, -half, half):
            yield Stroke(curve=edge, pen=pen, part=part)
        return
    corners = tuple((float(x), float(z)) for x, z in laid)
    yield Stroke(curve=Polyline(points=corners), pen=pen, part=part)


def _dimensions(
    view: View, face: Floats, free: Floats, box: tuple[Mm, Mm, Mm, Mm], units: Units
) -> Iterator[LinearDimension]:
    x0, y0, x1, _ = box

    def end(points: Floats, index: int) -> Point:
        return float(points[index, 0]), float(points[index, 1])

    below = [
        Wanted(start=end(points, 0), end=end(points, -1), text=f"{name} {written(_reach(points), units)}")
        for name, points in (("form", face), ("panel", free))
    ]
    yield from stack_dimensions(view, below, Side.BELOW, y0)
    for name, points, side, edge in (("form", face, Side.LEFT, x0), ("panel", free, Side.RIGHT, x1)):
        low, high = _depth(points, side)
        depth = points[high, 1] - points[low, 1]
        if depth > 1e-6:
            text = f"{name} {written(float(depth), units)}"
            wanted = [Wanted(start=end(points, low), end=end(points, high), text=text)]
            yield from stack_dimensions(view, wanted, side, edge)


def _depth(points: Floats, side: Side) -> tuple[int, int]:
    """Numbers of the lowest and the highest point, of equals those nearest to a side."""
    order = np.arange(len(points)) if side is Side.LEFT else np.arange(len(points))[::-1]
    heights = points[order, 1].round(6)
    return int(order[heights.argmin()]), int(order[heights.argmax()])


def _reach(points: Floats) -> Mm:
    return abs(float(points[-1, 0] - points[0, 0]))
