"""Parallel dimensions stacked in lanes beside an outline, so that none lies over another or over an obstacle.

The shortest lie next to the outline. A text that has no room between its arrows, or that the extension line of
another dimension would cross, moves along its dimension line to the nearest free place.

Source: ISO 129-1 (shorter dimensions inside longer ones, dimension lines apart from the outline and each other; the
10 mm and the spacing of twice the lettering height: common practice).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ...model.units import Mm
from .boxes import boxes_of
from .curves import Point
from .dimension import ARROW, GAP, TAIL
from .explode import exploded
from .lettering import text_width
from .paper import Box
from .primitives import LinearDimension, Side, Stroke, Text
from .sheet import View, placed

FIRST_LANE: Mm = 10.0
"""Distance on paper of the first dimension line from the outline."""

ANGLES = {Side.ABOVE: 0.0, Side.BELOW: 0.0, Side.LEFT: 1.5707963267948966, Side.RIGHT: 1.5707963267948966}


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """A dimension that is wanted: two points of the view and what is printed."""

    start: Point
    end: Point
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class _Boxes:
    """Boxes of a dimension on paper."""

    text: Box
    line: Box
    extensions: tuple[Box, ...]

    def hits(self, other: "_Boxes") -> bool:
        """Whether a text lies on anything of the other, or a dimension line on the other's."""
        theirs = (other.text, other.line, *other.extensions)
        mine = (self.line, *self.extensions)
        texts = any(self.text.meets(box) for box in theirs) or any(other.text.meets(box) for box in mine)
        return texts or self.line.meets(other.line)

    def hits_any(self, obstacles: Sequence[Box]) -> bool:
        """Whether text or dimension line lies on an obstacle."""
        return any(self.text.meets(box) or self.line.meets(box) for box in obstacles)


def stack_dimensions(
    view: View,
    wanted: Sequence[Wanted],
    side: Side,
    edge: Mm,
    obstacles: Sequence[Box] = (),
    height: Mm = 3.5,
    first: Mm = FIRST_LANE,
) -> tuple[LinearDimension, ...]:
    """Dimensions on one side of an outline of a view, in as few lanes as they need.

    Parameters
    ----------
    wanted
        Horizontal distances above or below, vertical ones on the left or right; a distance of nothing is left out.
    edge
        The outermost y (above, below) or x (left, right) of the outline, in the view's mm.
    obstacles
        Boxes on paper that neither text nor dimension line may touch, such as ``boxes_of`` of labels.
    first
        Distance on paper of the first lane from the edge.

    Returns
    -------
    tuple of LinearDimension
        In the view's mm, in the order wanted.
    """
    along = 0 if side in (Side.ABOVE, Side.BELOW) else 1
    outward = 1.0 if side in (Side.ABOVE, Side.RIGHT) else -1.0
    feet = [_feet(view, want, along) for want in wanted]
    order = sorted(range(len(wanted)), key=lambda i: (feet[i][1] - feet[i][0], feet[i][0], i))
    order = [i for i in order if feet[i][1] - feet[i][0] > 1e-9]
    start = view.on_paper((edge, edge))[1 - along]
    done: dict[int, tuple[LinearDimension, _Boxes]] = {}
    for n, i in enumerate(order):
        later = [foot for j in order[n + 1 :] for foot in feet[j]]
        shifts = list(_shifts(feet[i], text_width(wanted[i].text, height), later))
        taken = [boxes for _, boxes in done.values()]
        for level, shift in _places(shifts, start, outward, first, height):
            dimension = _on_paper(view, wanted[i], side, along, level, shift, height)
            boxes = _boxes(dimension, along)
            if not boxes.hits_any(obstacles) and not any(boxes.hits(other) for other in taken):
                done[i] = dimension, boxes
                break
    ratio, (x, y) = view.scale.ratio, view.origin
    back = [placed(done[i][0], 1.0 / ratio, (-x / ratio, -y / ratio)) for i in sorted(done)]
    return tuple(dimension for dimension in back if isinstance(dimension, LinearDimension))


def _feet(view: View, want: Wanted, along: int) -> tuple[Mm, Mm]:
    a, b = view.on_paper(want.start)[along], view.on_paper(want.end)[along]
    return min(a, b), max(a, b)


def _shifts(feet: tuple[Mm, Mm], width: Mm, later: Sequence[Mm]) -> Iterator[Mm]:
    """Places of a text along its dimension line clear of extension lines, nearest to the middle first."""
    low, high = feet
    middle, half = (low + high) / 2.0, width / 2.0 + GAP
    lines = sorted({low, high, *later})
    rooms = zip([float("-inf"), *lines], [*lines, float("inf")], strict=True)
    free = [min(max(middle, a + half), b - half) for a, b in rooms if b - a >= 2.0 * half]
    nearest, *others = sorted((place - middle for place in free), key=lambda shift: (abs(shift), -shift))
    yield nearest
    yield from (shift for shift in others if abs(shift) <= (high - low) / 2.0 + width + TAIL)


def _places(
    shifts: Sequence[Mm], start: Mm, outward: float, first: Mm, height: Mm
) -> Iterator[tuple[Mm, Mm]]:
    """Levels of the lanes from the outline outward, each with the shifts of the text, without end."""
    lane = 0
    while True:
        for shift in shifts:
            yield start + outward * (first + lane * 2.0 * height), shift
        lane += 1


def _on_paper(
    view: View, want: Wanted, side: Side, along: int, level: Mm, shift: Mm, height: Mm
) -> LinearDimension:
    return LinearDimension(
        start=view.on_paper(want.start),
        end=view.on_paper(want.end),
        through=(0.0, level) if along == 0 else (level, 0.0),
        angle=ANGLES[side],
        text=want.text,
        height=height,
        shift=shift,
    )


def _boxes(dimension: LinearDimension, along: int) -> _Boxes:
    """Boxes of a dimension; that of its line a little wider than its arrows, and short enough to meet a neighbour."""
    plains = exploded(dimension)
    text = next(plain for plain in plains if isinstance(plain, Text))
    line, *extensions = (plain for plain in plains if isinstance(plain, Stroke))
    (x0, y0), (x1, y1) = boxes_of([line])[0].low, boxes_of([line])[0].high
    dx, dy = (-0.05, ARROW / 4.0) if along == 0 else (ARROW / 4.0, -0.05)
    return _Boxes(
        text=boxes_of([text])[0].grown(0.1),
        line=Box(low=(x0 - dx, y0 - dy), high=(x1 + dx, y1 + dy)),
        extensions=boxes_of(extensions),
    )
