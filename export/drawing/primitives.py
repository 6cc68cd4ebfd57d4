"""What can stand on a drawing: strokes, hatched areas, text, dimensions, leaders and numbered balloons.

Points are mm of the space that the item stands in: the paper, or a view's own full-size space. Sizes of letters,
arrows and balloons are always mm on paper, whatever the scale of the view.
"""

import math
from dataclasses import dataclass
from enum import Enum

from ...model.errors import ShapeError
from ...model.units import Mm, Radian, Ratio
from .curves import Circle, Curve, Point, Polyline, end_of, start_of
from .lettering import Face
from .pens import PENS, WIDE, Pen


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """A curve drawn with a pen.

    Parameters
    ----------
    part
        Name of the thing that is drawn, such as a layer's key; kept in the SVG and DXF files.
    """

    curve: Curve
    pen: Pen = WIDE
    part: str = ""

    def __post_init__(self) -> None:
        if self.pen not in PENS:
            allowed = ", ".join(pen.name for pen in PENS)
            raise ShapeError(f"stroke {self.part}: found pen {self.pen.name!r}; allowed: {allowed}")


def _is_loop(boundary: tuple[Curve, ...]) -> bool:
    if any(isinstance(edge, Circle) for edge in boundary):
        return len(boundary) == 1
    edges = [edge for edge in boundary if not isinstance(edge, Circle)]
    joints = zip(edges, edges[1:] + edges[:1], strict=True)
    return bool(edges) and all(math.dist(end_of(a), start_of(b)) <= 1e-6 for a, b in joints)


@dataclass(frozen=True, slots=True, kw_only=True)
class Hatch:
    """An area filled with a hatch pattern; its outline is drawn only by strokes of its own.

    Parameters
    ----------
    boundary
        Edges joined head to tail and back to the first, or one circle.
    pattern
        Name of a pattern of ``patterns``.
    holes
        Boundaries inside the first that stay empty.
    turn
        Turns the pattern, so that neighbouring parts of one material differ.
    spread
        Multiplies the pattern's spacing, for the same reason.
    origin
        Point that the pattern starts from.
    part
        Name of the thing that is cut, kept in the SVG and DXF files.
    """

    boundary: tuple[Curve, ...]
    pattern: str
    holes: tuple[tuple[Curve, ...], ...] = ()
    turn: Radian = 0.0
    spread: Ratio = 1.0
    origin: Point = (0.0, 0.0)
    part: str = ""

    def __post_init__(self) -> None:
        for loop in (self.boundary, *self.holes):
            if not _is_loop(loop):
                raise ShapeError(
                    f"hatch of {self.part or self.pattern}: a boundary is not closed; each edge must begin within "
                    "1e-6 mm of the end of the one before"
                )

    @property
    def loops(self) -> tuple[tuple[Curve, ...], ...]:
        """The outer boundary and the holes."""
        return (self.boundary, *self.holes)


class Align(Enum):
    """Which point of its width a text is placed by; the value is the share of the width."""

    LEFT = 0.0
    CENTRE = 0.5
    RIGHT = 1.0


class Level(Enum):
    """Which point of its height a text is placed by; the value is the share of the height of a capital."""

    BASELINE = 0.0
    MIDDLE = 0.5
    TOP = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """One line of text.

    Parameters
    ----------
    position
        Point that ``align`` and ``level`` refer to.
    height
        Height of a capital on paper, one of the lettering series.
    turn
        Direction in which the text runs, counter-clockwise from the x axis.
    """

    text: str
    position: Point
    height: Mm = 3.5
    align: Align = Align.LEFT
    level: Level = Level.BASELINE
    turn: Radian = 0.0
    face: Face = Face.REGULAR


@dataclass(frozen=True, slots=True, kw_only=True)
class LinearDimension:
    """Distance of two points, measured along a direction.

    Parameters
    ----------
    start, end
        The points measured.
    through
        A point that the dimension line passes through.
    angle
        Direction of the dimension line; see ``aligned`` for that from start to end.
    text
        What is printed, in one unit system or both.
    shift
        Distance on paper of the text's middle from the dimension's middle, along the dimension line in reading
        direction; ``None`` puts it in the middle, or beyond the end where the space is too small.
    """

    start: Point
    end: Point
    through: Point
    angle: Radian = 0.0
    text: str
    height: Mm = 3.5
    shift: Mm | None = None

    @property
    def measured(self) -> Mm:
        """The distance that is dimensioned."""
        dx, dy = self.end[0] - self.start[0], self.end[1] - self.start[1]
        return abs(dx * math.cos(self.angle) + dy * math.sin(self.angle))


def aligned(start: Point, end: Point) -> Radian:
    """Direction from one point to another, for an aligned dimension."""
    return math.atan2(end[1] - start[1], end[0] - start[0])


class Side(Enum):
    """Which side of an outline."""

    ABOVE = "above"
    BELOW = "below"
    LEFT = "left"
    RIGHT = "right"


class Reach(Enum):
    """Where the text of a radius stands: on the centre's side of the curve or on the far side."""

    INSIDE = -1.0
    OUTSIDE = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class RadiusDimension:
    """Radius of an arc: an arrow on the arc, the line pointing at its centre.

    Parameters
    ----------
    angle
        Direction from the centre to the arrow's point.
    reach
        Side of the arc on which line and text stand, where they stand at the arc.
    elbow
        Where the line, coming from the arc, turns level and carries the text; ``None`` leaves the text at the arc,
        along the line.
    """

    centre: Point
    radius: Mm
    angle: Radian
    text: str
    height: Mm = 3.5
    reach: Reach = Reach.INSIDE
    elbow: Point | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ArcDimension:
    """Length along an arc.

    Parameters
    ----------
    radius
        Radius of the arc that is measured.
    line_radius
        Radius of the dimension line.
    """

    centre: Point
    radius: Mm
    start: Radian
    sweep: Radian
    line_radius: Mm
    text: str
    height: Mm = 3.5

    @property
    def measured(self) -> Mm:
        """The length that is dimensioned."""
        return self.radius * abs(self.sweep)


class Ending(Enum):
    """How a leader ends: with an arrow on an outline, a dot inside an area, or plainly on a dimension line."""

    ARROW = "arrow"
    DOT = "dot"
    PLAIN = "plain"


@dataclass(frozen=True, slots=True, kw_only=True)
class Leader:
    """A line from a note to what it speaks of.

    Parameters
    ----------
    points
        From the place spoken of to the note.
    text
        The note, beside the last point; may be empty.
    """

    points: tuple[Point, ...]
    text: str = ""
    height: Mm = 3.5
    ending: Ending = Ending.ARROW

    def __post_init__(self) -> None:
        if len(self.points) < 2:
            raise ShapeError(f"leader {self.text!r}: found {len(self.points)} point; at least 2 are needed")


@dataclass(frozen=True, slots=True, kw_only=True)
class Balloon:
    """The number of a part in a circle, with a leader to the part.

    Parameters
    ----------
    points
        From the part to the middle of the circle.
    text
        The number.
    radius
        Radius of the circle on paper.
    """

    points: tuple[Point, ...]
    text: str
    radius: Mm = 4.0
    height: Mm = 3.5
    ending: Ending = Ending.DOT

    def __post_init__(self) -> None:
        if len(self.points) < 2:
            raise ShapeError(f"balloon {self.text!r}: found {len(self.points)} point; at least 2 are needed")


Plain = Stroke | Hatch | Text
Annotation = LinearDimension | RadiusDimension | ArcDimension | Leader | Balloon
Item = Plain | Annotation


def outline(*points: Point, pen: Pen = WIDE, part: str = "") -> Stroke:
    """Stroke through points and back to the first."""
    return Stroke(curve=Polyline(points=(*points, points[0])), pen=pen, part=part)


def filled(*points: Point, pattern: str = "solid", part: str = "") -> Hatch:
    """Polygon with a pattern, through points."""
    return Hatch(boundary=(Polyline(points=(*points, points[0])),), pattern=pattern, part=part)
