"""The edge that ribs or stacked sheets are cut to, with ordinates from which it is laid out by hand."""

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from ...model.form.ordinates import INCH_STEPS, MM_STEPS, Ordinates, ordinates
from ...model.form.part import FormPart
from ...model.form.pile import SheetForm
from ...model.form.ribs import RibForm
from ...model.plan import Plan
from ...model.shape.loop import Corner, along
from ...model.shape.profile import Floats
from ...model.units import Mm
from ..drawing.boxes import boxes_of
from ..drawing.curves import Arc, Line
from ..drawing.lanes import Wanted, stack_dimensions
from ..drawing.lettering import text_width
from ..drawing.pens import CENTRE, NARROW
from ..drawing.primitives import Align, Item, Level, LinearDimension, Side, Stroke, Text
from ..drawing.scale import Scale
from ..drawing.sheet import View, placed
from ..drawing.table import Column
from .compose import Rows
from .loop_curves import board_strokes, edges_of, hole_circle
from .words import Units, units_of, written, written_size

LETTERS: Mm = 2.5
APART: Mm = 3.4
"""Distance on paper of a number from the edge, and least distance of two numbers."""

POINTS = (
    Column(heading="Point", width=16.0, align=Align.CENTRE),
    Column(heading="From the middle", width=74.0, align=Align.RIGHT),
    Column(heading="Above the foot", width=74.0, align=Align.RIGHT),
)
CUTS = (
    Column(heading="Cut", width=32.0),
    Column(heading="Its middle from the middle", width=42.0, align=Align.RIGHT),
    Column(heading="Its middle above the foot", width=42.0, align=Align.RIGHT),
    Column(heading="Width × height, or Ø", width=48.0, align=Align.RIGHT),
)
PIECES = (
    Column(heading="Piece of the edge, from the left", width=64.0),
    Column(heading="Radius", width=50.0, align=Align.RIGHT),
    Column(heading="Length", width=50.0, align=Align.RIGHT),
)


def board_of(plan: Plan) -> FormPart | None:
    """The board that is cut to the form's edge; None where the form is not built of such."""
    built = plan.form.built if plan.form is not None else None
    match built:
        case RibForm():
            return built.rib
        case SheetForm():
            return built.sheet
    return None


def edge_of(plan: Plan) -> tuple[tuple[Corner, ...], Mm]:
    """The edge that is cut, from left to right, and the height of the board's foot."""
    built = plan.form.built if plan.form is not None else None
    if isinstance(built, RibForm):
        return built.core.curve, built.core.foot
    return along(plan.stack.sheet, 0.0, 0.5 * plan.base.outline.length, plan.base.lift), 0.0


def points_of(plan: Plan) -> Ordinates:
    """Ordinates of the edge, at whole millimetres or at parts of an inch."""
    curve, foot = edge_of(plan)
    return ordinates(curve, foot, INCH_STEPS if units_of(plan) is Units.INCH else MM_STEPS)


def rib_view(plan: Plan, part: FormPart, scale: Scale) -> View:
    """The board with its ordinates; x from the middle of the panel, y above the underside of the form."""
    unit = 1.0 / scale.ratio
    _, foot = edge_of(plan)
    (left, _), (right, top) = part.outline.box
    over = 3.0 * unit
    items: list[Item] = [*board_strokes(part.outline, part.holes, part.key)]
    found = points_of(plan)
    middle = float(np.interp(0.0, *found.points.T)) if found.is_even else top - foot
    items.append(Stroke(curve=Line(start=(0.0, foot - over), end=(0.0, foot + middle)), pen=CENTRE))
    items += _lines(found, foot, unit)
    view = View(name=part.key, scale=scale, origin=(0.0, 0.0), items=tuple(items))
    return view.with_items(*_dimensions(plan, view, part, units_of(plan), (left, right, foot, top)))


def rib_span(part: FormPart) -> tuple[Mm, Mm]:
    """Size of the board."""
    return part.size


def _lines(found: Ordinates, foot: Mm, unit: Mm) -> Iterator[Item]:
    """A line from the foot to every point, and its number beside the edge, in the air."""
    points = found.points
    normals = _normals(points)
    inner = len(points) - 1
    for index, (x, z) in enumerate(points):
        if 0 < index < inner and abs(normals[index, 1]) > 0.7:
            yield Stroke(
                curve=Line(start=(float(x), foot), end=(float(x), foot + float(z))),
                pen=NARROW,
                part="ordinate",
            )
        elif 0 < index < inner:
            tick = points[index] - 2.5 * unit * normals[index]
            yield Stroke(
                curve=Line(start=(float(x), foot + float(z)), end=(float(tick[0]), foot + float(tick[1]))),
                pen=NARROW,
                part="ordinate",
            )
    # numbers run from the middle outward where only one half is told
    first = len(points) - len(found.listed)
    places = (points + APART * unit * normals)[first:]
    for number in _numbered(places / unit):
        x, z = places[number - 1].tolist()
        yield Text(
            text=str(number),
            position=(x, foot + z),
            height=LETTERS,
            align=Align.CENTRE,
            level=Level.MIDDLE,
        )


def _numbered(places: Floats) -> list[int]:
    """Points that get their number: every one, or every second, fifth or tenth, so that numbers stand apart."""
    for every in (1, 2, 5, 10, 20):
        chosen = [number for number in range(1, len(places) + 1) if number % every == 0]
        steps = np.hypot(*np.diff(places[[number - 1 for number in chosen]], axis=0).T)
        if len(chosen) < 2 or float(steps.min()) > text_width(str(len(places)), LETTERS) + 1.0:
            break
    return chosen


def _normals(points: Floats) -> Floats:
    """Unit normals of a row of points, toward the air above the edge."""
    runs = np.gradient(points, axis=0)
    runs /= np.hypot(runs[:, 0], runs[:, 1])[:, None]
    return np.column_stack((-runs[:, 1], runs[:, 0]))


def _dimensions(
    plan: Plan, view: View, part: FormPart, units: Units, box: tuple[Mm, Mm, Mm, Mm]
) -> Iterator[LinearDimension]:
    left, right, foot, top = box
    wanted = [Wanted(start=(left, foot), end=(right, foot), text=written(right - left, units))]
    built = plan.form.built if plan.form is not None else None
    if isinstance(built, RibForm):
        middles = [0.5 * (a + b) for a, b in built.crossings]
        # the last piece is what is left over
        chain = [left, *middles]
        wanted += [
            Wanted(start=(a, foot), end=(b, foot), text=written(b - a, units)) for a, b in pairwise(chain)
        ]
    heights = [Wanted(start=(left, foot), end=(left, top), text=written(top - foot, units))]
    upright = stack_dimensions(view, heights, Side.LEFT, left)
    yield from upright
    taken = boxes_of(placed(item, view.scale.ratio, view.origin) for item in upright)
    yield from stack_dimensions(view, wanted, Side.BELOW, foot, taken)


def point_rows(plan: Plan) -> Rows:
    """Rows of the table of ordinates."""
    found, units = points_of(plan), units_of(plan)
    sign = "± " if found.is_even else ""
    return [
        (str(number), (sign if abs(x) > 0.05 else "") + written(x, units), written(z, units))
        for number, (x, z) in enumerate(found.listed.tolist(), 1)
    ]


def cut_rows(plan: Plan) -> Rows:
    """Rows of the notches and vents of a rib; none for a stacked sheet."""
    built = plan.form.built if plan.form is not None else None
    if not isinstance(built, RibForm):
        return ()
    foot, units = built.core.foot, units_of(plan)
    heights = {x: 0.5 * (p.outline.box[1][1] - foot) for p in built.stretchers for x in p.places}
    rows = [
        (
            "notch from below",
            written(x + 0.5 * built.rib.thickness, units),
            written(0.5 * height, units),
            written_size(built.rib.thickness, height, units),
        )
        for x, height in sorted(heights.items())
    ]
    for hole in built.rib.holes:
        circle = hole_circle(hole)
        x, z = circle.centre
        size = f"Ø {written(2.0 * circle.radius, units)}"
        rows.append(("vent", written(x, units), written(z - foot, units), size))
    return rows


def piece_rows(plan: Plan) -> Rows:
    """Rows of the arcs and straight runs of the edge; none where it follows another curve."""
    curve, _ = edge_of(plan)
    if len(curve) > 12:
        return ()
    rows, units = [], units_of(plan)
    for (_, _, bulge), edge in zip(curve[:-1], edges_of(curve), strict=True):
        if isinstance(edge, Arc):
            kind = "arc, the wood inside" if bulge < 0.0 else "arc, the wood outside"
            length = edge.radius * abs(edge.sweep)
            rows.append((kind, written(edge.radius, units), written(length, units)))
        elif isinstance(edge, Line):
            length = float(np.hypot(edge.end[0] - edge.start[0], edge.end[1] - edge.start[1]))
            rows.append(("straight, along the tangent", "–", written(length, units)))
    return rows
