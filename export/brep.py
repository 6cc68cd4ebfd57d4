"""Solids put together from corners, edges and faces that are made once and shared, on surfaces of any kind."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from ..model.shape.profile import Floats
from ..model.units import Mm
from .kernel import Curve, Solid, kernel
from .shapes import Face, Span, counts, numbers, segment

TOUCH: Mm = 1e-6
"""Tolerance of corners and edges: what curves and surfaces that are fitted leave between them."""

Corner = Any
"""A corner of the kernel."""
Edge = Any
"""An edge of the kernel."""
Surface = Any
"""A surface of the kernel."""
Image = Any
"""A curve in the parameters of a surface."""
Walk = tuple[Edge, bool]
"""An edge, and whether it is walked its own way."""


def corner_at(point: Sequence[float]) -> Corner:
    """Corner at a point."""
    k = kernel()
    corner = k.TopoDS.TopoDS_Vertex()
    k.BRep.BRep_Builder().MakeVertex(corner, k.gp.gp_Pnt(*point), TOUCH)
    return corner


def edge_along(span: Span, first: Corner, last: Corner) -> Edge:
    """Edge along a span between the corners at its two ends; the span runs with its curve."""
    k = kernel()
    builder, edge = k.BRep.BRep_Builder(), k.TopoDS.TopoDS_Edge()
    builder.MakeEdge(edge, span.curve, TOUCH)
    builder.Add(edge, first.Oriented(k.TopAbs.TopAbs_Orientation.TopAbs_FORWARD))
    builder.Add(edge, last.Oriented(k.TopAbs.TopAbs_Orientation.TopAbs_REVERSED))
    builder.Range(edge, span.start, span.end)
    return edge


def drawn_on(edge: Edge, image: Image, surface: Surface) -> None:
    """Tell where an edge runs in the parameters of a surface."""
    k = kernel()
    k.BRep.BRep_Builder().UpdateEdge(edge, image, surface, k.TopLoc.TopLoc_Location(), TOUCH)


def face_within(surface: Surface, is_outward: bool, loops: Sequence[Sequence[Walk]]) -> Face:
    """Face whose edge and holes run anticlockwise and clockwise as seen from outside the solid.

    Parameters
    ----------
    is_outward
        Whether the surface's own normal points outside.
    """
    k = kernel()
    builder, face = k.BRep.BRep_Builder(), k.TopoDS.TopoDS_Face()
    builder.MakeFace(face, surface, k.TopLoc.TopLoc_Location(), TOUCH)
    for loop in loops:
        wire = k.TopoDS.TopoDS_Wire()
        builder.MakeWire(wire)
        for edge, forward in loop if is_outward else turned_round(loop):
            builder.Add(wire, edge if forward else edge.Reversed())
        wire.Closed(True)
        builder.Add(face, wire)
    return face if is_outward else face.Reversed()


def turned_round(loop: Sequence[Walk]) -> list[Walk]:
    """Give the same loop walked the other way."""
    return [(edge, not forward) for edge, forward in reversed(loop)]


def solid_of(faces: Sequence[Face]) -> Solid:
    """Solid within faces that share their edges."""
    k = kernel()
    builder, shell, solid = k.BRep.BRep_Builder(), k.TopoDS.TopoDS_Shell(), k.TopoDS.TopoDS_Solid()
    builder.MakeShell(shell)
    builder.MakeSolid(solid)
    for face in faces:
        builder.Add(shell, face)
    shell.Closed(True)
    builder.Add(solid, shell)
    return solid


def plane_through(point: Sequence[float], normal: Sequence[float]) -> Surface:
    """Plane through a point."""
    k = kernel()
    return k.Geom.Geom_Plane(k.gp.gp_Pnt(*point), k.gp.gp_Dir(*normal))


def ruled_between(low: Curve, high: Curve, height: Mm) -> Surface:
    """Surface ruled between two splines with the same knots; its second parameter runs from 0 to the height."""
    k = kernel()
    poles = k.TColgp.TColgp_Array2OfPnt(1, low.NbPoles(), 1, 2)
    for number in range(1, low.NbPoles() + 1):
        poles.SetValue(number, 1, low.Pole(number))
        poles.SetValue(number, 2, high.Pole(number))
    rows = numbers((0.0, height)), low.Multiplicities(), counts((2, 2)), low.Degree(), 1
    return k.Geom.Geom_BSplineSurface(poles, low.Knots(), *rows)


def line_image(start: tuple[float, float], direction: tuple[float, float]) -> Image:
    """Straight image from a point on."""
    k = kernel()
    return k.Geom2d.Geom2d_Line(k.gp.gp_Pnt2d(*start), k.gp.gp_Dir2d(*direction))


def spline_image(poles: Floats, knots: Floats, multiplicities: Sequence[int], degree: int) -> Image:
    """Image along a spline with poles ``(n, 2)``."""
    k = kernel()
    points = k.TColgp.TColgp_Array1OfPnt2d(1, len(poles))
    for number, (u, v) in enumerate(np.asarray(poles).tolist(), 1):
        points.SetValue(number, k.gp.gp_Pnt2d(u, v))
    return k.Geom2d.Geom2d_BSplineCurve(points, numbers(knots.tolist()), counts(multiplicities), degree)


@dataclass(frozen=True, slots=True, eq=False)
class End:
    """A corner, and where it lies."""

    point: Floats
    corner: Corner


def straight_edge(a: End, b: End) -> Edge:
    """Straight edge between two corners."""
    return edge_along(segment(tuple(a.point.tolist()), tuple(b.point.tolist())), a.corner, b.corner)
