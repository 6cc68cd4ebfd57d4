"""Lines and true arcs along a curve that is known point by point: as few as keep to it."""

from collections.abc import Callable

import numpy as np

from ..units import Mm
from .loop import Corner, Loop
from .profile import Floats

KEPT: Mm = 1e-4
"""How near the arcs keep to their curve: areas are then right to a few parts in ten million."""

STRAIGHT: Mm = 1e-9
"""An arc that rises less over its chord is a line."""

HALVINGS = 24
"""A stretch is halved so often at the most."""

LOOKED_AT = np.linspace(0.0, 1.0, 9)
"""Shares of a stretch at which its arc is held against the curve; the one in the middle makes the arc."""


def arcs_along(curve: Callable[[Floats], Floats], breaks: Floats) -> tuple[Corner, ...]:
    """Corners of the lines and arcs along a curve, each with the bulge of the edge that starts there.

    The last corner has no edge of its own.

    Parameters
    ----------
    curve
        ``(n,) → (n, 2)``, smooth between the breaks.
    breaks
        Parameters at which an arc begins or ends in any case, both ends included, rising.
    """
    low, high = breaks[:-1], breaks[1:]
    rows = []
    for step in range(HALVINGS + 1):
        places = low[:, None] + (high - low)[:, None] * LOOKED_AT
        points = curve(places.ravel()).reshape(len(low), len(LOOKED_AT), 2)
        turns, off = _turns(points)
        done = (off <= KEPT) | (step == HALVINGS)
        rise = 0.5 * np.abs(np.tan(0.5 * turns)) * np.hypot(*(points[:, -1] - points[:, 0]).T)
        bulge = np.where(rise <= STRAIGHT, 0.0, np.tan(0.5 * turns))
        rows.append(np.column_stack((low, points[:, 0], bulge))[done])
        low, high = low[~done], high[~done]
        if not low.size:
            break
        middle = 0.5 * (low + high)
        low, high = np.concatenate((low, middle)), np.concatenate((middle, high))
    found = np.concatenate(rows)
    found = found[np.argsort(found[:, 0])][:, 1:]
    end = curve(breaks[-1:])[0]
    return (*((x, y, bulge) for x, y, bulge in found.tolist()), (float(end[0]), float(end[1]), 0.0))


def _turns(points: Floats) -> tuple[Floats, Floats]:
    """Half the sweep of the arc through both ends and the middle, and how far the other points lie off it.

    From every point of an arc its chord is seen under the same angle.
    """
    start, end, inner = points[:, :1], points[:, -1:], points[:, 1:-1]
    to, on = inner - start, end - inner
    seen = np.arctan2(to[..., 0] * on[..., 1] - to[..., 1] * on[..., 0], (to * on).sum(axis=2))
    middle = seen[:, seen.shape[1] // 2]
    chord = np.maximum(np.hypot(*(end - start)[:, 0].T), 1e-300)
    away = (
        np.abs(seen - middle[:, None]) * np.hypot(to[..., 0], to[..., 1]) * np.hypot(on[..., 0], on[..., 1])
    )
    return middle, away.max(axis=1) / chord


def reversed_corners(corners: tuple[Corner, ...]) -> tuple[Corner, ...]:
    """Give the same lines and arcs walked the other way."""
    bulges = [0.0, *(-bulge for *_, bulge in corners[:-1])][::-1]
    return tuple((x, y, bulge) for (x, y, _), bulge in zip(corners[::-1], bulges, strict=True))


def points_on(loop: Loop, place: Floats) -> Floats:
    """Points ``(n, 2)`` of a loop, each by the number of its edge, from 0, and the share of it."""
    corners = np.array(loop.corners)
    number = np.floor(place).astype(np.int64)
    share = (place - number)[:, None]
    start, end = corners[number % len(corners)], corners[(number + 1) % len(corners), :2]
    step, half = end - start[:, :2], 2.0 * np.arctan(start[:, 2:])
    # at a share of its sweep an arc is reached along a chord that is turned by half of what is left
    straight = half == 0.0
    size = np.where(straight, share, np.sin(share * half) / np.sin(np.where(straight, 1.0, half)))
    turn = (share - 1.0) * half
    c, s = np.cos(turn), np.sin(turn)
    x, y = step[:, :1], step[:, 1:]
    return np.asarray(start[:, :2] + size * np.hstack((c * x - s * y, s * x + c * y)))
