"""The other boards of a ribbed form: stretchers with notches, the baseboard with its vents, the skin laid flat."""

from collections.abc import Iterator
from functools import partial

from ...model.form.part import FormPart
from ...model.form.ribs import RibForm
from ...model.form.skin import Skin
from ...model.plan import Plan
from ...model.units import Mm
from ...model.wording import in_inches, in_mm
from ..drawing.boxes import boxes_of
from ..drawing.curves import Line, Point, rectangle
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
    ribs = plan.form.ribs if plan.form is not None else None
    if ribs is None:
        return ()
    units, rows = units_of(plan), {row.key: row for row in form_rows(plan)}
    views = [
        scaled(partial(_board_view, ribs, part, rows[part.key], units), part.size, paper)
        for part in ribs.parts
        if part is not ribs.rib
    ]
    views += [
        scaled(partial(_skin_view, ribs, skin, rows[skin.key], units), (skin.length, skin.width), paper)
        for skin in ribs.skins
    ]
    return tuple(views)


def _note(row: FormRow, more: str, units: Units, scale: Scale) -> str:
    thickness = in_inches(row.thickness) if units is Units.INCH else in_mm(row.thickness)
    pieces = f"{row.quantity} piece{'s' if row.quantity > 1 else ''}"
    return f"{row.material}, {thickness}, {pieces}{more}, scale {scale}"


def _board_view(ribs: RibForm, part: FormPart, row: FormRow, units: Units, scale: Scale) -> View:
    """A stretcher or the baseboard; x and y from its middle and its foot."""
    (x0, y0), (x1, y1) = part.outline.box
    items: list[Item] = [*board_strokes(part.outline, part.holes, part.key), *_axes(x0, y0, x1, y1, scale)]
    view = View(name=part.key, scale=scale, origin=(0.0, 0.0), items=tuple(items))
    below = [Wanted(start=(x0, y0), end=(x1, y0), text=written(x1 - x0, units))]
    left = [Wanted(start=(x0, y0), end=(x0, y1), text=written(y1 - y0, units))]
    more = ""
    if part.plane == "across":
        a, b = ribs.rib.places[0], ribs.rib.places[1]
        middle = 0.5 * (y0 + y1)
        pitch = f"{ribs.bays} × {written(ribs.spacing, units)}"
        below.append(Wanted(start=(a, y0), end=(b, y0), text=pitch))
        left.append(Wanted(start=(x0, y0), end=(x0, middle), text=written(middle - y0, units)))
    if part.holes:
        vent = 2.0 * hole_circle(part.holes[0]).radius
        more = f", vents Ø {in_inches(vent) if units is Units.INCH else in_mm(vent)}"
    view = _dimensioned(view, below, left, (x0, y0))
    return titled(view, f"{row.mark}  {row.name}", _note(row, more, units, scale))


def _skin_view(ribs: RibForm, skin: Skin, row: FormRow, units: Units, scale: Scale) -> View:
    """A sheet of the skin laid flat, with the middles of the ribs that it is fixed to."""
    a, b = 0.5 * skin.length, 0.5 * skin.width
    items: list[Item] = [
        Stroke(curve=rectangle((-a, -b), (a, b)), pen=WIDE, part=skin.key),
        *_axes(-a, -b, a, b, scale),
    ]
    for y in ribs.rib.places:
        middle = y + 0.5 * ribs.rib.thickness
        if abs(middle) > 1e-6:
            items.append(Stroke(curve=Line(start=(-a, middle), end=(a, middle)), pen=CENTRE, part="rib"))
    view = View(name=skin.key, scale=scale, origin=(0.0, 0.0), items=tuple(items))
    first = ribs.rib.places[0] + 0.5 * ribs.rib.thickness
    left = [
        Wanted(start=(-a, -b), end=(-a, b), text=written(2.0 * b, units)),
        Wanted(start=(-a, -b), end=(-a, first), text=written(first + b, units)),
    ]
    below = [Wanted(start=(-a, -b), end=(a, -b), text=written(2.0 * a, units))]
    view = _dimensioned(view, below, left, (-a, -b))
    more = ", stiff way across the ribs"
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
