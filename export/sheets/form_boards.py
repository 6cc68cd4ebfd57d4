"""The other boards of a ribbed form: stretchers with notches, the baseboard with its vents, the skin laid flat."""

from collections.abc import Iterator
from functools import partial

from ...model.form.part import FormPart
from ...model.form.ribs import RibForm
from ...model.form.skin import Skin
from ...model.form.taper_form import TaperRibs
from ...model.plan import Plan
from ...model.shape.loop import Loop
from ...model.units import Mm
from ...model.wording import in_inches, in_mm
from ..drawing.boxes import boxes_of
from ..drawing.curves import Line, Point, Polyline, rectangle
from ..drawing.lanes import Wanted, stack_dimensions
from ..drawing.paper import Paper
from ..drawing.pens import CENTRE, WIDE
from ..drawing.primitives import Item, LinearDimension, Side, Stroke
from ..drawing.scale import Scale
from ..drawing.sheet import View, view_on_paper
from .form_rows import FormRow, form_rows
from .loop_curves import board_strokes, hole_circle
from .naming import titled
from .rows_of_views import scaled
from .words import Units, units_of, written


def board_views(plan: Plan, paper: Paper) -> tuple[View, ...]:
    """Views of all boards but the ribs; none where the form has no ribs."""
    found = None if plan.form is None else plan.form.ribbed
    if found is None:
        return ()
    units, rows = units_of(plan), {row.key: row for row in form_rows(plan)}
    views = [
        scaled(partial(_board_view, found, part, rows[part.key], units), part.size, paper)
        for part in found.parts
        if not part.key.startswith("rib")
    ]
    views += [
        scaled(partial(_skin_view, found, skin, rows[skin.key], units), (skin.length, skin.width), paper)
        for skin in found.skins
    ]
    return tuple(views)


def _note(row: FormRow, more: str, units: Units, scale: Scale) -> str:
    thickness = in_inches(row.thickness) if units is Units.INCH else in_mm(row.thickness)
    pieces = f"{row.quantity} piece{'s' if row.quantity > 1 else ''}"
    return f"{row.material}, {thickness}, {pieces}{more}, scale {scale}"


def _board_view(ribs: RibForm | TaperRibs, part: FormPart, row: FormRow, units: Units, scale: Scale) -> View:
    """A stretcher or the baseboard; x and y from its middle and its foot."""
    (x0, y0), (x1, y1) = part.outline.box
    items: list[Item] = [*board_strokes(part.outline, part.holes, part.key), *_axes(x0, y0, x1, y1, scale)]
    view = View(name=part.key, scale=scale, origin=(0.0, 0.0), items=tuple(items))
    below = [Wanted(start=(x0, y0), end=(x1, y0), text=written(x1 - x0, units))]
    left = [Wanted(start=(x0, y0), end=(x0, y1), text=written(y1 - y0, units))]
    top = sorted(x for x, y, _ in part.outline.corners if y > y1 - 1e-6)
    if part.plane == "level" and top[-1] - top[0] < x1 - x0 - 1e-6:
        wanted = [Wanted(start=(top[0], y1), end=(top[-1], y1), text=written(top[-1] - top[0], units))]
        view = view.with_items(*stack_dimensions(view, wanted, Side.ABOVE, y1))
    more = ""
    if part.plane == "across":
        a, b = ribs.middles[0], ribs.middles[1]
        middle = 0.5 * (y0 + y1)
        pitch = f"{ribs.bays} × {written(ribs.spacing, units)}"
        below.append(Wanted(start=(a, y0), end=(b, y0), text=pitch))
        left.append(Wanted(start=(x0, y0), end=(x0, middle), text=written(middle - y0, units)))
    if part.holes:
        vent = 2.0 * hole_circle(part.holes[0]).radius
        more = f", vents Ø {in_inches(vent) if units is Units.INCH else in_mm(vent)}"
    view = _dimensioned(view, below, left, (x0, y0))
    return titled(view, f"{row.mark}  {row.name}", _note(row, more, units, scale))


def _skin_view(ribs: RibForm | TaperRibs, skin: Skin, row: FormRow, units: Units, scale: Scale) -> View:
    """A sheet of the skin laid flat, with the middles of the ribs that it is fixed to."""
    if skin.outline is not None and isinstance(ribs, TaperRibs):
        return _pattern_view(ribs, skin, skin.outline, row, units, scale)
    a, b = 0.5 * skin.length, 0.5 * skin.width
    items: list[Item] = [
        Stroke(curve=rectangle((-a, -b), (a, b)), pen=WIDE, part=skin.key),
        *_axes(-a, -b, a, b, scale),
    ]
    for middle in ribs.middles:
        if abs(middle) > 1e-6:
            items.append(Stroke(curve=Line(start=(-a, middle), end=(a, middle)), pen=CENTRE, part="rib"))
    view = View(name=skin.key, scale=scale, origin=(0.0, 0.0), items=tuple(items))
    first = ribs.middles[0]
    left = [
        Wanted(start=(-a, -b), end=(-a, b), text=written(2.0 * b, units)),
        Wanted(start=(-a, -b), end=(-a, first), text=written(first + b, units)),
    ]
    below = [Wanted(start=(-a, -b), end=(a, -b), text=written(2.0 * a, units))]
    view = _dimensioned(view, below, left, (-a, -b))
    more = ", stiff way across the ribs"
    return titled(view, f"{row.mark}  {row.name}, laid flat", _note(row, more, units, scale))


def _pattern_view(
    ribs: TaperRibs, skin: Skin, outline: Loop, row: FormRow, units: Units, scale: Scale
) -> View:
    """A sheet of the skin of a taper, laid flat: its pattern in the rectangle that it is cut from."""
    (x0, y0), (x1, y1) = outline.box
    items: list[Item] = [*board_strokes(outline, (), skin.key)]
    for row_of_points in ribs.lines_on(skin):
        points = tuple((x, y) for x, y in row_of_points.tolist())
        items.append(Stroke(curve=Polyline(points=points), pen=CENTRE, part="rib"))
    view = View(name=skin.key, scale=scale, origin=(0.0, 0.0), items=tuple(items))
    below = [Wanted(start=(x0, y0), end=(x1, y0), text=written(x1 - x0, units))]
    left = [Wanted(start=(x0, y0), end=(x0, y1), text=written(y1 - y0, units))]
    view = _dimensioned(view, below, left, (x0, y0))
    more = ", stiff way along the rulings, outline at full size as template and DXF"
    return titled(view, f"{row.mark}  {row.name}, laid flat", _note(row, more, units, scale))


def _dimensioned(view: View, below: list[Wanted], left: list[Wanted], corner: Point) -> View:
    """View with its lengths below and its heights at the left, clear of each other."""
    view = view.with_items(*stack_dimensions(view, left, Side.LEFT, corner[0]))
    taken = boxes_of(item for item in view_on_paper(view) if isinstance(item, LinearDimension))
    return view.with_items(*stack_dimensions(view, below, Side.BELOW, corner[1], taken))


def _axes(x0: Mm, y0: Mm, x1: Mm, y1: Mm, scale: Scale) -> Iterator[Item]:
    over, x, y = 3.0 / scale.ratio, 0.5 * (x0 + x1), 0.5 * (y0 + y1)
    yield Stroke(curve=Line(start=(x, y0 - over), end=(x, y1 + over)), pen=CENTRE)
    if y1 - y0 > 8.0 * over:
        yield Stroke(curve=Line(start=(x0 - over, y), end=(x1 + over, y)), pen=CENTRE)
