"""Free room on paper: whether something more can stand where others are already drawn."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import reduce

import numpy as np
from numpy.typing import NDArray

from ...model.units import Mm
from ..drawing.boxes import crossed, overlap, segments_of, text_corners
from ..drawing.curves import Array, flattened
from ..drawing.explode import all_exploded
from ..drawing.paper import Box
from ..drawing.patterns import pattern_of
from ..drawing.primitives import Hatch, Item, Stroke, Text

FLATNESS: Mm = 0.05
"""Tolerance of the chords that stand for curves."""
AIR: Mm = 0.8
"""Free space around a text."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Room:
    """What is drawn, in mm on paper.

    Parameters
    ----------
    segments
        ``(n, 4)`` x and y of both ends of every straight piece of a line; hatching is none.
    texts
        ``(k, 4, 2)`` corners of the box of every text.
    """

    segments: Array
    texts: Array

    def with_boxes(self, boxes: Iterable[Box]) -> "Room":
        """Give the room with the insides of boxes taken, too."""
        corners = [
            [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
            for (x0, y0), (x1, y1) in ((b.low, b.high) for b in boxes)
        ]
        return replace(self, texts=np.concatenate([self.texts, np.array(corners).reshape(-1, 4, 2)]))

    def admits(self, other: "Room") -> bool:
        """Whether other things can be added: no text of theirs near anything, no line of theirs on a text."""
        return self._leaves(other, AIR)

    def clears(self, other: "Room") -> bool:
        """Whether no text of this or the other lies on anything of the other or this."""
        return self._leaves(other, 0.0)

    def _leaves(self, other: "Room", air: Mm) -> bool:
        for text in other.texts:
            airy = _grown(text, air)
            if self._has_line_on(airy) or any(overlap(airy, own) for own in self._texts_near(airy)):
                return False
        return not any(other._has_line_on(own) for own in self.texts)

    @property
    def is_tangled(self) -> bool:
        """Whether a line lies across a text of the same items."""
        return any(self._has_line_on(text) for text in self.texts)

    def crosses(self, other: "Room") -> bool:
        """Whether a line of this lies across a line of the other."""
        a, b = self.segments[:, None], other.segments[None]
        return bool((_apart(a, b) & _apart(b, a)).any())

    def _has_line_on(self, box: Array) -> bool:
        """Whether a line reaches into a box; only those near it are looked at closely."""
        if not len(self.segments):
            return False
        ends = self.segments.reshape(-1, 2, 2)
        near = self.segments[_meet(ends, box)]
        return len(near) > 0 and bool(crossed(box, near).any())

    def _texts_near(self, box: Array) -> Array:
        return self.texts[_meet(self.texts, box)] if len(self.texts) else self.texts


def _meet(shapes: Array, box: Array) -> NDArray[np.bool_]:
    """Which shapes ``(n, corners, 2)`` have an upright box that meets that of another one."""
    (left, below), (right, above) = box.min(axis=0), box.max(axis=0)
    corners = [shapes[:, number] for number in range(shapes.shape[1])]
    # corner by corner: many times quicker than along an axis of two or four
    low, high = reduce(np.minimum, corners), reduce(np.maximum, corners)
    meet: NDArray[np.bool_] = (
        (low[:, 0] <= right) & (low[:, 1] <= above) & (high[:, 0] >= left) & (high[:, 1] >= below)
    )
    return meet


def room(items: Iterable[Item]) -> Room:
    """Room that items on paper leave."""
    segments, texts = [np.empty((0, 4))], [np.empty((0, 4, 2))]
    for plain in all_exploded(items):
        match plain:
            case Text():
                texts.append(text_corners(plain)[None])
            case Stroke():
                segments.append(segments_of(flattened(plain.curve, FLATNESS)))
            case Hatch() if pattern_of(plain).is_solid:
                segments += [segments_of(flattened(edge, FLATNESS)) for edge in plain.boundary]
    return Room(segments=np.concatenate(segments), texts=np.concatenate(texts))


def _grown(corners: Array, air: Mm) -> Array:
    """Box with its corners moved outward by free space."""
    across, up = corners[1] - corners[0], corners[3] - corners[0]
    a, b = air * across / np.hypot(*across), air * up / np.hypot(*up)
    grown: Array = corners + np.array([-a - b, a - b, a + b, b - a])
    return grown


def _apart(a: Array, b: Array) -> NDArray[np.bool_]:
    """Whether the ends of b lie on both sides of the line through a."""
    run = a[..., 2:] - a[..., :2]
    first, last = b[..., :2] - a[..., :2], b[..., 2:] - a[..., :2]
    side = run[..., 0] * first[..., 1] - run[..., 1] * first[..., 0]
    other: NDArray[np.bool_] = (side * (run[..., 0] * last[..., 1] - run[..., 1] * last[..., 0])) < 0.0
    return other
