"""The edge that ribs or stacked sheets are cut to, with ordinates from which it is laid out by hand."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from ...model.form.ordinates import INCH_STEPS, MM_STEPS, Ordinates, ordinates
from ...model.form.part import FormPart
from ...model.form.pile import SheetForm
from ...model.form.ribs import RibForm
from ...model.form.taper_form import TaperRibs, TaperSheets
from ...model.plan import Plan
from ...model.shape.loop import Corner, along
from ...model.shape.profile import Floats
from ...model.units import Mm
from ..drawing.boxes import boxes_of
from ..drawing.curves import Arc, Line, Point, Polyline
from ..drawing.lanes import Wanted, stack_dimensions
from ..drawing.lettering import text_width
from ..drawing.pens import CENTRE, HIDDEN, NARROW
from ..drawing.primitives import Align, Item, Level, LinearDimension, Side, Stroke, Text
from ..drawing.scale import Scale
from ..drawing.sheet import View, placed
from ..drawing.table import Column
from .compose import Rows
from .loop_curves import board_strokes, edges_of, hole_circle
from .words import Units, written, written_size

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


@dataclass(frozen=True, slots=True, kw_only=True)
class CutBoard:
    """A rib or a sheet of a stack, with what is told of its edge.

    Parameters
    ----------
    part
        The board; there may be more, all equal.
    curve
        The edge that carries the face or its skin, from left to right.
    foot
        Height of its underside.
    stretchers
        The stretchers that are halved into it.
    behind
        The same edge on its smaller side, where it is bevelled; empty where it is square.
    """

    part: FormPart
    curve: tuple[Corner, ...]
    foot: Mm
    stretchers: tuple[FormPart, ...] = ()
    behind: tuple[Point, ...] = ()

    @property
    def crossings(self) -> list[Mm]:
        """Middles of the stretchers, from left to right."""
        return sorted(x + 0.5 * one.thickness for one in self.stretchers for x in one.places)

    def points(self, units: Units) -> Ordinates:
        """Ordinates of the edge, at whole millimetres or at parts of an inch."""
        return ordinates(self.curve, self.foot, INCH_STEPS if units is Units.INCH else MM_STEPS)


def cut_boards(plan: Plan) -> tuple[CutBoard, ...]:
    """The boards that are cut to the form's face, each kind of them; none where the form is not built of such."""
    built = plan.form.built if plan.form is not None else None
    match built:
        case RibForm():
            core = built.core
            return (CutBoard(part=built.rib, curve=core.curve, foot=core.foot, stretchers=built.stretchers),)
        case SheetForm():
            half = 0.5 * plan.base.outline.length
            curve = along(plan.stack.sheet, 0.0, half, plan.base.lift)
            return (CutBoard(part=built.sheet, curve=curve, foot=0.0),)
        case TaperRibs() | TaperSheets():
            return tuple(
                CutBoard(
                    part=part,
                    curve=curve,
                    foot=built.carcase.board,
                    stretchers=built.stretchers if isinstance(built, TaperRibs) else (),
                    behind=_smaller_side(part),
                )
                for part, curve in zip(built.boards, built.curves, strict=True)
            )
    return ()


def _smaller_side(part: FormPart) -> tuple[Point, ...]:
    """Upper edge of the smaller side of a bevelled board."""
    if part.sides is None:
        return ()
    small = min(part.sides, key=lambda side: abs(side.area))
    corners = np.array(small.corners)[:, :2]
    foot = float(corners[:, 1].min())
    top = corners[: int(np.flatnonzero(corners[:, 1] <= foot + 1e-6)[0])]
    return tuple((x, z) for x, z in top.tolist())


def rib_view(board: CutBoard, units: Units, scale: Scale) -> View:
    """The board with its ordinates; x from the middle of the panel, y above the underside of the form."""
    unit, part, foot = 1.0 / scale.ratio, board.part, board.foot
    (left, _), (right, top) = part.outline.box
    over = 3.0 * unit
    items: list[Item] = [*board_strokes(part.outline, part.holes, part.key)]
    if board.behind:
        items.append(Stroke(curve=Polyline(points=board.behind), pen=HIDDEN, part="bevel"))
    found = board.points(units)
    middle = float(np.interp(0.0, *found.points.T)) if found.is_even else top - foot
    items.append(Stroke(curve=Line(start=(0.0, foot - over), end=(0.0, foot + middle)), pen=CENTRE))
    items += _lines(found, foot, unit)
    view = View(name=part.key, scale=scale, origin=(0.0, 0.0), items=tuple(items))
    return view.with_items(*_dimensions(board, view, units, (left, right, foot, top)))


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
    board: CutBoard, view: View, units: Units, box: tuple[Mm, Mm, Mm, Mm]
) -> Iterator[LinearDimension]:
    left, right, foot, top = box
    wanted = [Wanted(start=(left, foot), end=(right, foot), text=written(right - left, units))]
    # the last piece is what is left over
    wanted += [
        Wanted(start=(a, foot), end=(b, foot), text=written(b - a, units))
        for a, b in pairwise([left, *board.crossings])
    ]
    heights = [Wanted(start=(left, foot), end=(left, top), text=written(top - foot, units))]
    upright = stack_dimensions(view, heights, Side.LEFT, left)
    yield from upright
    taken = boxes_of(placed(item, view.scale.ratio, view.origin) for item in upright)
    yield from stack_dimensions(view, wanted, Side.BELOW, foot, taken)


def point_rows(board: CutBoard, units: Units) -> Rows:
    """Rows of the table of ordinates."""
    found = board.points(units)
    sign = "± " if found.is_even else ""
    return [
        (str(number), (sign if abs(x) > 0.05 else "") + written(x, units), written(z, units))
        for number, (x, z) in enumerate(found.listed.tolist(), 1)
    ]


def cut_rows(board: CutBoard, units: Units) -> Rows:
    """Rows of the notches and vents of a rib; none for a stacked sheet."""
    foot = board.foot
    heights = {
        x + 0.5 * one.thickness: (one.thickness, 0.5 * (one.outline.box[1][1] - foot))
        for one in board.stretchers
        for x in one.places
    }
    rows = [
        (
            "notch from below",
            written(x, units),
            written(0.5 * height, units),
            written_size(thickness, height, units),
        )
        for x, (thickness, height) in sorted(heights.items())
    ]
    for hole in board.part.holes:
        circle = hole_circle(hole)
        x, z = circle.centre
        size = f"Ø {written(2.0 * circle.radius, units)}"
        rows.append(("vent", written(x, units), written(z - foot, units), size))
    return rows


def piece_rows(board: CutBoard, units: Units) -> Rows:
    """Rows of the arcs and straight runs of the edge; none where it follows another curve."""
    curve = board.curve
    if len(curve) > 12:
        return ()
    rows = []
    for (_, _, bulge), edge in zip(curve[:-1], edges_of(curve), strict=True):
        if isinstance(edge, Arc):
            kind = "arc, the wood inside" if bulge < 0.0 else "arc, the wood outside"
            length = edge.radius * abs(edge.sweep)
            rows.append((kind, written(edge.radius, units), written(length, units)))
        elif isinstance(edge, Line):
            length = float(np.hypot(edge.end[0] - edge.start[0], edge.end[1] - edge.start[1]))
            rows.append(("straight, along the tangent", "–", written(length, units)))
    return rows
