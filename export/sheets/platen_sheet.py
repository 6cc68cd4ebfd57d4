"""Drawings of the plates of flat work, the platen below and the caul above: size, corners, eased edges."""

from ...model.plan import Plan
from ...model.report import Report
from ...model.shape.outline import Outline, RoundedRectangle
from ...model.units import Mm
from ..drawing.curves import Line
from ..drawing.lanes import Wanted, stack_dimensions
from ..drawing.pens import CENTRE, PHANTOM, WIDE
from ..drawing.primitives import Ending, Item, Leader, Side, Stroke
from ..drawing.scale import Scale
from ..drawing.sheet import Sheet, View
from .compose import composed, words
from .outlines import flat
from .titles import About, papers_of, title
from .words import said, units_of, written


def platen_sheet(plan: Plan, report: Report) -> Sheet:
    """Drawing of the platen of a flat layup that has one."""
    base, platen = plan.base, plan.layup.platen
    about = About(name="platen", subtitle="Platen below the work", document="Part drawing")
    notes = (
        f"{base.material_name}, {said(base.highest, units_of(plan))} thick, 1 piece; flat, its upper side smooth and sealed.",
        f"All edges eased to R {said(platen.easing, units_of(plan))}, above and below: film drawn over a sharp edge is cut.",
        "Chain line: the panel as it lies on the platen. Mark the centre lines on the upper side.",
    )
    return composed(
        lambda scale: _view(plan, base.outline, about.name, scale),
        (base.outline.length, base.outline.width),
        words(notes),
        lambda scale: title(plan, report, about, scale),
        about.name,
        papers_of(plan),
    )


def caul_sheet(plan: Plan, report: Report) -> Sheet | None:
    """Drawing of the caul of a flat layup; None where there is none."""
    layer, caul, units = plan.stack.find("caul"), plan.layup.caul, units_of(plan)
    if layer is None or plan.layup.is_bent:
        return None
    outline = layer.outline
    about = About(name="caul", subtitle="Caul above the work", document="Part drawing")
    notes = (
        f"{layer.material_name}, {said(layer.thickness, units)} thick, 1 piece; flat, its lower side smooth and sealed.",
        f"Upper edges eased to R {said(min(caul.easing, layer.thickness), units)}: film drawn over a sharp edge is cut.",
        "Chain line: the panel under the caul. Mark the centre lines on the upper side.",
    )
    return composed(
        lambda scale: _view(plan, outline, about.name, scale),
        (outline.length, outline.width),
        words(notes),
        lambda scale: title(plan, report, about, scale),
        about.name,
        papers_of(plan),
    )


def _view(plan: Plan, outline: Outline, name: str, scale: Scale) -> View:
    unit, units = 1.0 / scale.ratio, units_of(plan)
    (x0, y0), (x1, y1) = outline.box
    over = 3.0 * unit
    items: list[Item] = [Stroke(curve=curve, pen=WIDE, part=name) for curve in flat(outline)]
    items += (Stroke(curve=curve, pen=PHANTOM, part="panel") for curve in flat(plan.outline))
    items += (
        Stroke(curve=Line(start=(x0 - over, 0.0), end=(x1 + over, 0.0)), pen=CENTRE),
        Stroke(curve=Line(start=(0.0, y0 - over), end=(0.0, y1 + over)), pen=CENTRE),
    )
    corner = _corner(outline)
    if corner > 0.0:
        inset = corner * (1.0 - 0.5**0.5)
        tip = (x1 - inset, y1 - inset)
        items.append(
            Leader(
                points=(
                    tip,
                    (tip[0] + 8.0 * unit, tip[1] + 8.0 * unit),
                    (tip[0] + 12.0 * unit, tip[1] + 8.0 * unit),
                ),
                text=f"4 × R {written(corner, units)}",
                ending=Ending.ARROW,
            )
        )
    view = View(name=name, scale=scale, origin=(0.0, 0.0), items=tuple(items))
    return view.with_items(
        *stack_dimensions(
            view, [Wanted(start=(x0, y0), end=(x1, y0), text=written(x1 - x0, units))], Side.BELOW, y0
        ),
        *stack_dimensions(
            view, [Wanted(start=(x0, y0), end=(x0, y1), text=written(y1 - y0, units))], Side.LEFT, x0
        ),
    )


def _corner(outline: Outline) -> Mm:
    return outline.corner if isinstance(outline, RoundedRectangle) else 0.0
