"""Finding the ruling of a tapered sheet on which a point of its flat pattern lies."""

from functools import lru_cache
from typing import Protocol

import numpy as np

from ..errors import ShapeError
from ..units import Mm
from .profile import Floats, Profile
from .ruled import Rates

STEPS = 12
"""Steps of Newton's method at the most; from a ruling nearby three or four are enough."""

GUIDES = 257
"""Rulings from which a search begins: a sheet of a full round turns by a degree or two between them."""

CLOSE: Mm = 1e-12
"""Places closer than this share of the sheet are one."""


class Rulings(Protocol):
    """A sheet whose rulings are known in its flat pattern."""

    @property
    def profile(self) -> Profile:
        """Curve half way."""

    @property
    def reference(self) -> Mm:
        """Height of that curve."""

    def rates(self, u: Floats) -> Rates:
        """How the rulings move and turn."""

    def flat_rulings(self, u: Floats, height: Mm) -> tuple[Floats, Floats]:
        """Rulings of the flat pattern at a height: their middles and unit vectors along them, each ``(n, 2)``."""

    def __hash__(self) -> int:
        """Equal sheets have equal hashes: rulings to begin with are kept by it."""


def located(sheet: Rulings, points: Floats, height: Mm) -> tuple[Floats, Floats]:
    """Places u and w of points ``(n, 2)`` of the flat pattern at a height.

    Raises
    ------
    ShapeError
        A point lies where no ruling goes.
    """
    u = _nearby(sheet, points, height)
    scale = sheet.profile.length
    for _ in range(STEPS):
        off, w, growth = _off(sheet, u, points, height)
        step = off / growth
        u = u + np.clip(step, -0.1 * scale, 0.1 * scale)
        if np.abs(step).max(initial=0.0) <= CLOSE * scale:
            break
    off, w, growth = _off(sheet, u, points, height)
    lost = (np.abs(off) > 1e-9 * scale) | (growth <= 0.0)
    if lost.any():
        x, y = points[int(lost.argmax())]
        raise ShapeError(
            f"no ruling of the tapered sheet goes through the place {x:.1f}, {y:.1f} mm of its flat pattern: the rulings "
            "meet before; make the sheet shorter there, or its tighter curve larger"
        )
    return u, w


def _off(sheet: Rulings, u: Floats, points: Floats, height: Mm) -> tuple[Floats, Floats, Floats]:
    """How far points lie beside the rulings at u, how far along them, and how fast the rulings come nearer with u."""
    middle, along = sheet.flat_rulings(u, height)
    beside = points - middle
    w = (beside * along).sum(axis=1)
    off = beside[:, 0] * along[:, 1] - beside[:, 1] * along[:, 0]
    rates = sheet.rates(u)
    return off, w, rates.g + w * rates.phi + (height - sheet.reference) * rates.theta


def _nearby(sheet: Rulings, points: Floats, height: Mm) -> Floats:
    """Rulings from which the search begins: those between which a point lies, the nearest where there are several."""
    u, middle, along, rates = _guides(sheet, height)
    beside = points[:, None, :] - middle
    off = beside[..., 0] * along[:, 1] - beside[..., 1] * along[:, 0]
    w = (beside * along).sum(axis=2)
    opens = rates.g + w * rates.phi + (height - sheet.reference) * rates.theta > 0.0
    # a ruling is passed where the point is to its right and to the left of the next one
    passed = (off[:, :-1] >= 0.0) & (off[:, 1:] <= 0.0) & opens[:, :-1] & opens[:, 1:]
    reach = np.where(passed, np.abs(w[:, :-1]), np.inf)
    best = reach.argmin(axis=1)
    start = 0.5 * (u[best] + u[best + 1])
    # beyond the end rulings: to the left of the first one, or to the right of the last
    before, after = (off[:, 0] < 0.0) & opens[:, 0], (off[:, -1] > 0.0) & opens[:, -1]
    none = ~passed.any(axis=1)
    start = np.where(none & before, u[0] + np.where(before, off[:, 0], 0.0) / rates.g[0], start)
    return np.asarray(
        np.where(none & after & ~before, u[-1] + np.where(after, off[:, -1], 0.0) / rates.g[-1], start)
    )


@lru_cache(maxsize=64)
def _guides(sheet: Rulings, height: Mm) -> tuple[Floats, Floats, Floats, Rates]:
    """Rulings all along the sheet, from which a search begins."""
    u = np.linspace(-0.5, 0.5, GUIDES) * sheet.profile.length
    return u, *sheet.flat_rulings(u, height), sheet.rates(u)
