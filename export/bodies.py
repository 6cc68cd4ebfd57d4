"""The bodies of a plan as the kernel's solids: flat and bent layers, platen, form, film and valve."""

from collections.abc import Sequence
from itertools import pairwise
from math import pi

import numpy as np

from ..model.bag.drape import Drape, ValveDisc
from ..model.base import Base
from ..model.shape.outline import Outline, Oval, Rectangle
from ..model.shape.profile import Floats
from ..model.shape.sheet import Sheet
from ..model.stack import Stack
from ..model.units import Mm
from .interfaces import SHORTEST, Interface, Reach, interfaces, spans
from .kernel import Solid
from .loop_spans import TOWARD, UP, loop_spans
from .shapes import (
    Point,
    Span,
    backwards,
    cylinder,
    ellipse,
    offset,
    plane_face,
    prism,
    segment,
)
from .wrapped import wrapped_bodies


def flat_bodies(stack: Stack, lift: Mm) -> list[Solid]:
    """Bodies of flat layers from below: outlines, extruded; ``lift`` turns heights of the sheet into z."""
    zero = lift - stack.sheet.reference
    return [plate(layer.outline, zero + layer.height, zero + layer.top) for layer in stack.layers]


def bent_bodies(stack: Stack, lift: Mm, reach: Reach) -> list[Solid]:
    """Bodies of bent layers from below: rectangles as sections along the sheet, extruded across; all others wrapped."""
    heights = {height for layer in stack.layers for height in (layer.height, layer.top)}
    curves = interfaces(stack.sheet, sorted(heights), lift, reach)
    others = [layer for layer in stack.layers if not isinstance(layer.outline, Rectangle)]
    found = wrapped_bodies(others, stack.sheet, curves, lift, reach)
    for layer in stack.layers:
        if layer.key not in found:
            section = between(curves[layer.height], curves[layer.top], 0.5 * layer.outline.length)
            found[layer.key] = across(section, layer.outline.width)
    return [found[layer.key] for layer in stack.layers]


def plate(outline: Outline, low: Mm, high: Mm) -> Solid:
    """Body of an outline between two levels."""
    edge = _oval(outline, low) if isinstance(outline, Oval) else loop_spans(outline.loops[0], "level", low)
    holes = [backwards(loop_spans(hole, "level", low)) for hole in outline.loops[1:]]
    return prism(plane_face(edge, UP, holes), (0.0, 0.0, high - low))


def form(base: Base, sheet: Sheet, reach: Reach) -> Solid:
    """Body of a form: its section, with the face as the curve that the lowest layer has, extruded across."""
    corners, face = base.section, base.face
    first = int(np.flatnonzero((corners == face[0]).all(axis=1))[0])
    curves = interfaces(sheet, (0.0,), base.lift, reach)
    curve = spans(curves[0.0], 0.5 * base.outline.length)
    below = [_upright(corner) for corner in (*corners[first + len(face) :], *corners[:first])]
    walk = [curve[-1].point(curve[-1].end), *below, curve[0].point(curve[0].start)]
    return across([*backwards(curve), *straight(walk[::-1])], base.outline.width)


def lower_film(film: Drape) -> Solid:
    """Body of the lower film, lying flat."""
    (x0, y0), (x1, y1) = film.low.tolist(), film.high.tolist()
    z = -film.thickness
    corners = [(x0, y0, z), (x1, y0, z), (x1, y1, z), (x0, y1, z), (x0, y0, z)]
    return prism(plane_face(straight(corners), UP), (0.0, 0.0, film.thickness))


def valve(disc: ValveDisc) -> Solid:
    """Body of the disc that stands for the valve."""
    (x, y, z), (u, v, w) = disc.base.tolist(), disc.axis.tolist()
    return cylinder((x, y, z), (u, v, w), disc.radius, disc.height)


def across(section: Sequence[Span], width: Mm) -> Solid:
    """Body of a section in the plane y = 0, swept over a width to both sides."""
    start = [span.moved((0.0, -0.5 * width, 0.0)) for span in section]
    return prism(plane_face(start, TOWARD), (0.0, width, 0.0))


def between(low: Interface, high: Interface, half: Mm) -> list[Span]:
    """Section of a bent layer: along its lower side, up its end, back along its upper side, down."""
    lower, upper = spans(low, half), spans(high, half)
    right = segment(lower[-1].point(lower[-1].end), upper[-1].point(upper[-1].end))
    left = segment(upper[0].point(upper[0].start), lower[0].point(lower[0].start))
    return [*lower, right, *backwards(upper), left]


def straight(corners: Sequence[Point]) -> list[Span]:
    """Straight spans from corner to corner; equal corners count once."""
    steps = [(a, b) for a, b in pairwise(corners) if np.abs(np.subtract(a, b)).max() > SHORTEST]
    return [segment(a, b) for a, b in steps]


def _upright(corner: Floats) -> Point:
    """Point of the section plane."""
    return float(corner[0]), 0.0, float(corner[1])


def _quads(left: Sequence[int], right: Sequence[int]) -> list[list[int]]:
    """Faces between two rows of corners, as in the film's mesh."""
    return [[a, b, c, d] for (a, b), (d, c) in zip(pairwise(left), pairwise(right), strict=True)]


def _oval(outline: Oval, z: Mm) -> list[Span]:
    """Edge of an ellipse, or the spline along its true offset."""
    a, b = 0.5 * outline.axis_length, 0.5 * outline.axis_width
    start = (1.0, 0.0, 0.0) if a >= b else (0.0, 1.0, 0.0)
    curve = ellipse((0.0, 0.0, z), start, max(a, b), min(a, b))
    if outline.margin == 0.0:
        return [Span(curve, 0.0, 2.0 * pi)]
    halves = [(offset(curve, outline.margin, first, first + pi), first) for first in (0.0, pi)]
    return [Span(half, first, first + pi) for half, first in halves]
