"""The section under the skin of a ribbed form: what every rib is cut to, and how deep it is at each place."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Protocol

import numpy as np

from ..base import Base
from ..shape.loop import Corner, Loop, LoopPoint, along
from ..shape.profile import Floats
from ..shape.sheet import Sheet
from ..units import Mm

DRAWN: Mm = 0.01
"""Chordal tolerance of the upper edge where its depth is measured."""


class Section(Protocol):
    """What a board has to keep to that stands in a form: one section under its skin, or several taken together."""

    @property
    def foot(self) -> Mm:
        """Height of the underside."""

    @property
    def ends(self) -> tuple[Mm, Mm]:
        """Leftmost and rightmost x of the underside."""

    def depth(self, low: Mm, high: Mm) -> Mm:
        """Least height of wood over the underside between two places x within its ends."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Core:
    """The section under the skin.

    Parameters
    ----------
    curve
        Corners of the edge that carries the skin, from left to right; its last corner has no edge.
    left, right
        Corners of the upper edge beside it, from the outside in on the left, from the inside out on the right.
    foot
        Height of its underside.
    """

    curve: tuple[Corner, ...]
    left: tuple[LoopPoint, ...]
    right: tuple[LoopPoint, ...]
    foot: Mm

    @property
    def ends(self) -> tuple[Mm, Mm]:
        """Leftmost and rightmost x of the underside."""
        left = self.left[0] if self.left else self.curve[0]
        right = self.right[-1] if self.right else self.curve[-1]
        return left[0], right[0]

    def around(self, notches: tuple[LoopPoint, ...] = ()) -> tuple[LoopPoint, ...]:
        """Corners of the rest of the edge, from the right end of the curve to its left end, clockwise.

        ``notches`` are further corners of the underside, from right to left.
        """
        first, last = self.ends
        return (*self.right, (last, self.foot), *notches, (first, self.foot), *self.left)

    def depth(self, low: Mm, high: Mm) -> Mm:
        """Least height of wood over the underside between two places x within its ends."""
        top = _top(self)
        rise = np.clip((np.array([low, high])[:, None] - top[:-1, 0]) / _runs(top), 0.0, 1.0)
        inside = (np.minimum(top[:-1, 0], top[1:, 0]) <= high) & (np.maximum(top[:-1, 0], top[1:, 0]) >= low)
        z = top[:-1, 1] + rise * np.diff(top[:, 1])
        return float(z[:, inside].min()) - self.foot


@lru_cache(maxsize=16)
def _top(core: Core) -> Floats:
    """Points of the whole upper edge from left to right; asked for many times, read-only."""
    curve = Loop(core.curve).flattened(DRAWN)
    points = np.vstack([np.array(part).reshape(-1, 2) for part in (core.left, curve, core.right)])
    points.flags.writeable = False
    return points


def _runs(top: Floats) -> Floats:
    """Steps in x; an upright one counts as a very short one, so that it can be divided by."""
    steps = np.diff(top[:, 0])
    return np.asarray(np.where(np.abs(steps) < 1e-12, 1e-12, steps))


def core_of(base: Base, sheet: Sheet, height: Mm) -> Core:
    """Section of a form under a height of the sheet, on its board.

    Beside a hollow the ribs have shoulders; where the skin ends below them, they reach up to its face.
    """
    curve = along(sheet, height, 0.5 * base.outline.length, base.lift)
    if base.shoulder == 0.0:
        return Core(curve=curve, left=(), right=(), foot=base.board)
    outer_left, outer_right = base.upper[0], base.upper[-1]
    return Core(
        curve=curve,
        left=shoulder(outer_left, base.face[0], curve[0]),
        right=shoulder(outer_right, base.face[-1], curve[-1])[::-1],
        foot=base.board,
    )


def shoulder(outer: Floats, end: Floats, corner: Corner) -> tuple[LoopPoint, ...]:
    """Corners from the outside of a shoulder to the skin: by the end of its face where the skin lies lower there."""
    outside = (float(outer[0]), float(outer[1]))
    return (outside, (float(end[0]), float(end[1]))) if corner[1] < end[1] else (outside,)
