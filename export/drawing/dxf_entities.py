"""Items of a drawing as entities of a DXF file."""

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from ...model.units import Mm, Ratio
from .curves import Arc, Circle, Curve, Line, Point, Polyline, Spline, polar
from .dimension import lay_out
from .explode import exploded
from .lettering import CONDENSED, Face, shown
from .patterns import Family, pattern_of
from .pens import HATCHING
from .primitives import (
    Align,
    ArcDimension,
    Balloon,
    Hatch,
    Item,
    Leader,
    Level,
    LinearDimension,
    Plain,
    RadiusDimension,
    Stroke,
    Text,
)
from .sheet import placed

USER_PLACED = 128
"""Flag of a dimension whose text was placed on purpose."""

OWN_BLOCK = 32
"""Flag of a dimension whose picture belongs to it alone."""

ROTATED, RADIUS, ARC_LENGTH = 0, 4, 5
"""Kinds of dimensions."""

LEVELS = {Level.BASELINE: "", Level.MIDDLE: "MIDDLE_", Level.TOP: "TOP_"}
ALIGNS = {Align.LEFT: "LEFT", Align.CENTRE: "CENTER", Align.RIGHT: "RIGHT"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Pencil:
    """Draws items into one space of a DXF document.

    Parameters
    ----------
    space
        Model space, a layout or a block.
    ratio
        Millimetres on paper for one of the space.
    style
        Name of the dimension style.
    application
        Name under which the name of a part is kept.
    """

    doc: Any
    space: Any
    ratio: Ratio
    style: str
    application: str

    def draw(self, item: Item) -> None:
        """Draw an item that is given in mm of the space."""
        match item:
            case LinearDimension() | RadiusDimension() | ArcDimension():
                self._dimension(item)
            case Leader() | Balloon():
                for plain in self._parts(item):
                    self._plain(plain, "CALLOUTS")
            case _:
                self._plain(item, "")

    def _parts(self, item: Item) -> Iterable[Plain]:
        """Strokes, areas and text of an item, computed on paper and brought back to the space."""
        for plain in exploded(placed(item, self.ratio, (0.0, 0.0))):
            back = placed(plain, 1.0 / self.ratio, (0.0, 0.0))
            if isinstance(back, Stroke | Hatch | Text):
                yield back

    def _plain(self, plain: Plain, layer: str) -> None:
        match plain:
            case Stroke():
                entity = self._curve(plain.curve, layer or plain.pen.name.upper())
                self._name(entity, plain.part)
            case Hatch():
                self._hatch(plain, layer or "HATCH")
            case Text():
                self._text(plain, layer or "TEXT")

    def _name(self, entity: Any, part: str) -> None:
        if part:
            entity.set_xdata(self.application, [(1000, shown(part))])

    def _curve(self, curve: Curve, layer: str) -> Any:
        look = {"layer": layer}
        match curve:
            case Line():
                return self.space.add_line(curve.start, curve.end, dxfattribs=look)
            case Polyline():
                closed = curve.is_closed
                points = curve.points[: -1 if closed else None]
                return self.space.add_lwpolyline(points, close=closed, dxfattribs=look)
            case Circle():
                return self.space.add_circle(curve.centre, curve.radius, dxfattribs=look)
            case Arc():
                start, end = sorted((curve.start, curve.end))
                return self.space.add_arc(
                    curve.centre, curve.radius, math.degrees(start), math.degrees(end), dxfattribs=look
                )
            case Spline():
                entity = self.space.add_open_spline(curve.poles, degree=curve.degree, dxfattribs=look)
                entity.knots = curve.knots
                return entity

    def _text(self, text: Text, layer: str) -> None:
        from ezdxf.enums import TextEntityAlignment

        letters = shown(text.text)
        if not letters:
            return
        look = {
            "layer": layer,
            "height": text.height / self.ratio,
            "rotation": math.degrees(text.turn),
            "style": "LETTERING_BOLD" if text.face is Face.BOLD else "LETTERING",
            "width": CONDENSED,
        }
        entity = self.space.add_text(_plain_letters(letters), dxfattribs=look)
        align = TextEntityAlignment[LEVELS[text.level] + ALIGNS[text.align]]
        entity.set_placement(text.position, align=align)

    def _hatch(self, hatch: Hatch, layer: str) -> None:
        pattern = pattern_of(hatch)
        triangle = _triangle(hatch)
        if pattern.is_solid and triangle:
            self.space.add_solid(triangle, dxfattribs={"layer": layer})
            return
        entity = self.space.add_hatch(color=256, dxfattribs={"layer": layer, "hatch_style": 0})
        if pattern.is_solid:
            entity.set_solid_fill(color=256, style=0)
        else:
            lines = [_definition(family, hatch, self.ratio) for family in pattern.families]
            name = pattern.name.replace(" ", "_").upper()
            entity.set_pattern_fill(name, color=256, style=0, pattern_type=2, definition=lines)
            entity.dxf.lineweight = round(100 * HATCHING.width)
        for number, loop in enumerate(hatch.loops):
            _add_loop(entity.paths, loop, 1 if number == 0 else 0)
        self._name(entity, hatch.part)

    def _dimension(self, item: LinearDimension | RadiusDimension | ArcDimension) -> None:
        parts = list(self._parts(item))
        block = self.doc.blocks.new_anonymous_block(type_char="D")
        inner = Pencil(doc=self.doc, space=block, ratio=self.ratio, style="", application=self.application)
        for part in parts:
            inner._plain(part, "DIMENSIONS")
        text = next(part for part in parts if isinstance(part, Text))
        up = polar((0.0, 0.0), text.height / self.ratio / 2.0, text.turn + math.pi / 2.0)
        common = {
            "layer": "DIMENSIONS",
            "dimstyle": self.style,
            "geometry": block.name,
            "attachment_point": 5,
            "text_midpoint": (text.position[0] + up[0], text.position[1] + up[1]),
        }
        kind, attributes, measured = self._measure(item)
        common |= {"text": _override(item.text, measured), "actual_measurement": measured, **attributes}
        name = "ARC_DIMENSION" if kind == ARC_LENGTH else "DIMENSION"
        # The kind first: it decides which other attributes the entity knows.
        entity = self.space.new_entity(name, dxfattribs={"dimtype": kind | OWN_BLOCK | USER_PLACED})
        entity.update_dxf_attribs(common)

    def _measure(
        self, item: LinearDimension | RadiusDimension | ArcDimension
    ) -> tuple[int, dict[str, Any], Mm]:
        match item:
            case LinearDimension():
                layout = lay_out(_on_paper(item, self.ratio))
                x, y = layout.at(layout.span)
                feet = [(foot[0] / self.ratio, foot[1] / self.ratio) for foot in layout.feet]
                attributes: dict[str, Any] = {
                    "defpoint": (x / self.ratio, y / self.ratio),
                    "defpoint2": feet[0],
                    "defpoint3": feet[1],
                    "angle": math.degrees(layout.angle),
                }
                return ROTATED, attributes, item.measured
            case RadiusDimension():
                tip = polar(item.centre, item.radius, item.angle)
                return RADIUS, {"defpoint": item.centre, "defpoint4": tip}, item.radius
            case ArcDimension():
                ends = sorted((item.start, item.start + item.sweep))
                attributes = {
                    "defpoint": polar(item.centre, item.line_radius, item.start + item.sweep / 2.0),
                    "defpoint2": polar(item.centre, item.radius, ends[0]),
                    "defpoint3": polar(item.centre, item.radius, ends[1]),
                    "defpoint4": item.centre,
                    "start_angle": ends[0],
                    "end_angle": ends[1],
                    "is_partial": 0,
                    "has_leader": 0,
                }
                return ARC_LENGTH, attributes, item.measured


def _on_paper(item: LinearDimension, ratio: Ratio) -> LinearDimension:
    moved = placed(item, ratio, (0.0, 0.0))
    assert isinstance(moved, LinearDimension)
    return moved


def _override(text: str, measured: Mm) -> str:
    """Text of a dimension with ``<>`` for the measured number, so that it follows when the geometry is edited."""
    number = f"{measured:.1f}".removesuffix(".0")
    letters = shown(text).replace("\\", "/").replace("{", "(").replace("}", ")")
    return re.sub(rf"(?<![\d./]){re.escape(number)}(?![\d./])", "<>", letters, count=1)


def _plain_letters(letters: str) -> str:
    """Text without the letters that begin a control code in a DXF text."""
    return letters.replace("%%", "% %").replace("^", "^ ")


def _triangle(hatch: Hatch) -> list[Point] | None:
    """Corners of an area that is a plain triangle, as an arrow is."""
    edge = hatch.boundary[0]
    if len(hatch.boundary) == 1 and not hatch.holes and isinstance(edge, Polyline) and len(edge.points) == 4:
        return list(edge.points[:3])
    return None


def _definition(family: Family, hatch: Hatch, ratio: Ratio) -> list[Any]:
    """One family of a pattern in the size of the space, as a DXF pattern line."""
    size, angle = hatch.spread / ratio, family.angle + hatch.turn

    def turned(x: float, y: float) -> Point:
        c, s = math.cos(angle), math.sin(angle)
        return size * (c * x - s * y), size * (s * x + c * y)

    base = turned(*family.base)
    signed = [length * size if i % 2 == 0 else -length * size for i, length in enumerate(family.dashes)]
    origin = hatch.origin[0] + base[0], hatch.origin[1] + base[1]
    return [math.degrees(angle), origin, turned(family.shift, family.spacing), signed]


def _add_loop(paths: Any, loop: tuple[Curve, ...], flags: int) -> None:
    """Add a boundary as a polyline with bulges, or edge by edge where it has a spline."""
    if not any(isinstance(curve, Spline) for curve in loop):
        paths.add_polyline_path([vertex for curve in loop for vertex in _vertices(curve)], flags=flags)
        return
    path = paths.add_edge_path(flags=flags)
    for curve in loop:
        match curve:
            case Line():
                path.add_line(curve.start, curve.end)
            case Polyline():
                for start, end in pairwise(curve.points):
                    path.add_line(start, end)
            case Arc():
                low, high = sorted((curve.start, curve.end))
                path.add_arc(
                    curve.centre, curve.radius, math.degrees(low), math.degrees(high), ccw=curve.sweep > 0
                )
            case Spline():
                path.add_spline(control_points=curve.poles, knot_values=curve.knots, degree=curve.degree)


def _vertices(curve: Curve) -> list[tuple[float, float, float]]:
    """Vertices of a curve with their bulges; without the last, which is the next curve's first."""
    match curve:
        case Line():
            return [(*curve.start, 0.0)]
        case Polyline():
            return [(*point, 0.0) for point in curve.points[:-1]]
        case Circle():
            (x, y), r = curve.centre, curve.radius
            return [(x + r, y, 1.0), (x - r, y, 1.0)]
        case Arc():
            # Halves, since a bulge cannot say a full turn.
            bulge = math.tan(curve.sweep / 8.0)
            return [(*curve.at(curve.start), bulge), (*curve.at(curve.start + curve.sweep / 2.0), bulge)]
        case Spline():
            return []
