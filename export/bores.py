"""Holes straight through a board that stands along the length: their rims in both faces, and the faces between."""

from dataclasses import dataclass

import numpy as np

from ..model.shape.loop import Loop
from ..model.units import Mm
from .brep import (
    Edge,
    End,
    Walk,
    corner_at,
    drawn_on,
    edge_along,
    face_within,
    line_image,
    plane_through,
    straight_edge,
)
from .kernel import kernel
from .loop_spans import TOWARD, loop_spans
from .shapes import Face, Span


@dataclass(frozen=True, slots=True, eq=False)
class Bore:
    """A hole through a board: its rim in either plane, anticlockwise as seen from the near side, and its faces."""

    rims: tuple[list[Walk], list[Walk]]
    faces: tuple[Face, ...]


def bore(hole: Loop, planes: tuple[Mm, Mm]) -> Bore:
    """Hole between two planes across the width."""
    rows = [loop_spans(hole, "along", y) for y in planes]
    corners = [[_end_of(span) for span in row] for row in rows]
    count = len(rows[0])
    rims: list[list[Walk]] = []
    for row, ends in zip(rows, corners, strict=True):
        rims.append(
            [_walk(span, ends[number], ends[(number + 1) % count]) for number, span in enumerate(row)]
        )
    posts = [straight_edge(a, b) for a, b in zip(*corners, strict=True)]
    faces = []
    for number, span in enumerate(rows[0]):
        (one, is_forward), (other, _) = rims[0][number], rims[1][number]
        before, after = posts[number], posts[(number + 1) % count]
        loop: list[Walk] = [(one, is_forward), (after, True), (other, not is_forward), (before, False)]
        faces.append(_bored(span, (one, other, before, after), is_forward, planes[1] - planes[0], loop))
    return Bore((rims[0], rims[1]), tuple(faces))


def _end_of(span: Span) -> End:
    point = span.point(span.start)
    return End(np.array(point), corner_at(point))


def _walk(span: Span, first: End, last: End) -> Walk:
    if span.start < span.end:
        return edge_along(span, first.corner, last.corner), True
    return edge_along(span.backwards, last.corner, first.corner), False


def _bored(
    span: Span, edges: tuple[Edge, Edge, Edge, Edge], is_forward: bool, deep: Mm, loop: list[Walk]
) -> Face:
    """Face of a hole along one line or arc of its rim."""
    k = kernel()
    start, end = np.array(span.point(span.start)), np.array(span.point(span.end))
    if not isinstance(span.curve, k.Geom.Geom_Circle):
        return face_within(
            plane_through(start.tolist(), np.cross(end - start, -np.array(TOWARD)).tolist()), True, [loop]
        )
    ring = span.curve.Circ()
    along = 1.0 if ring.Axis().Direction().Y() > 0.0 else -1.0
    surface = k.Geom.Geom_CylindricalSurface(k.gp.gp_Ax3(ring.Position()), ring.Radius())
    one, other, before, after = edges
    drawn_on(one, line_image((0.0, 0.0), (1.0, 0.0)), surface)
    drawn_on(other, line_image((0.0, along * deep), (1.0, 0.0)), surface)
    drawn_on(before, line_image((span.start, 0.0), (0.0, along)), surface)
    drawn_on(after, line_image((span.end, 0.0), (0.0, along)), surface)
    # walked anticlockwise with its own circle a rim has the axis in the hole: there the kernel's normal is inside the wood
    return face_within(surface, (along < 0.0) != is_forward, [loop])
