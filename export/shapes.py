"""A small vocabulary over the CAD kernel: spans of curves, plane faces, prisms and polyhedra.

A span is a stretch of a curve, walked from one parameter to another; a row of spans makes the edge of a face.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from ..model.errors import ExportError
from ..model.shape.profile import Floats
from ..model.units import Mm, Radian
from .kernel import Curve, Solid, kernel

Point = tuple[float, float, float]
Face = Any
"""A face of the kernel."""

OFFSET_TOLERANCE: Mm = 1e-7
"""How near the spline of an offset curve keeps to the true offset."""


@dataclass(frozen=True, slots=True, eq=False)
class Span:
    """A stretch of a curve from the parameter ``start`` to ``end``; backwards where ``end`` is the smaller."""

    curve: Curve
    start: float
    end: float

    @property
    def backwards(self) -> "Span":
        """Give the same stretch walked the other way."""
        return Span(self.curve, self.end, self.start)

    def moved(self, step: Point) -> "Span":
        """Give the same stretch in another place."""
        return Span(self.curve.Translated(kernel().gp.gp_Vec(*step)), self.start, self.end)

    def point(self, parameter: float) -> Point:
        """Point of the curve at a parameter."""
        point = self.curve.Value(parameter)
        return point.X(), point.Y(), point.Z()


def line_through(point: Point, direction: Point) -> Curve:
    """Endless straight line; its parameter is the length from the point."""
    k = kernel()
    return k.Geom.Geom_Line(k.gp.gp_Pnt(*point), k.gp.gp_Dir(*direction))


def circle(centre: Point, axis: Point, start: Point, radius: Mm) -> Curve:
    """Circle around an axis; its parameter is the angle from the direction ``start``."""
    k = kernel()
    frame = k.gp.gp_Ax2(k.gp.gp_Pnt(*centre), k.gp.gp_Dir(*axis), k.gp.gp_Dir(*start))
    return k.Geom.Geom_Circle(frame, radius)


def ellipse(centre: Point, start: Point, major: Mm, minor: Mm) -> Curve:
    """Level ellipse with its larger half axis along ``start``; its parameter is the eccentric angle."""
    k = kernel()
    frame = k.gp.gp_Ax2(k.gp.gp_Pnt(*centre), k.gp.gp_Dir(0.0, 0.0, 1.0), k.gp.gp_Dir(*start))
    return k.Geom.Geom_Ellipse(frame, major, minor)


def bspline(poles: Floats, knots: Floats, multiplicities: Sequence[int], degree: int) -> Curve:
    """Spline in space.

    Parameters
    ----------
    poles
        ``(n, 3)`` control points, mm.
    knots
        Its rising parameters, each once.
    multiplicities
        How often each counts.
    """
    k = kernel()
    points = k.TColgp.TColgp_Array1OfPnt(1, len(poles))
    for number, (x, y, z) in enumerate(poles.tolist(), 1):
        points.SetValue(number, k.gp.gp_Pnt(x, y, z))
    return k.Geom.Geom_BSplineCurve(points, numbers(knots.tolist()), counts(multiplicities), degree)


def numbers(row: Sequence[float]) -> Any:
    """Row of numbers as the kernel takes them."""
    array = kernel().TColStd.TColStd_Array1OfReal(1, len(row))
    for number, value in enumerate(row, 1):
        array.SetValue(number, value)
    return array


def counts(row: Sequence[int]) -> Any:
    """Row of whole numbers as the kernel takes them."""
    array = kernel().TColStd.TColStd_Array1OfInteger(1, len(row))
    for number, value in enumerate(row, 1):
        array.SetValue(number, value)
    return array


def offset(curve: Curve, distance: Mm, first: Radian, last: Radian) -> Curve:
    """Spline along the true offset of a level curve, outward where the curve runs anticlockwise.

    Raises
    ------
    ExportError
        No spline keeps within the tolerance.
    """
    k = kernel()
    true = k.Geom.Geom_OffsetCurve(
        k.Geom.Geom_TrimmedCurve(curve, first, last), distance, k.gp.gp_Dir(0.0, 0.0, 1.0)
    )
    found = k.GeomConvert.GeomConvert_ApproxCurve(true, OFFSET_TOLERANCE, k.GeomAbs.GeomAbs_C2, 100, 9)
    if not found.HasResult() or found.MaxError() > OFFSET_TOLERANCE:
        raise ExportError(
            f"no spline follows the edge of an ellipse at {distance:g} mm within {OFFSET_TOLERANCE:g} mm"
        )
    return found.Curve()


def segment(start: Point, end: Point) -> Span:
    """Straight span between two points."""
    step = np.subtract(end, start)
    length = float(np.sqrt(step @ step))
    return Span(line_through(start, tuple(step / length)), 0.0, length)


def backwards(row: Sequence[Span]) -> list[Span]:
    """Give a row of spans walked the other way."""
    return [span.backwards for span in reversed(row)]


def plane_face(spans: Sequence[Span], normal: Point, holes: Sequence[Sequence[Span]] = ()) -> Face:
    """Plane face inside a closed row of spans, facing along the normal; the rows of holes run the other way."""
    k = kernel()
    plane = k.gp.gp_Pln(k.gp.gp_Pnt(*spans[0].point(spans[0].start)), k.gp.gp_Dir(*normal))
    made = k.BRepBuilderAPI.BRepBuilderAPI_MakeFace(plane, _wire(spans), True)
    for hole in holes:
        made.Add(_wire(hole))
    return made.Face()


def _wire(spans: Sequence[Span]) -> Any:
    k = kernel()
    wire = k.BRepBuilderAPI.BRepBuilderAPI_MakeWire()
    for span in spans:
        low, high = min(span.start, span.end), max(span.start, span.end)
        edge = k.BRepBuilderAPI.BRepBuilderAPI_MakeEdge(span.curve, low, high).Edge()
        wire.Add(edge if span.start < span.end else k.TopoDS.TopoDS.Edge_s(edge.Reversed()))
    return wire.Wire()


def prism(face: Face, step: Point) -> Solid:
    """Solid that a face sweeps along a straight step."""
    k = kernel()
    return k.BRepPrimAPI.BRepPrimAPI_MakePrism(face, k.gp.gp_Vec(*step)).Shape()


def cylinder(base: Point, axis: Point, radius: Mm, height: Mm) -> Solid:
    """Upright round disc on the middle of its base."""
    k = kernel()
    frame = k.gp.gp_Ax2(k.gp.gp_Pnt(*base), k.gp.gp_Dir(*axis))
    return k.BRepPrimAPI.BRepPrimAPI_MakeCylinder(frame, radius, height).Shape()


Loops = tuple[Sequence[int], ...]
"""Edge of a plane face as corner numbers, anticlockwise from outside; holes after it, clockwise."""


def polyhedron(points: Floats, faces: Sequence[Loops]) -> Solid:
    """Solid with plane faces over shared corners.

    Parameters
    ----------
    points
        ``(n, 3)`` corners, mm.
    faces
        Loops of each face.
    """
    k = kernel()
    corners = [
        k.BRepBuilderAPI.BRepBuilderAPI_MakeVertex(k.gp.gp_Pnt(*map(float, point))).Vertex()
        for point in points
    ]
    edges: dict[tuple[int, int], Any] = {}

    def edge(start: int, end: int) -> Any:
        """Edge between two corners, made once for both of its faces."""
        if (end, start) in edges:
            return k.TopoDS.TopoDS.Edge_s(edges[end, start].Reversed())
        edges[start, end] = k.BRepBuilderAPI.BRepBuilderAPI_MakeEdge(corners[start], corners[end]).Edge()
        return edges[start, end]

    def wire(loop: Sequence[int]) -> Any:
        made = k.BRepBuilderAPI.BRepBuilderAPI_MakeWire()
        for start, end in zip(loop, (*loop[1:], loop[0]), strict=True):
            made.Add(edge(start, end))
        return made.Wire()

    builder, shell, solid = k.BRep.BRep_Builder(), k.TopoDS.TopoDS_Shell(), k.TopoDS.TopoDS_Solid()
    builder.MakeShell(shell)
    builder.MakeSolid(solid)
    for outer, *holes in faces:
        normal = _normal(points[list(outer)])
        plane = k.gp.gp_Pln(k.gp.gp_Pnt(*map(float, points[outer[0]])), k.gp.gp_Dir(*normal))
        face = k.BRepBuilderAPI.BRepBuilderAPI_MakeFace(plane, wire(outer), True)
        for hole in holes:
            face.Add(wire(hole))
        builder.Add(shell, face.Face())
    shell.Closed(True)
    builder.Add(solid, shell)
    return solid


def _normal(loop: Floats) -> Point:
    """Give the normal of a plane loop, of length 1, by Newell's sum; the loop runs anticlockwise as seen against it."""
    following = np.roll(loop, -1, axis=0)
    total = np.cross(loop - loop[0], following - loop[0]).sum(axis=0)
    x, y, z = total / np.sqrt(total @ total)
    return float(x), float(y), float(z)


def is_valid(solid: Solid) -> bool:
    """Whether the kernel finds no fault in a solid."""
    return bool(kernel().BRepCheck.BRepCheck_Analyzer(solid).IsValid())
