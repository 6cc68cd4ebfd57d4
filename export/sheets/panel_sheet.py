"""The finished panel as its show face is seen: how its edge is set out, and where its holes are."""

from collections.abc import Iterator

from ...model.form.ordinates import INCH_STEPS
from ...model.plan import Plan
from ...model.report import Report
from ...model.setting_out import STEPS, readings, set_corners, set_holes
from ...model.shape.loop import Loop
from ...model.shape.pathed import Pathed
from ...model.units import Mm
from ..drawing.curves import Line
from ..drawing.lanes import Wanted, stack_dimensions
from ..drawing.pens import CENTRE, WIDE
from ..drawing.primitives import Align, Item, Level, Side, Stroke, Text
from ..drawing.scale import Scale
from ..drawing.sheet import Sheet, View
from ..drawing.table import Column
from .compose import COLUMN, Rows, composed, words
from .loop_curves import closed_edges
from .titles import About, papers_of, title
from .words import Units, units_of, written, written_size

ABOUT = About(name="panel", subtitle="Finished panel on its show face", document="Part drawing")
BESIDE: Mm = 4.5
"""Distance on paper of the number of a corner from it."""
CORNERS = (
    Column(heading="Corner", width=24.0, align=Align.CENTRE),
    Column(heading="Along", width=50.0, align=Align.RIGHT),
    Column(heading="Across", width=50.0, align=Align.RIGHT),
    Column(heading="Rounded to R", width=COLUMN - 124.0, align=Align.RIGHT),
)
READINGS = (
    Column(heading="Along", width=40.0, align=Align.RIGHT),
    Column(heading="Edge met across at", width=COLUMN - 40.0),
)
HOLES = (
    Column(heading="Hole", width=24.0, align=Align.CENTRE),
    Column(heading="Middle along", width=45.0, align=Align.RIGHT),
    Column(heading="Middle across", width=45.0, align=Align.RIGHT),
    Column(heading="Size", width=COLUMN - 114.0, align=Align.RIGHT),
)


def panel_sheet(plan: Plan, report: Report) -> Sheet | None:
    """Drawing of a panel whose outline is set out; None where it is a rectangle, or an ellipse."""
    outline = plan.layup.edge
    if not isinstance(outline, Pathed):
        return None
    units = units_of(plan)
    tables: list[tuple[tuple[Column, ...], Rows]] = [_edge_table(outline.edge, units)]
    if outline.holes:
        tables.append((HOLES, _hole_rows(outline, units)))
    return composed(
        lambda scale: _view(outline, units, scale),
        (outline.length, outline.width),
        words(list(_notes(plan, outline)), tables),
        lambda scale: title(plan, report, ABOUT, scale),
        ABOUT.name,
        papers_of(plan),
    )


def _notes(plan: Plan, outline: Pathed) -> Iterator[str]:
    along = "along the curve" if plan.layup.is_bent else "along"
    yield f"Seen on the show face; read {along} from the left, and across from below, from the box around the panel."
    if set_corners(outline.edge):
        yield "Corners are where the straight sides meet, before they are rounded."
    else:
        yield "A rule laid across meets the edge at these heights; templates at full size come with the papers."
    if not plan.layup.face_is_up:
        yield "It is pressed with this face down: blanks, plan and caul are its mirror image."
    if outline.holes:
        yield "Holes are cut through the finished panel; core and veneers are glued whole, and spread all over."


def _edge_table(edge: Loop, units: Units) -> tuple[tuple[Column, ...], Rows]:
    corners = set_corners(edge)
    if corners:
        return CORNERS, [
            (
                str(number),
                written(corner.spot[0], units),
                written(corner.spot[1], units),
                written(corner.radius, units) if corner.radius else "–",
            )
            for number, corner in enumerate(corners, 1)
        ]
    found = readings(edge, INCH_STEPS if units is Units.INCH else STEPS)
    return READINGS, [(written(x, units), ", ".join(written(y, units) for y in met)) for x, met in found]


def _hole_rows(outline: Pathed, units: Units) -> Rows:
    return [
        (
            chr(ord("a") + number % 26),
            written(hole.middle[0], units),
            written(hole.middle[1], units),
            f"Ø {written(hole.diameter, units)}" if hole.diameter else written_size(*hole.size, units),
        )
        for number, hole in enumerate(set_holes(outline.edge, outline.holes))
    ]


def _view(outline: Pathed, units: Units, scale: Scale) -> View:
    unit = 1.0 / scale.ratio
    (left, low), (right, top) = outline.box
    length, width = right - left, top - low
    items: list[Item] = [
        Stroke(curve=curve, pen=WIDE, part=name)
        for name, loop in (("panel", outline.edge), *(("hole", hole) for hole in outline.holes))
        for curve in closed_edges(loop.moved(-left, -low))
    ]
    for number, hole in enumerate(set_holes(outline.edge, outline.holes)):
        (x, y), (a, b) = hole.middle, hole.size
        over_x, over_y = 0.5 * a + 2.0 * unit, 0.5 * b + 2.0 * unit
        items += (
            Stroke(curve=Line(start=(x - over_x, y), end=(x + over_x, y)), pen=CENTRE),
            Stroke(curve=Line(start=(x, y - over_y), end=(x, y + over_y)), pen=CENTRE),
            _number(chr(ord("a") + number % 26), (x + over_x + 2.0 * unit, y)),
        )
    for number, corner in enumerate(set_corners(outline.edge), 1):
        (x, y), (u, v) = corner.spot, corner.outward
        items.append(_number(str(number), (x + u * BESIDE * unit, y + v * BESIDE * unit)))
    view = View(name=ABOUT.name, scale=scale, origin=(0.0, 0.0), items=tuple(items))
    along = [Wanted(start=(0.0, 0.0), end=(length, 0.0), text=written(length, units))]
    across = [Wanted(start=(0.0, 0.0), end=(0.0, width), text=written(width, units))]
    outer = BESIDE * unit
    return view.with_items(
        *stack_dimensions(view, along, Side.BELOW, -outer),
        *stack_dimensions(view, across, Side.LEFT, -outer),
    )


def _number(text: str, place: tuple[Mm, Mm]) -> Text:
    return Text(text=text, position=place, height=2.5, align=Align.CENTRE, level=Level.MIDDLE)
