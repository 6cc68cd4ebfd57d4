"""Outlines as curves: flat as they are cut, and as a bent sheet shows them from above."""

import math

import numpy as np

from ...model.shape.loop import Loop
from ...model.shape.outline import Outline, Oval, Rectangle, RoundedRectangle
from ...model.shape.sheet import Sheet
from ...model.shape.unrolled import followed
from ...model.shape.unrolled import unrolled as unrolled_edge
from ...model.units import Mm
from ..drawing.curves import Arc, Curve, Line, Point, Polyline

CHORD: Mm = 0.002
"""Chordal tolerance at which edges are drawn in parts."""


def flat(outline: Outline, middle: Point = (0.0, 0.0)) -> tuple[Curve, ...]:
    """Edge of a flat sheet around a middle point."""
    x, y = middle
    a, b = 0.5 * outline.length, 0.5 * outline.width
    match outline:
        case RoundedRectangle(corner=r):
            return _rounded(x, y, a, b, r)
        case Oval():
            t, half = outline.edge(np.linspace(0.0, 2.0 * math.pi, 721))
            points = [(x + float(p), y + float(q)) for p, q in zip(t, half, strict=True)]
            return (Polyline(points=(*points[:-1], points[0])),)
    return _joined(((x - a, y - b), (x + a, y - b), (x + a, y + b), (x - a, y + b)))


def unrolled(outline: Outline, sheet: Sheet, height: Mm) -> tuple[Curve, ...]:
    """Edge of the blank of a sheet at a height, laid flat."""
    if sheet.profile.is_flat:
        return flat(outline)
    if isinstance(outline, Rectangle):
        half = 0.5 * outline.length
        x = sheet.developed(height, np.array([-half, half])).tolist()
        b = 0.5 * outline.width
        return _joined(((x[0], -b), (x[1], -b), (x[1], b), (x[0], b)))
    return tuple(
        Polyline(points=tuple((x, y) for x, y, _ in (*edge.corners, edge.corners[0])))
        for edge in (unrolled_edge(loop, sheet, height) for loop in outline.loops)
    )


def from_above(outline: Outline, sheet: Sheet, height: Mm) -> tuple[Curve, ...]:
    """Edge of a sheet as it lies on its bend, seen from above."""
    if sheet.profile.is_flat:
        return flat(outline)
    if isinstance(outline, Rectangle):
        half = 0.5 * outline.length
        t = np.linspace(-half, half, 721)
        x = sheet.place(t, np.zeros_like(t), height)[:, 0]
        low, high, b = float(x.min()), float(x.max()), 0.5 * outline.width
        return _joined(((low, -b), (high, -b), (high, b), (low, b)))
    return tuple(_from_above(loop, sheet, height) for loop in outline.loops)


def _from_above(loop: Loop, sheet: Sheet, height: Mm) -> Polyline:
    t, w = followed(loop, sheet, height).T
    points = list(zip(sheet.place(t, w, height)[:, 0].tolist(), w.tolist(), strict=True))
    return Polyline(points=(*points, points[0]))


def reach(curves: tuple[Curve, ...]) -> tuple[Point, Point]:
    """Lower left and upper right corner of lines, polylines and arcs of rounded corners."""
    points: list[Point] = []
    for curve in curves:
        match curve:
            case Line():
                points += (curve.start, curve.end)
            case Polyline():
                points += curve.points
            case Arc():
                points += (curve.at(curve.start), curve.at(curve.end))
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return (min(xs), min(ys)), (max(xs), max(ys))


def _joined(corners: tuple[Point, ...]) -> tuple[Curve, ...]:
    return (Polyline(points=(*corners, corners[0])),)


def _rounded(x: Mm, y: Mm, a: Mm, b: Mm, r: Mm) -> tuple[Curve, ...]:
    quarter = 0.5 * math.pi
    corners = ((x + a - r, y - b + r), (x + a - r, y + b - r), (x - a + r, y + b - r), (x - a + r, y - b + r))
    arcs = [
        Arc(centre=corner, radius=r, start=(number - 1) * quarter, sweep=quarter)
        for number, corner in enumerate(corners)
    ]
    curves: list[Curve] = []
    for number, arc in enumerate(arcs):
        after = arcs[(number + 1) % 4]
        curves.append(arc)
        start, end = arc.at(arc.end), after.at(after.start)
        if math.dist(start, end) > 1e-9:
            curves.append(Line(start=start, end=end))
    return tuple(curves)
