"""Both ends of a taper held against each other: what goes over both, and shoulders that reach as far out."""

from collections.abc import Sequence

import numpy as np

from .base import Base
from .shape.profile import Floats
from .stack import Stack
from .units import Mm

STEPS = 400
"""Places along x at which both ends are held against each other, beside the corners of the one that is to lie below."""


def rise_over(stack: Stack, base: Base, other: Stack, other_base: Base) -> Mm:
    """Rise, mm, at which a stack on its form lies over another one that is as long or shorter; 0 where it does already.

    The shoulders beside a hollow reach as far out on the shorter side as on the longer one, at their own level.
    """
    left, right = (base if base.shoulder > 0.0 else other_base).foot
    # the top of the work is met across the face too, where it leans
    rows = zip(_rows(stack, base), _rows(other, other_base), strict=True)
    rises = []
    for upper, lower in rows:
        x = np.union1d(
            np.linspace(left, right, STEPS), lower[(lower[:, 0] > left) & (lower[:, 0] < right), 0]
        )
        rises.append(float((_level(lower, x) - _level(upper, x)).max()))
    return max(0.0, *rises)


def _rows(stack: Stack, base: Base) -> tuple[Floats, Floats]:
    """Points x and z of the form's upper side, and of the top of the work as it lies on it."""
    half = 0.5 * max(layer.outline.length for layer in stack.work)
    places = stack.sheet.profile.stations(stack.height, 0.05)
    t = np.union1d(places[np.abs(places) < half], [-half, half])
    top = stack.sheet.place(t, np.zeros_like(t), stack.height)[:, [0, 2]] + np.array([0.0, base.lift])
    return base.upper, top


def _level(points: Floats, x: Floats) -> Floats:
    """Level at places x along a row of points; that of its ends beyond them."""
    order = np.argsort(points[:, 0], kind="stable")
    found: Floats = np.interp(x, points[order, 0], points[order, 1])
    return found


def shared_shoulders(bases: Sequence[Base]) -> list[Mm]:
    """Shoulders with which all of some forms reach as far out as the widest of them; 0 where none has any."""
    if not any(base.shoulder for base in bases):
        return [0.0 for _ in bases]
    left, right = min(base.foot[0] for base in bases), max(base.foot[1] for base in bases)
    return [max(float(base.face[:, 0].min()) - left, right - float(base.face[:, 0].max())) for base in bases]
