"""The lines of a DXF drawing in mm: lines, polylines, arcs, circles, ellipses and splines of the model space.

The header says how long a unit is (``$INSUNITS``); a drawing without it does not know.

Source: the DXF reference for group codes and units, as ezdxf reads them (from memory).
"""

import io
import math
from collections.abc import Iterator
from itertools import pairwise
from typing import Any

from ...model.errors import ShapeError
from ...model.shape.drawn import Drawn, DrawnArc, DrawnBezier, DrawnLine, Spot
from ...model.units import Mm

UNITS: dict[int, Mm] = {1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0, 10: 914.4, 14: 100.0}
"""Length of a unit by its number in the header: inch, foot, mm, cm, m, yard, dm."""
CURVES = ("LINE", "LWPOLYLINE", "POLYLINE", "ARC", "CIRCLE", "ELLIPSE", "SPLINE")
PARTS = 16
"""Bézier curves between two knots of a spline that is none of them itself: its length comes out to better than 1e-4."""


def dxf_segments(data: bytes, unit: Mm | None) -> tuple[list[Drawn], bool]:
    """Segments of a drawing in mm, and whether the drawing itself says how long its unit is.

    Parameters
    ----------
    unit
        Length of its unit where the drawing does not say it; None where nobody does, and then it is taken as 1 mm.

    Raises
    ------
    ShapeError
        It is no DXF drawing, or holds what is no curve.
    """
    # ezdxf is slow to import and only such a file needs it
    from ezdxf.filemanagement import read
    from ezdxf.lldxf.const import DXFError

    try:
        document = read(io.StringIO(data.decode("utf-8", errors="replace").replace("\r\n", "\n")))
    except (DXFError, ValueError, KeyError, IndexError, TypeError, AttributeError) as error:
        raise ShapeError(f"it is no DXF that can be read ({type(error).__name__})") from None
    own = UNITS.get(int(document.header.get("$INSUNITS", 0)))
    size = own or unit or 1.0
    found = [segment for entity in document.modelspace() for segment in _segments(entity, size)]
    return found, own is not None


def _segments(entity: Any, size: Mm) -> Iterator[Drawn]:
    """Segments of one entity; texts, dimensions and points draw none."""
    kind = entity.dxftype()
    if kind in ("INSERT", "HATCH"):
        raise ShapeError(f"it holds a {kind}, which is no line of its own; take it out, or explode it")
    if kind not in CURVES:
        return
    if abs(entity.dxf.get("extrusion", (0.0, 0.0, 1.0))[2] - 1.0) > 1e-9:
        raise ShapeError(f"a {kind} of it does not lie in the plane of the drawing; flatten it")
    if kind in ("LWPOLYLINE", "POLYLINE"):
        for one in entity.virtual_entities():
            yield from _segments(one, size)
    elif kind == "LINE":
        yield DrawnLine(_spot(entity.dxf.start, size), _spot(entity.dxf.end, size))
    elif kind in ("ARC", "CIRCLE"):
        angles = (entity.dxf.start_angle, entity.dxf.end_angle) if kind == "ARC" else (0.0, 360.0)
        first, last = (math.radians(angle) for angle in angles)
        radius = entity.dxf.radius * size
        yield DrawnArc(
            centre=_spot(entity.dxf.center, size),
            one=(radius, 0.0),
            other=(0.0, radius),
            first=first,
            sweep=(last - first) % (2.0 * math.pi) or 2.0 * math.pi,
        )
    elif kind == "ELLIPSE":
        x, y = entity.dxf.major_axis[0] * size, entity.dxf.major_axis[1] * size
        ratio, first = entity.dxf.ratio, entity.dxf.start_param
        yield DrawnArc(
            centre=_spot(entity.dxf.center, size),
            one=(x, y),
            other=(-y * ratio, x * ratio),
            first=first,
            sweep=(entity.dxf.end_param - first) % (2.0 * math.pi) or 2.0 * math.pi,
        )
    else:
        yield from _spline(entity, size)


def _spline(entity: Any, size: Mm) -> Iterator[Drawn]:
    curve = entity.construction_tool()
    if curve.degree == 3 and not curve.is_rational:
        pieces = curve.bezier_decomposition()
    else:
        pieces = _cubics(curve)
    for piece in pieces:
        a, b, c, d = (_spot(pole, size) for pole in piece)
        yield DrawnBezier((a, b, c, d))


def _cubics(curve: Any) -> Iterator[tuple[Any, Any, Any, Any]]:
    """Cubic Bézier curves with the points and directions of a spline of another kind, close to each other."""
    knots = sorted(set(curve.knots()))
    for low, high in pairwise(knots):
        step = (high - low) / PARTS
        ends = list(curve.derivatives([low + step * number for number in range(PARTS + 1)], 1))
        for (start, leaving), (end, coming) in pairwise(ends):
            yield start, start + leaving * (step / 3.0), end - coming * (step / 3.0), end


def _spot(point: Any, size: Mm) -> Spot:
    return float(point[0]) * size, float(point[1]) * size
