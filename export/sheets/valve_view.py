"""The detail at the valve: what lies under it, from the caul or the lower film up, cut through its middle.

Along the bag it is to scale; sheets are thickened so that they can be told apart, and the valve is a plain disc with
its passage, since makers build them in many ways.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from ...model.plan import Plan
from ...model.units import Mm
from ..drawing.callout import balloon_column
from ..drawing.curves import Line, Point, rectangle
from ..drawing.lanes import Wanted
from ..drawing.pens import CENTRE, NARROW, PHANTOM, WIDE
from ..drawing.primitives import Balloon, Hatch, Item, Side, Stroke
from ..drawing.scale import SCALES, Scale
from ..drawing.sheet import View
from .breaks import break_line
from .clear_lanes import clear_lanes
from .edge_bands import LEAST
from .film import STAND_OFF
from .hatching import Cut, cut_of
from .naming import titled
from .parts import FILM, VALVE, marks_of
from .words import units_of, written

NAME = "valve"
LETTER = "W"
WIDEST: Mm = 32.0
"""Greatest width on paper of the valve."""
BESIDE: Mm = 9.0
"""How much is drawn beside the valve, on paper."""
DEEPEST: Mm = 5.0
"""Thickness on paper of the lowest sheet, which is broken off below."""
DISC: Mm = 4.0
"""Height on paper of the valve."""
PASSAGE = 0.2
"""Width of the passage as a share of the valve's: schematic."""
RADIUS: Mm = 3.3
PITCH: Mm = 6.8
"""Radius of a balloon, and distance of balloons in their column."""
LETTERS: Mm = 2.5


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sheet:
    """One sheet under the valve: its heights on paper, its number and its hatching."""

    mark: str
    low: Mm
    high: Mm
    cut: Cut


def valve_scale(plan: Plan) -> Scale:
    """Largest scale up to full size at which the valve is no wider than it should be on paper."""
    fits = (scale for scale in SCALES if scale.ratio <= 1.0)
    return next((scale for scale in fits if 2.0 * plan.valve.radius * scale.ratio <= WIDEST), SCALES[-1])


def valve_view(plan: Plan) -> View:
    """Detail at the valve of a layup whose bag is designed, its origin at the lower left of the paper."""
    scale = valve_scale(plan)
    unit, radius = 1.0 / scale.ratio, plan.valve.radius
    half = radius + BESIDE * unit
    sheets = tuple(_sheets(plan))
    top = sheets[-1].high + STAND_OFF if sheets else STAND_OFF
    items: list[Item] = [item for sheet in sheets for item in _drawn(sheet, half, unit)]
    items += _film(half, top * unit, radius)
    items += _valve(top * unit, radius, unit)
    items += _ends(plan, half, top, unit)
    view = View(name=NAME, scale=scale, origin=(0.0, 0.0), items=tuple(items))
    foot = (top + DISC) * unit
    wanted = [
        Wanted(start=(-radius, foot), end=(radius, foot), text=f"Ø {written(2.0 * radius, units_of(plan))}")
    ]
    view = view.with_items(*_balloons(view, sheets, radius, top))
    view = view.with_items(*clear_lanes(view, wanted, Side.ABOVE, foot, first=6.0, height=LETTERS))
    return titled(view, f"{LETTER} ({scale})", "at the valve; sheets thickened, valve schematic")


def _sheets(plan: Plan) -> Iterator[_Sheet]:
    """Sheets under the valve from below: the caul and what lies on it, the tail of breather, or the work's own."""
    layers, marks = plan.stack.layers, marks_of(plan)
    if plan.valve.over == "tail":
        shown = [layer for layer in layers if layer.role == "breather"]
    else:
        start = next((n for n, layer in enumerate(layers) if layer.role == "caul"), None)
        core = max(n for n, layer in enumerate(layers) if layer.role == "substrate")
        shown = [layer for layer in layers[core if start is None else start :] if layer.role != "adhesive"]
    low = 0.0
    for number, layer in enumerate(shown):
        is_cut_off = number == 0 and layer.role != "breather"
        high = low + (DEEPEST if is_cut_off else LEAST[layer.role])
        yield _Sheet(mark=marks[layer.key], low=low, high=high, cut=cut_of(plan, layer))
        low = high


def _drawn(sheet: _Sheet, half: Mm, unit: Mm) -> Iterator[Item]:
    low, high = sheet.low * unit, sheet.high * unit
    edge = (rectangle((-half, low), (half, high)),)
    cut = sheet.cut
    yield Hatch(boundary=edge, pattern=cut.pattern, turn=cut.turn, spread=cut.spread, part=sheet.mark)
    for level in (low, high) if sheet.low else (high,):
        yield Stroke(curve=Line(start=(-half, level), end=(half, level)), pen=WIDE, part=sheet.mark)


def _film(half: Mm, level: Mm, radius: Mm) -> Iterator[Stroke]:
    """Upper film, with its hole under the valve."""
    hole = PASSAGE * radius
    for side in (-1.0, 1.0):
        yield Stroke(
            curve=Line(start=(side * hole, level), end=(side * half, level)), pen=PHANTOM, part="film"
        )


def _valve(level: Mm, radius: Mm, unit: Mm) -> Iterator[Stroke]:
    high, hole = level + DISC * unit, PASSAGE * radius
    yield Stroke(curve=rectangle((-radius, level), (radius, high)), pen=WIDE, part="valve")
    for x in (-hole, hole):
        yield Stroke(curve=Line(start=(x, level), end=(x, high)), pen=NARROW, part="valve")
    axis = Line(start=(0.0, level - 2.0 * unit), end=(0.0, high + 2.0 * unit))
    yield Stroke(curve=axis, pen=CENTRE, part="valve")


def _ends(plan: Plan, half: Mm, top: Mm, unit: Mm) -> Iterator[Item]:
    """Break lines at both ends; below, the lower film under a tail, or the break of the lowest sheet."""
    low = -STAND_OFF * unit if plan.valve.over == "tail" else 0.0
    for x in (-half, half):
        yield break_line((x, low), (x, top * unit), unit)
    if plan.valve.over == "tail":
        pen = WIDE if plan.bag.kind == "sheet on board" else PHANTOM
        yield Stroke(curve=Line(start=(-half, low), end=(half, low)), pen=pen, part="film")
    else:
        yield break_line((-half, 0.0), (half, 0.0), unit)


def _balloons(view: View, sheets: tuple[_Sheet, ...], radius: Mm, top: Mm) -> tuple[Balloon, ...]:
    """Balloons in a column on the left: the valve, the film and the sheets."""
    unit = 1.0 / view.scale.ratio
    half = radius + BESIDE * unit
    tip = -half + 4.0 * unit
    parts: list[tuple[Point, str]] = [
        ((tip, 0.5 * (sheet.low + sheet.high) * unit), sheet.mark) for sheet in sheets
    ]
    parts.append(((tip, top * unit), FILM))
    parts.append(((-0.8 * radius, (top + 0.5 * DISC) * unit), VALVE))
    x, middle = view.on_paper((-half, 0.5 * top * unit))
    room = 0.5 * PITCH * len(parts)
    return balloon_column(
        view, parts, x - 12.0, middle + 3.0 - room, middle + 3.0 + room, radius=RADIUS, slope=0.0
    )
