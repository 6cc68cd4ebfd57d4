"""Where text and lines of a sheet lie on paper, and which of them collide."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from ...model.units import Mm
from .callout import crosses
from .curves import Array, Point, flattened
from .dimension import lay_out
from .explode import exploded
from .lettering import text_depth, text_rise, text_width
from .paper import Box
from .patterns import pattern_of
from .primitives import Balloon, Hatch, Item, Leader, LinearDimension, Stroke, Text
from .sheet import Sheet, furniture, title_box, view_on_paper

Booleans = NDArray[np.bool_]

TOUCH: Mm = 0.05
"""Overlap up to which two things only touch."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Collision:
    """Two things that lie over each other on a sheet.

    Parameters
    ----------
    first, second
        What they are, in words, with the text that they carry.
    place
        Where on the paper.
    """

    first: str
    second: str
    place: Point


def text_corners(text: Text) -> Array:
    """Corners of the box around a text on paper, (4, 2), counter-clockwise from its lower left."""
    width = text_width(text.text, text.height, text.face)
    x = -text.align.value * width
    y = -text.level.value * text.height
    low, high = y - text_depth(text.text, text.height), y + text_rise(text.text, text.height)
    corners = np.array([[x, low], [x + width, low], [x + width, high], [x, high]])
    c, s = np.cos(text.turn), np.sin(text.turn)
    turned: Array = corners @ np.array([[c, s], [-s, c]]) + np.asarray(text.position)
    return turned


def box_of(points: Array) -> Box:
    """Upright box around points."""
    (x0, y0), (x1, y1) = points.min(axis=0).tolist(), points.max(axis=0).tolist()
    return Box(low=(x0, y0), high=(x1, y1))


def boxes_of(items: Iterable[Item]) -> tuple[Box, ...]:
    """Upright boxes around every text, stroke and area of items on paper, as obstacles for what is placed later."""
    return tuple(box_of(points) for item in items for points in _outlines(item))


def extent(items: Iterable[Item]) -> Box:
    """Box around everything that items cover on paper; there must be at least one."""
    return box_of(np.concatenate([points for item in items for points in _outlines(item)]))


def _outlines(item: Item) -> Iterator[Array]:
    for plain in exploded(item):
        if isinstance(plain, Text):
            yield text_corners(plain)
        elif isinstance(plain, Stroke):
            yield flattened(plain.curve, TOUCH)
        else:
            for edge in plain.boundary:
                yield flattened(edge, TOUCH)


def text_boxes(sheet: Sheet) -> tuple[tuple[str, Array], ...]:
    """Every text of a sheet, those of dimensions and balloons too, with the corners of its box on paper."""
    items = (*furniture(sheet), *_contents(sheet))
    texts = [plain for item in items for plain in exploded(item) if isinstance(plain, Text) and plain.text]
    return tuple((text.text, text_corners(text)) for text in texts)


def _contents(sheet: Sheet) -> tuple[Item, ...]:
    return (*sheet.items, *(item for view in sheet.views for item in view_on_paper(view)))


def collisions(sheet: Sheet) -> tuple[Collision, ...]:
    """Everything that lies over something else on a sheet, or outside its place.

    Text against text, against lines of any kind but hatching, and against black areas; dimension lines against each
    other; leaders and balloons against each other; the contents of the sheet against frame and title block.
    """
    contents = _contents(sheet)
    found = [*_text_on_text(text_boxes(sheet)), *_text_on_lines(sheet, contents)]
    found += _crossing_lines(contents)
    found += _outside(sheet, contents)
    return tuple(found)


def overlap(first: Array, second: Array) -> bool:
    """Whether two convex quadrilaterals overlap by more than a touch (separating axes)."""
    for corners in (first, second):
        edges = np.roll(corners, -1, axis=0) - corners
        lengths = np.hypot(edges[:, 0], edges[:, 1])
        normals = np.column_stack([-edges[:, 1], edges[:, 0]])[lengths > 0] / lengths[lengths > 0, None]
        a, b = first @ normals.T, second @ normals.T
        depth = np.minimum(a.max(axis=0), b.max(axis=0)) - np.maximum(a.min(axis=0), b.min(axis=0))
        if (depth <= TOUCH).any():
            return False
    return True


def _text_on_text(texts: Sequence[tuple[str, Array]]) -> Iterator[Collision]:
    if not texts:
        return
    low = np.array([corners.min(axis=0) for _, corners in texts])
    high = np.array([corners.max(axis=0) for _, corners in texts])
    near = (low[:, None] < high[None]).all(axis=2) & (low[None] < high[:, None]).all(axis=2)
    for i, j in zip(*np.nonzero(np.triu(near, 1)), strict=True):
        if overlap(texts[i][1], texts[j][1]):
            yield Collision(
                first=f"text {texts[i][0]!r}", second=f"text {texts[j][0]!r}", place=_middle(texts[i][1])
            )


def _middle(corners: Array) -> Point:
    x, y = corners.mean(axis=0).tolist()
    return x, y


def _text_on_lines(sheet: Sheet, contents: tuple[Item, ...]) -> Iterator[Collision]:
    plains = [plain for item in (*furniture(sheet), *contents) for plain in exploded(item)]
    lines = [segments_of(flattened(plain.curve, TOUCH)) for plain in plains if isinstance(plain, Stroke)]
    blacks = [plain for plain in plains if isinstance(plain, Hatch) and pattern_of(plain).is_solid]
    lines += [segments_of(flattened(edge, TOUCH)) for black in blacks for edge in black.boundary]
    segments = np.concatenate([np.empty((0, 4)), *lines])
    for text, corners in text_boxes(sheet):
        hits = segments[crossed(corners, segments)]
        if len(hits):
            yield Collision(first=f"text {text!r}", second="a line", place=_middle(hits[:1, :2]))


def segments_of(points: Array) -> Array:
    """Segments ``(n - 1, 4)`` from point to point, x and y of both ends."""
    return np.column_stack([points[:-1], points[1:]])


def crossed(corners: Array, segments: Array) -> Booleans:
    """Which segments reach more than a touch into a box with any turn (clipping to the box's own axes)."""
    across, up = corners[1] - corners[0], corners[3] - corners[0]
    sizes = np.array([np.hypot(*across), np.hypot(*up)])
    frame = np.column_stack([across / max(sizes[0], 1e-9), up / max(sizes[1], 1e-9)])
    a, b = (segments[:, :2] - corners[0]) @ frame, (segments[:, 2:] - corners[0]) @ frame
    low, high = np.array([TOUCH, TOUCH]), sizes - TOUCH
    step = b - a
    still = np.abs(step) < 1e-12
    safe = np.where(still, 1.0, step)
    t0, t1 = (low - a) / safe, (high - a) / safe
    enter = np.where(still, np.where((a > low) & (a < high), 0.0, 2.0), np.minimum(t0, t1)).max(axis=1)
    leave = np.where(still, 1.0, np.maximum(t0, t1)).min(axis=1)
    inside: Booleans = np.maximum(enter, 0.0) < np.minimum(leave, 1.0)
    return inside


def _crossing_lines(contents: tuple[Item, ...]) -> Iterator[Collision]:
    dimensions = [
        (f"dimension {d.text!r}", *_dimension_line(d)) for d in contents if isinstance(d, LinearDimension)
    ]
    leaders = [
        (f"leader {leader.text!r}", a, b)
        for leader in contents
        if isinstance(leader, Leader | Balloon)
        for a, b in pairwise(leader.points)
    ]
    for group in (dimensions, leaders):
        for i, (first, a, b) in enumerate(group):
            for second, c, d in group[i + 1 :]:
                if crosses(a, b, c, d) or _lie_on_each_other(a, b, c, d):
                    yield Collision(first=first, second=second, place=a)
    yield from _balloons(contents)


def _dimension_line(dimension: LinearDimension) -> tuple[Point, Point]:
    layout = lay_out(dimension)
    return layout.at(layout.low), layout.at(layout.high)


def _lie_on_each_other(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether two lines run along each other, closer than 1 mm, for more than a touch."""
    start, end = np.asarray(a), np.asarray(b)
    length = float(np.hypot(*(end - start)))
    if length == 0.0:
        return False
    along = (end - start) / length
    across = np.array([-along[1], along[0]])
    others = np.array([c, d]) - start
    low, high = sorted((others @ along).tolist())
    return bool((np.abs(others @ across) < 1.0).all()) and min(high, length) - max(low, 0.0) > TOUCH


def _balloons(contents: tuple[Item, ...]) -> Iterator[Collision]:
    balloons = [item for item in contents if isinstance(item, Balloon)]
    for i, first in enumerate(balloons):
        for second in balloons[i + 1 :]:
            (x0, y0), (x1, y1) = first.points[-1], second.points[-1]
            if np.hypot(x1 - x0, y1 - y0) < first.radius + second.radius - TOUCH:
                names = f"balloon {first.text!r}", f"balloon {second.text!r}"
                yield Collision(first=names[0], second=names[1], place=(x0, y0))


def _outside(sheet: Sheet, contents: tuple[Item, ...]) -> Iterator[Collision]:
    space, title = sheet.paper.space, title_box(sheet.paper)
    for item in contents:
        for box in boxes_of([item]):
            name = f"{type(item).__name__} {getattr(item, 'text', '') or getattr(item, 'part', '')!r}"
            (x0, y0), (x1, y1) = box.low, box.high
            beyond = (
                min(x0 - space.low[0], y0 - space.low[1], space.high[0] - x1, space.high[1] - y1) < -TOUCH
            )
            if beyond:
                yield Collision(first=name, second="the frame", place=box.centre)
            elif box.grown(-TOUCH).meets(title):
                yield Collision(first=name, second="the title block", place=box.centre)
