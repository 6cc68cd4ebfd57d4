"""Dimensions taken apart into strokes, arrows and text; the same for all three formats.

Everything here is in mm on paper. Text stands above its dimension line and is read from below or from the right.

Source: ISO 129-1 (extension lines beyond the dimension line, text above it, arrows outside where space is short: from
memory).
"""

import math
from collections.abc import Callable
from dataclasses import dataclass

from ...model.units import Mm, Radian
from .curves import Arc, Line, Point, Polyline, polar
from .lettering import DEPTH, text_width
from .pens import DIMENSION
from .primitives import (
    Align,
    ArcDimension,
    Hatch,
    LinearDimension,
    Plain,
    RadiusDimension,
    Reach,
    Stroke,
    Text,
)

ARROW: Mm = 3.0
"""Length of an arrow; it is a third of that wide."""
TAIL: Mm = 2.0 * ARROW
"""How far the dimension line reaches out where the arrows stand outside."""
OVERSHOOT: Mm = 2.0
"""How far an extension line reaches beyond the dimension line: eight times its width."""
GAP: Mm = 1.0
"""Free space between the outline and an extension line, and beside a text."""


def lift(height: Mm) -> Mm:
    """Distance of a text's line from the dimension line below it; its deepest letter clears an arrow."""
    return DEPTH * height + ARROW / 6.0


def readable(angle: Radian) -> Radian:
    """Direction or its reverse, whichever is read from below or from the right: above -90°, up to 90°."""
    turned = math.remainder(angle, math.pi)
    return turned + math.pi if turned <= -math.pi / 2.0 + 1e-9 else turned


def arrow(tip: Point, towards: Radian) -> Hatch:
    """Arrow, filled, with its tip at a point, pointing in a direction."""
    back = polar(tip, -ARROW, towards)
    corners = (
        tip,
        polar(back, ARROW / 6.0, towards + math.pi / 2.0),
        polar(back, -ARROW / 6.0, towards + math.pi / 2.0),
    )
    return Hatch(boundary=(Polyline(points=(*corners, tip)),), pattern="solid")


def _line(start: Point, end: Point) -> Stroke:
    return Stroke(curve=Line(start=start, end=end), pen=DIMENSION)


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """Where everything of a linear dimension lies, along its line in reading direction from the left foot.

    Parameters
    ----------
    feet
        The two points measured, left first.
    left
        Left end of the measured distance on the dimension line, on paper.
    angle
        Reading direction.
    span
        Measured distance.
    is_tight
        Whether the arrows stand outside.
    low, high
        Ends of the dimension line.
    text
        Middle of the text.
    text_width
        Width of the text.
    """

    feet: tuple[Point, Point]
    left: Point
    angle: Radian
    span: Mm
    is_tight: bool
    low: Mm
    high: Mm
    text: Mm
    text_width: Mm

    def at(self, along: Mm, across: Mm = 0.0) -> Point:
        """Point on paper, along the dimension line and above it."""
        return polar(polar(self.left, along, self.angle), across, self.angle + math.pi / 2.0)


def lay_out(dimension: LinearDimension) -> Layout:
    """Layout of a linear dimension on paper."""
    angle = readable(dimension.angle)
    along, across = _axes(angle)
    feet = sorted((dimension.start, dimension.end), key=along)
    level = across(dimension.through)
    left = polar(polar((0.0, 0.0), along(feet[0]), angle), level, angle + math.pi / 2.0)
    span = along(feet[1]) - along(feet[0])
    width = text_width(dimension.text, dimension.height)
    tight = span < 2.0 * ARROW + 1.0
    if dimension.shift is not None:
        text = span / 2.0 + dimension.shift
    else:
        text = span / 2.0 if width + 2.0 * GAP <= span else span + 1.5 * GAP + width / 2.0
    inside = 0.0 <= text - width / 2.0 and text + width / 2.0 <= span
    low, high = (-TAIL, span + TAIL) if tight else (0.0, span)
    if not inside:
        low, high = min(low, text - width / 2.0), max(high, text + width / 2.0)
    return Layout(
        feet=(feet[0], feet[1]),
        left=left,
        angle=angle,
        span=span,
        is_tight=tight,
        low=low,
        high=high,
        text=text,
        text_width=width,
    )


def _axes(angle: Radian) -> tuple[Callable[[Point], Mm], Callable[[Point], Mm]]:
    c, s = math.cos(angle), math.sin(angle)
    return (lambda point: c * point[0] + s * point[1]), (lambda point: -s * point[0] + c * point[1])


def linear(dimension: LinearDimension) -> tuple[Plain, ...]:
    """Strokes, arrows and text of a linear dimension."""
    layout = lay_out(dimension)
    ends = layout.at(0.0), layout.at(layout.span)
    outward = (layout.angle + math.pi, layout.angle)
    items: list[Plain] = [_line(layout.at(layout.low), layout.at(layout.high))]
    for foot, end, direction in zip(layout.feet, ends, outward, strict=True):
        items.append(arrow(end, direction + math.pi if layout.is_tight else direction))
        items += _extension(foot, end)
    return (
        *items,
        dimension_text(
            dimension.text, layout.at(layout.text, lift(dimension.height)), dimension.height, layout.angle
        ),
    )


def _extension(foot: Point, end: Point) -> list[Plain]:
    length = math.dist(foot, end)
    if length <= GAP:
        return []
    direction = math.atan2(end[1] - foot[1], end[0] - foot[0])
    return [_line(polar(foot, GAP, direction), polar(end, OVERSHOOT, direction))]


def dimension_text(text: str, middle: Point, height: Mm, angle: Radian) -> Text:
    """Text of a dimension, its baseline's middle at a point."""
    return Text(text=text, position=middle, height=height, align=Align.CENTRE, turn=angle)


def radial(dimension: RadiusDimension) -> tuple[Plain, ...]:
    """Strokes, arrow and text of a radius."""
    tip = polar(dimension.centre, dimension.radius, dimension.angle)
    if dimension.elbow is not None:
        return _with_elbow(dimension, tip, dimension.elbow)
    away = dimension.angle if dimension.reach is Reach.OUTSIDE else dimension.angle + math.pi
    width = text_width(dimension.text, dimension.height)
    length = ARROW + 2.0 * GAP + width
    middle = polar(tip, ARROW + GAP + width / 2.0, away)
    angle = readable(away)
    raised = polar(middle, lift(dimension.height), angle + math.pi / 2.0)
    return (
        _line(tip, polar(tip, length, away)),
        arrow(tip, away + math.pi),
        dimension_text(dimension.text, raised, dimension.height, angle),
    )


def _with_elbow(dimension: RadiusDimension, tip: Point, elbow: Point) -> tuple[Plain, ...]:
    """Line from the arc to the elbow, then level under the text, away from the arc."""
    width = text_width(dimension.text, dimension.height)
    side = math.copysign(1.0, elbow[0] - tip[0])
    end = (elbow[0] + side * (width + 2.0 * GAP), elbow[1])
    middle = ((elbow[0] + end[0]) / 2.0, elbow[1] + lift(dimension.height))
    return (
        Stroke(curve=Polyline(points=(tip, elbow, end)), pen=DIMENSION),
        arrow(tip, math.atan2(tip[1] - elbow[1], tip[0] - elbow[0])),
        dimension_text(dimension.text, middle, dimension.height, 0.0),
    )


def along_arc(dimension: ArcDimension) -> tuple[Plain, ...]:
    """Strokes, arrows and text of the length of an arc."""
    radius, turn = dimension.line_radius, math.copysign(1.0, dimension.sweep)
    line = Arc(centre=dimension.centre, radius=radius, start=dimension.start, sweep=dimension.sweep)
    items: list[Plain] = [Stroke(curve=line, pen=DIMENSION)]
    for angle, towards in ((line.start, -turn), (line.end, turn)):
        # The chord of an arrow leaves the tangent by half the angle that the arrow spans.
        lean = min(ARROW / (2.0 * radius), 0.5)
        items.append(arrow(line.at(angle), angle + towards * (math.pi / 2.0 - lean)))
        items += _extension(polar(dimension.centre, dimension.radius, angle), line.at(angle))
    middle = dimension.start + dimension.sweep / 2.0
    angle = readable(middle - math.pi / 2.0)
    # Above means outward on the upper half of a circle; on the lower half the line curves up towards the text.
    outward = math.cos(angle - (middle - math.pi / 2.0))
    half = text_width(dimension.text, dimension.height) / 2.0
    rise = 0.0 if outward > 0.0 else radius - math.sqrt(max(radius**2 - half**2, 0.0))
    foot = polar(line.at(middle), lift(dimension.height) + rise, angle + math.pi / 2.0)
    return (*items, dimension_text(dimension.text, foot, dimension.height, angle))
