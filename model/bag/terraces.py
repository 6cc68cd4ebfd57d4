"""The work as the film meets it: terraces, each with a level top and upright walls, square to the sheet.

The lowest is the platen, bench or form; the layers above it make the others. What lies under a larger layer is in its
shade: the film cannot get there, and falls down from the larger one. Soft sheets (release, paper, breather) follow
what is below them: they add height, not reach.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from ..base import Base
from ..draft import Role
from ..shape.outline import Outline, Rectangle, RoundedRectangle
from ..shape.profile import Floats
from ..stack import Layer, Stack
from ..units import Mm

SOFT: tuple[Role, ...] = ("release", "absorbent", "breather", "adhesive")
RIM: Mm = 0.02
"""Chordal tolerance of rounded edges."""
NEAR: Mm = 1e-6
"""Places closer than this are one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Terrace:
    """What lies between two heights above the face of the base, inside the outlines that shade it.

    Parameters
    ----------
    outlines
        Its edge is the outermost of them everywhere.
    low, high
        Heights of its foot and of its top above the face; both 0 for the base itself.
    """

    outlines: tuple[Outline, ...]
    low: Mm
    high: Mm

    @property
    def half_length(self) -> Mm:
        """Half of its extent along the sheet."""
        return 0.5 * max(outline.length for outline in self.outlines)

    @property
    def half_width(self) -> Mm:
        """Half of its extent across."""
        return 0.5 * max(outline.width for outline in self.outlines)

    def farthest(self, angle: Floats) -> tuple[Floats, Floats]:
        """Points t, w of its edge that lie farthest in directions ``angle``, rad from t toward w, 0 to π/2."""
        t, w = np.array([outline.farthest(angle) for outline in self.outlines]).transpose(1, 0, 2)
        best = np.argmax(t * np.cos(angle) + w * np.sin(angle), axis=0), np.arange(angle.size)
        return t[best], w[best]

    def grown(self, margin: Mm) -> "Terrace":
        """Terrace larger by a margin on every side."""
        return replace(self, outlines=tuple(outline.grown(margin) for outline in self.outlines))

    def half_length_at(self, w: Mm) -> Mm:
        """Half of its extent along the sheet at a place across; below 0 where there is nothing of it."""
        return max(_half_length_at(outline, abs(w)) for outline in self.outlines)

    def half_at(self, t: Floats) -> Floats:
        """Half width at places ``t``; 0 past its ends."""
        halves = [_half_at(outline, t) for outline in self.outlines]
        found: Floats = np.max(halves, axis=0)
        return found


def terraces(stack: Stack, base: Base) -> tuple[Terrace, ...]:
    """Terraces from the base upward; the uppermost carries the soft sheets on top of everything hard."""
    rows = tuple(_of_layers(stack.layers))
    base_edges = _largest((base.outline, *(outline for row in rows for outline in row.outlines)))
    return (Terrace(outlines=base_edges, low=0.0, high=0.0), *rows)


def terraces_under(stack: Stack, base: Base, sheet: Layer) -> tuple[Terrace, ...]:
    """Terraces of what lies below a soft sheet, up to its lower side."""
    below = tuple(layer for layer in stack.layers if layer.top <= sheet.height + 1e-9)
    if not any(layer.role not in SOFT for layer in below):
        return (Terrace(outlines=(base.outline,), low=0.0, high=0.0),)
    rows = tuple(_of_layers(below))
    base_edges = _largest((base.outline, *(outline for row in rows for outline in row.outlines)))
    return (Terrace(outlines=base_edges, low=0.0, high=0.0), *rows)


def _of_layers(layers: tuple[Layer, ...]) -> Iterator[Terrace]:
    """Terraces of layers from below; neighbours with one edge are one."""
    hard = [number for number, layer in enumerate(layers) if layer.role not in SOFT]
    low, top = layers[0].height, layers[-1].top
    edges = [_largest(tuple(layers[above].outline for above in hard if above >= number)) for number in hard]
    for place, number in enumerate(hard):
        is_last = place == len(hard) - 1
        if not is_last and edges[place + 1] == edges[place]:
            continue
        # soft sheets between two hard ones are in the shade of the upper
        high = top if is_last else layers[number].top
        yield Terrace(outlines=edges[place], low=low, high=high)
        low = high


@lru_cache(maxsize=256)
def _largest(outlines: tuple[Outline, ...]) -> tuple[Outline, ...]:
    """Outlines without those that lie within another one."""
    kept: list[Outline] = []
    for outline in outlines:
        if any(_is_within(outline, other) for other in kept):
            continue
        kept = [other for other in kept if not _is_within(other, outline)]
        kept.append(outline)
    return tuple(kept)


def _is_within(one: Outline, other: Outline) -> bool:
    """Whether an outline surely lies within another one; where this is no, both are kept."""
    room = 0.5 * min(other.length - one.length, other.width - one.width)
    if room < 0.0 or isinstance(other, Rectangle):
        return room >= 0.0
    if isinstance(one, Rectangle | RoundedRectangle) and isinstance(other, RoundedRectangle):
        corner = one.corner if isinstance(one, RoundedRectangle) else 0.0
        return other.corner <= corner + room
    t, half = _rim(one)
    return one == other or bool((_half_at(other, t) >= half - NEAR).all())


def _half_at(outline: Outline, t: Floats) -> Floats:
    places, halves = _rim(outline)
    end = float(places[-1])
    # a place on the end itself must not fall past it by rounding
    t = np.where(np.abs(t) <= end + NEAR, np.clip(t, -end, end), t)
    found: Floats = np.interp(t, places, halves, left=0.0, right=0.0)
    return found


@lru_cache(maxsize=64)
def _rim(outline: Outline) -> tuple[Floats, Floats]:
    """Places t and half widths of an outline's edge, shared and read-only."""
    found = outline.rim(RIM)
    for shared in found:
        shared.flags.writeable = False
    return found


def _half_length_at(outline: Outline, w: Mm) -> Mm:
    places, halves = _rim(outline)
    right = places >= 0.0
    # from the end inward the half width grows
    inward, wide = places[right][::-1], halves[right][::-1]
    if w > float(wide.max()) + NEAR:
        return -1.0
    return float(inward[0] if w <= wide[0] else np.interp(w, wide, inward))
