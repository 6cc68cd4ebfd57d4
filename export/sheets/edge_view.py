"""The detail of the right edge: every layer told apart and called out, overhangs and margins dimensioned.

Along the panel it is to scale; a bent edge is turned level, which beyond the end of the bend changes nothing, since
there the sheet runs on straight.
"""

import math
from collections.abc import Iterator

from ...model.plan import Plan
from ...model.units import Mm
from ..drawing.callout import balloon_column
from ..drawing.curves import Line, Point, Polyline, polar, polygon, rectangle
from ..drawing.pens import CENTRE, NARROW, PHANTOM, WIDE
from ..drawing.primitives import Align, Balloon, Hatch, Item, Level, Stroke, Text
from ..drawing.scale import Scale
from ..drawing.sheet import View
from .breaks import break_line
from .cut import upward
from .edge_bands import Band, bands
from .edge_sizes import edge_sizes
from .film import STAND_OFF
from .naming import titled
from .parts import FILM, base_mark, marks_of

NAME = "edge"
INSIDE: Mm = 20.0
"""How far on paper the detail reaches inside the innermost edge."""
FLANGE: Mm = 9.0
"""Length on paper of the flange that is drawn."""
RADIUS: Mm = 3.3
"""Radius of a balloon."""
PITCH: Mm = 6.8
"""Distance of balloons in their column."""
COLUMN: Mm = 13.0
"""Least distance on paper of the column of balloons from the left end."""
STEEPEST = 1.5
"""Steepest rise of a leader; a steeper one would touch the balloon next to its own."""
SHOULDER: Mm = 12.0
SHOULDER_FOOT: Mm = 3.0
"""Length on paper of the shoulder of a hollow form that is drawn, and what is left below it."""
TIP: Mm = 5.0
"""Where leaders end, on paper from the left end."""


def edge_view(plan: Plan, scale: Scale) -> View:
    """Detail of the edge at a scale, its origin at the lower left of the paper."""
    unit = 1.0 / scale.ratio
    found = bands(plan, scale.ratio)
    left = left_end(plan) - INSIDE * unit
    items: list[Item] = [item for band in found for item in _drawn(plan, band, left, unit)]
    items += _ends(found, left, unit)
    items += _film(plan, found, left, unit)
    items += _trim(plan, found, unit)
    view = View(name=NAME, scale=scale, origin=(0.0, 0.0), items=tuple(items))
    view = view.with_items(*_balloons(plan, view, found, left))
    view = view.with_items(*edge_sizes(plan, view, found))
    turned = "turned level; " if plan.layup.is_bent else ""
    return titled(
        view, f"Z ({scale})", f"{turned}lengths to scale, thin sheets thickened, thick parts broken"
    )


def left_end(plan: Plan) -> Mm:
    """Where the innermost edge lies, from the end of the finished panel."""
    end = 0.5 * plan.outline.length
    edges = [0.5 * layer.outline.length - end for layer in plan.stack.layers]
    return min(*edges, 0.5 * plan.base.outline.length - end, 0.0)


def right_end(plan: Plan) -> Mm:
    """Where the outermost edge lies, from the end of the finished panel."""
    end = 0.5 * plan.outline.length
    return (
        max(0.5 * plan.base.outline.length, *(0.5 * layer.outline.length for layer in plan.stack.layers))
        - end
    )


def _drawn(plan: Plan, band: Band, left: Mm, unit: Mm) -> Iterator[Item]:
    """Hatching and outline of a band, open at its left end and at breaks."""
    if band.role == "gap":
        for level in (band.low, band.high):
            yield break_line((left, level * unit), (band.reach, level * unit), unit)
        # left of the line along which the panel is trimmed
        middle = 0.5 * (left + min(band.reach, 0.0)), 0.5 * (band.low + band.high) * unit
        yield Text(text=band.key, position=middle, height=2.5, align=Align.CENTRE, level=Level.MIDDLE)
        return
    if band.role == "form":
        yield from _form(plan, band, left, unit)
        return
    levels = (band.low, *band.breaks, band.high)
    for low, high in zip(levels[::2], levels[1::2], strict=True):
        yield from _piece(band, left, low * unit, high * unit)
    for level in band.breaks:
        yield break_line((left, level * unit), (band.reach, level * unit), unit)


def _piece(band: Band, left: Mm, low: Mm, high: Mm) -> Iterator[Item]:
    cut, right = band.cut, band.reach
    if band.role != "adhesive":
        edge = (rectangle((left, low), (right, high)),)
        yield Hatch(boundary=edge, pattern=_pattern(band), turn=cut.turn, spread=cut.spread, part=band.key)
    pen = NARROW if band.role in ("release", "adhesive", "absorbent") else WIDE
    whole = Polyline(points=((left, low), (right, low), (right, high), (left, high)))
    yield Stroke(curve=whole, pen=pen, part=band.key)


def _form(plan: Plan, band: Band, left: Mm, unit: Mm) -> Iterator[Item]:
    """Upper part of a form, cut off below; beside a hollow face its shoulder goes on, cut off too."""
    low, high, end = band.low * unit, band.high * unit, shoulder_end(plan, band, unit)
    corners = (
        ((left, high), (band.reach, high)) if end[1] == high else ((left, high), (band.reach, high), end)
    )
    edge = (polygon([(left, low), (end[0], low), *reversed(corners)]),)
    yield Hatch(
        boundary=edge, pattern=band.cut.pattern, turn=band.cut.turn, spread=band.cut.spread, part=band.key
    )
    if plan.base.shoulder:
        yield Stroke(curve=Polyline(points=corners), pen=WIDE, part=band.key)
        yield break_line((end[0], low), end, unit)
    else:
        yield Stroke(curve=Polyline(points=(*corners, (band.reach, low))), pen=WIDE, part=band.key)
    yield break_line((left, low), (end[0], low), unit)


def shoulder_end(plan: Plan, band: Band, unit: Mm) -> Point:
    """Where the drawn part of a form ends above: on its shoulder, which leaves the face at the slope of its end."""
    corner = band.reach, band.high * unit
    if not plan.base.shoulder:
        return corner
    slope = upward(plan.stack.sheet, 0.5 * plan.outline.length) - math.pi / 2.0
    depth = (band.high - band.low - SHOULDER_FOOT) * unit
    length = min(plan.base.shoulder, SHOULDER * unit, depth / max(math.sin(slope), 1e-9))
    return polar(corner, length, -slope)


def _pattern(band: Band) -> str:
    return "solid" if band.role == "release" else band.cut.pattern


def _ends(found: tuple[Band, ...], left: Mm, unit: Mm) -> Iterator[Item]:
    """Break line at the left."""
    yield break_line((left, found[0].low * unit), (left, found[-1].high * unit), unit, overrun=3.0)


def _film(plan: Plan, found: tuple[Band, ...], left: Mm, unit: Mm) -> Iterator[Item]:
    """Film over the work and down beside it; to the bench where the base is drawn whole."""
    if plan.is_undercut:
        return
    off = STAND_OFF * unit
    top, right = found[-1].high * unit + off, right_end(plan) + off
    if found[0].role == "form":
        right = max(right, shoulder_end(plan, found[0], unit)[0] + off)
        yield Stroke(
            curve=Polyline(points=((left, top), (right, top), (right, -2.0 * unit))), pen=PHANTOM, part="film"
        )
        return
    end = right + FLANGE * unit
    over = Polyline(points=((left, top), (right, top), (right, off), (end, off)))
    yield Stroke(curve=over, pen=PHANTOM, part="film")
    yield Stroke(curve=Line(start=(left, -off), end=(end, -off)), pen=PHANTOM, part="film")
    yield break_line((end, -off), (end, off), unit)


def _trim(plan: Plan, found: tuple[Band, ...], unit: Mm) -> Iterator[Stroke]:
    """Line along which the panel is trimmed afterwards."""
    if plan.layup.substrate.trim <= 0.0:
        return
    work = {layer.key for layer in plan.stack.work}
    low = min(band.low for band in found if band.key in work)
    high = max(band.high for band in found if band.key in work)
    yield Stroke(
        curve=Line(start=(0.0, (low - 2.0) * unit), end=(0.0, (high + 2.0) * unit)), pen=CENTRE, part="trim"
    )


def _balloons(plan: Plan, view: View, found: tuple[Band, ...], left: Mm) -> tuple[Balloon, ...]:
    """Balloons of everything that is drawn, in one column at the left, from below upward."""
    unit, marks = 1.0 / view.scale.ratio, marks_of(plan)
    heights = [(band.middle, _mark(plan, band, marks)) for band in found]
    called = [(height, mark) for height, mark in heights if mark]
    if not plan.is_undercut:
        called.append((found[-1].high + STAND_OFF, FILM))
        if found[0].role != "form":
            called.insert(0, (-STAND_OFF, FILM))
    tips = [((left + TIP * unit, height * unit), mark) for height, mark in called]
    middle, half = 0.5 * (found[0].low + found[-1].high), 0.5 * PITCH * len(tips)

    def column(away: Mm) -> tuple[Balloon, ...]:
        x = left * view.scale.ratio - away
        return balloon_column(view, tips, x, middle - half, middle + half, radius=RADIUS)

    rise = (
        max(abs(balloon.points[0][1] - balloon.points[-1][1]) for balloon in column(COLUMN))
        * view.scale.ratio
    )
    return column(max(COLUMN, rise / STEEPEST - TIP))


def _mark(plan: Plan, band: Band, marks: dict[str, str]) -> str:
    """Number of a band; of the glue lines in the core only the lowest has one."""
    if band.key == "base":
        return base_mark(plan)
    # alike in all laminations
    is_repeated = (
        band.role == "adhesive" and band.key.removeprefix("glue-").isdigit() and band.key != "glue-1"
    )
    return "" if band.role == "gap" or is_repeated else marks[band.key]
