"""The detail of a corner of the plan: how far each sheet reaches past the one below it, with its number."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from ...model.shape.outline import Outline as Shape
from ...model.shape.outline import Oval, RoundedRectangle
from ...model.shape.pathed import Pathed
from ...model.units import Mm
from ..drawing.callout import balloon_column
from ..drawing.curves import Curve, Point, Polyline, flattened
from ..drawing.paper import Box
from ..drawing.pens import Pen
from ..drawing.primitives import Balloon, Item, Stroke
from ..drawing.scale import SCALES, Scale
from ..drawing.sheet import View
from .breaks import break_line
from .naming import titled
from .outlines import CHORD, reach

NAME = "corner"
LETTER = "X"
INSIDE: Mm = 16.0
"""How far on paper the detail reaches inside the innermost edge."""
LARGEST: Mm = 100.0
"""Greatest size on paper of what is shown."""
NEAR: Mm = 1e-9
"""Heights closer than this are one."""
PITCH: Mm = 9.5
"""Height on paper of each balloon in its column."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline:
    """One outline from above, with the numbers of all sheets that share it."""

    marks: tuple[str, ...]
    names: tuple[str, ...]
    curves: tuple[Curve, ...]
    pen: Pen

    @property
    def label(self) -> str:
        """Its first number, and a sign that there are more."""
        return self.marks[0] if len(self.marks) == 1 else f"{self.marks[0]}+"


def window(shown: Sequence[Outline], panel: Shape, scale: Scale) -> Box:
    """What a detail shows, in the plan's mm: the far right corner of a panel, or the right end of any other."""
    inside = INSIDE / scale.ratio
    corners = [reach(one.curves)[1] for one in shown]
    right, top = max(x for x, _ in corners), max(y for _, y in corners)
    left, far = min(x for x, _ in corners), min(y for _, y in corners)
    end = _end(panel)
    if end is not None:
        return Box(low=(left - inside, end - 1.5 * inside), high=(right, end + 1.5 * inside))
    corner = panel.corner if isinstance(panel, RoundedRectangle) else 0.0
    return Box(low=(left - corner - inside, far - corner - inside), high=(right, top))


def _end(panel: Shape) -> Mm | None:
    """Place across of the right end of an outline that has one; None where it has a far right corner."""
    if isinstance(panel, Oval):
        return 0.0
    if not isinstance(panel, Pathed):
        return None
    points = panel.edge.flattened(CHORD)
    last = points[points[:, 0] >= points[:, 0].max() - 2.0 * CHORD, 1]
    return float(0.5 * (last.min() + last.max()))


def corner_scale(shown: Sequence[Outline], panel: Shape) -> Scale:
    """Largest scale, up to twice full size, at which a detail is no larger than it should be on paper."""
    for scale in SCALES:
        box = window(shown, panel, scale)
        if scale.ratio <= 2.0 and max(box.width, box.height) * scale.ratio <= LARGEST:
            return scale
    return SCALES[-1]


def corner_view(shown: Sequence[Outline], panel: Shape, scale: Scale) -> View:
    """Detail of the edges at a scale, its origin at the lower left of the paper."""
    unit, box = 1.0 / scale.ratio, window(shown, panel, scale)
    # the outermost edges are shown with all of their width
    room = box.grown(unit)
    items: list[Item] = [
        Stroke(curve=curve, pen=one.pen, part=one.marks[0])
        for one in shown
        for whole in one.curves
        for curve in clipped(whole, room)
    ]
    (left, low), (right, high) = room.low, room.high
    corners = [(left, high), (left, low), (right, low)]
    end = _end(panel)
    if end is not None:
        corners = [(right, high), *corners]
    items += (break_line(start, end, unit, overrun=0.0) for start, end in pairwise(corners))
    view = View(name=NAME, scale=scale, origin=(0.0, 0.0), items=tuple(items))
    tips = _straight(box, panel, scale) if end is None else _around(end, box, shown)
    return titled(view.with_items(*_balloons(view, shown, tips)), f"{LETTER} ({scale})")


def _straight(box: Box, panel: Shape, scale: Scale) -> tuple[Mm, Mm]:
    """Heights between which the edges on the right are straight and lie in the detail."""
    return box.low[1] + 0.2 * INSIDE / scale.ratio, box.low[1] + INSIDE / scale.ratio


def _around(end: Mm, box: Box, shown: Sequence[Outline]) -> tuple[Mm, Mm]:
    """Heights on both sides of the end of an outline, so near to it that all edges lie in the detail there."""
    half = 0.3 * box.height
    for _ in range(6):
        ends = (end - half, end + half)
        if all(right_at(one.curves, y) > box.low[0] for one in shown for y in ends):
            return ends
        half *= 0.5
    return end, end


def clipped(curve: Curve, box: Box) -> Iterator[Polyline]:
    """Parts of a curve that lie in a box."""
    run: list[Point] = []
    for (x0, y0), (x1, y1) in pairwise(flattened(curve, CHORD).tolist()):
        shares = _inside((x0, y0), (x1, y1), box)
        if shares is None:
            continue
        a, b = ((x0 + s * (x1 - x0), y0 + s * (y1 - y0)) for s in shares)
        if run and run[-1] != a:
            yield Polyline(points=tuple(run))
            run = []
        run += [b] if run else [a, b]
    if run:
        yield Polyline(points=tuple(run))


def _inside(a: Point, b: Point, box: Box) -> tuple[float, float] | None:
    """From which share of a line to which it lies in a box; None where it does not."""
    first, last = 0.0, 1.0
    for start, end, low, high in zip(a, b, box.low, box.high, strict=True):
        step = end - start
        if step == 0.0:
            if not low <= start <= high:
                return None
            continue
        shares = sorted(((low - start) / step, (high - start) / step))
        first, last = max(first, shares[0]), min(last, shares[1])
    return (first, last) if first < last else None


def _balloons(view: View, shown: Sequence[Outline], tips: tuple[Mm, Mm]) -> tuple[Balloon, ...]:
    """Balloons in a column on the right; the outermost outline is touched highest."""
    low, high = tips
    ordered = sorted(shown, key=lambda one: -reach(one.curves)[1][0])
    step = (high - low) / max(len(ordered) - 1, 1)
    heights = [high - number * step for number in range(len(ordered))]
    touched = [((right_at(one.curves, y), y), one.label) for one, y in zip(ordered, heights, strict=True)]
    x = view.on_paper((max(x for (x, _), _ in touched), 0.0))[0] + 16.0
    middle = view.on_paper((0.0, 0.5 * (low + high)))[1]
    half = 0.5 * PITCH * len(touched)
    return balloon_column(view, touched, x, middle - half, middle + half, radius=4.0, slope=0.0)


def right_at(curves: Sequence[Curve], y: Mm) -> Mm:
    """Rightmost place of an outline at a height that it reaches."""
    # a tip may end before this height: then the outline's own end is touched
    return max(_crossings(curves, y), default=reach(tuple(curves))[1][0])


def side_at(curves: Sequence[Curve], y: Mm, half: Mm, side: float) -> Mm:
    """Place from which an outline is whole on its left (−1) or right side (1) between two heights that it reaches."""
    (left, _), (right, _) = reach(tuple(curves))
    # where a round outline ends before a height, its own end is as far as it goes
    rows = [_crossings(curves, place) or [left, right] for place in (y - half, y + half)]
    return side * min(max(side * x for x in row) for row in rows)


def _crossings(curves: Sequence[Curve], y: Mm) -> list[Mm]:
    """Places at which an outline crosses a height."""
    found: list[Mm] = []
    for curve in curves:
        for (x0, y0), (x1, y1) in pairwise(flattened(curve, CHORD).tolist()):
            # ends of neighbouring arcs may differ in the last digit
            if min(y0, y1) - NEAR <= y <= max(y0, y1) + NEAR and abs(y1 - y0) > NEAR:
                found.append(x0 + (x1 - x0) * (y - y0) / (y1 - y0))
    return found
