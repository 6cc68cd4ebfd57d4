"""Soft sheets that reach past what they lie on, in the section: draped down its sides, as they hang under vacuum."""

from collections.abc import Iterator

import numpy as np

from ...model.bag.drape import CHORD, Draped, draped_sheets, hung_sheets
from ...model.plan import Plan
from ...model.shape.profile import Floats
from ...model.units import Mm, Ratio
from ..drawing.curves import Polyline
from ..drawing.primitives import Item
from .bodies import Body, outlined, pen_of, shaded

SHORTEST: Mm = 1e-4

Tail = Polyline
"""Closed outline of one end that hangs."""


def hanging(plan: Plan) -> dict[str, tuple[Mm, tuple[Tail, ...]]]:
    """How far hanging sheets lie on their top, from the middle to both sides, and their two ends; by their keys."""
    if plan.is_undercut:
        return {}
    draped = draped_sheets(plan.stack, plan.base, CHORD)
    return {
        hung.layer.key: (hung.rows[-1].half_length, _tails(draped[hung.layer.key]))
        for hung in hung_sheets(plan.stack, plan.base)
    }


def drawn_tail(body: Body, tail: Tail, ratio: Ratio) -> Iterator[Item]:
    """Hatching and outline of an end that hangs."""
    thickness = (body.high - body.low) * ratio
    yield from shaded((tail,), body.cut, thickness, body.key)
    yield from outlined((tail,), pen_of(thickness), body.key)


def _tails(sheet: Draped) -> tuple[Tail, ...]:
    """Both ends in the middle of the width; none where nothing hangs there."""
    last = sheet.inner.shape[1] // 2 - 1
    sides = [(sheet.inner[:, side, ::2], sheet.outer[:, side, ::2]) for side in (0, last)]
    return tuple(_tail(inner, outer) for inner, outer in sides if np.ptp(inner, axis=0).max() > SHORTEST)


def _tail(inner: Floats, outer: Floats) -> Tail:
    corners = np.concatenate((inner, outer[::-1], inner[:1]))
    apart = np.abs(np.diff(corners, axis=0)).max(axis=1) > SHORTEST
    kept = corners[np.concatenate(([True], apart))]
    return Polyline(points=tuple((float(x), float(z)) for x, z in kept))
