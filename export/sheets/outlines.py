"""Outlines as curves: flat, and as a bent sheet shows them from above."""

import math
from collections.abc import Iterator

import numpy as np

from ...model.form.taper_form import Carcase
from ...model.shape.loop import Loop
from ...model.shape.outline import Outline, Oval, Rectangle
from ...model.shape.sheet import Sheet
from ...model.shape.tapered_outline import TaperedOutline
from ...model.shape.unrolled import followed
from ...model.units import Mm
from ..drawing.curves import Arc, Curve, Line, Point, Polyline
from .loop_curves import closed_edges

CHORD: Mm = 0.002
"""Chordal tolerance at which edges are drawn in parts."""


def flat(outline: Outline, middle: Point = (0.0, 0.0)) -> tuple[Curve, ...]:
    """Edge of a flat sheet around a middle point, and of the holes in it."""
    x, y = middle
    if isinstance(outline, Oval):
        t, half = outline.edge(np.linspace(0.0, 2.0 * math.pi, 721))
        points = [(x + float(p), y + float(q)) for p, q in zip(t, half, strict=True)]
        return (Polyline(points=(*points[:-1], points[0])),)
    return tuple(edge for loop in outline.loops for edge in closed_edges(loop.moved(x, y)))


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


def tapered_above(outline: TaperedOutline, height: Mm) -> tuple[Polyline, ...]:
    """Edge of a layer of a taper as it lies on its bend, seen from above; what leans in under itself is not seen."""
    sheet, (first, last) = outline.sheet, outline.ends
    u = np.linspace(first, last, 721)
    rows = [sheet.place(u, w, height)[:, :2] for w in outline.bounds(u)]
    near, far = (row[int(row[:, 0].argmin()) : int(row[:, 0].argmax()) + 1] for row in rows)
    return _joined(tuple((x, y) for x, y in np.concatenate((near, far[::-1])).tolist()))


def form_above(form: Carcase) -> Polyline:
    """Edge of the form of a taper, seen from above: between the planes where it ends."""
    rows = []
    for side in (-1.0, 1.0):
        y = side * 0.5 * form.width
        x = form.edge(y)[:, 0]
        rows += [(float(x.min()), y), (float(x.max()), y)]
    return _joined((rows[0], rows[1], rows[3], rows[2]))[0]


def reach(curves: tuple[Curve, ...]) -> tuple[Point, Point]:
    """Lower left and upper right corner of lines, polylines and arcs."""
    points: list[Point] = []
    for curve in curves:
        match curve:
            case Line():
                points += (curve.start, curve.end)
            case Polyline():
                points += curve.points
            case Arc():
                points += (curve.at(angle) for angle in (curve.start, curve.end, *_level(curve)))
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return (min(xs), min(ys)), (max(xs), max(ys))


def _level(arc: Arc) -> Iterator[float]:
    """Angles at which an arc runs level or upright."""
    low, high = sorted((arc.start, arc.end))
    quarter = 0.5 * math.pi
    return (number * quarter for number in range(math.ceil(low / quarter), math.floor(high / quarter) + 1))


def _joined(corners: tuple[Point, ...]) -> tuple[Polyline, ...]:
    return (Polyline(points=(*corners, corners[0])),)
