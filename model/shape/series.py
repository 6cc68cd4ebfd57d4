"""Smooth functions of one variable, kept as Legendre series span by span, and their exact integrals.

A span is halved until the last terms of its series are lost in rounding, so that values, integrals and places in
between are all as good as the function itself.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.polynomial import legendre

from .profile import Floats

DEGREE = 15
NODES, WEIGHTS = legendre.leggauss(DEGREE + 1)

FIT = ((2.0 * np.arange(DEGREE + 1) + 1.0) / 2.0)[:, None] * legendre.legvander(NODES, DEGREE).T * WEIGHTS
"""Turns values at the nodes into coefficients: the projection is exact for a polynomial of this degree."""

LOST = 1e-12
"""Last terms of a series below this share of the largest value anywhere are lost in rounding."""

NOISE = 1e-9
"""Last terms below this share that a halving does not make smaller are noise of the function itself."""

HALVINGS = 12
"""A span is halved so often at the most: a function with a corner within a span is then right to a few parts in 1e5."""


@dataclass(frozen=True, eq=False)
class Series:
    """A function with k columns, a Legendre series on each span.

    Parameters
    ----------
    breaks
        ``(spans + 1,)`` ends of the spans, rising.
    coefficients
        ``(terms, spans, k)``.
    """

    breaks: Floats
    coefficients: Floats

    def at(self, u: Floats) -> Floats:
        """Values ``(n, k)``; places past the ends are refused by nothing and mean nothing."""
        span = np.clip(np.searchsorted(self.breaks, u, side="right") - 1, 0, len(self.breaks) - 2)
        low, high = self.breaks[span], self.breaks[span + 1]
        x = (2.0 * u - low - high) / (high - low)
        return np.asarray(legendre.legval(x[:, None], self.coefficients[:, span], tensor=False))

    def integral(self) -> "Series":
        """Integral from the first break, which is zero there."""
        half = 0.5 * np.diff(self.breaks)[:, None]
        grown = legendre.legint(self.coefficients, lbnd=-1, axis=0) * half
        # each span begins where the one before ends; at its upper end every Legendre polynomial is 1
        ends = np.cumsum(grown.sum(axis=0), axis=0)
        grown[0, 1:] += ends[:-1]
        return Series(self.breaks, grown)

    def slope(self) -> "Series":
        """Derivative."""
        half = 0.5 * np.diff(self.breaks)[:, None]
        return Series(self.breaks, legendre.legder(self.coefficients, axis=0) / half)

    def less(self, u: float) -> "Series":
        """Give the same function less its value at a place."""
        moved = self.coefficients.copy()
        moved[0] -= self.at(np.array([u]))
        return Series(self.breaks, moved)


def series_of(function: Callable[[Floats], Floats], breaks: Floats, scale: Floats) -> Series:
    """Series of a function that is smooth between the breaks.

    Parameters
    ----------
    function
        ``(n,) → (n, k)``.
    breaks
        Ends of the spans to begin with, rising.
    scale
        ``(k,)`` sizes of its columns: what is small beside them need not be followed.
    """
    low, high = breaks[:-1], breaks[1:]
    done: list[tuple[Floats, Floats, Floats]] = []
    size = scale
    before: Floats = np.full(len(low), np.inf)
    for _ in range(HALVINGS + 1):
        places = 0.5 * (low + high)[:, None] + 0.5 * (high - low)[:, None] * NODES
        values = function(places.ravel())
        values = values.reshape(len(low), len(NODES), -1)
        size = np.maximum(size, np.abs(values).max(axis=(0, 1)))
        fitted = np.einsum("tn,snk->tsk", FIT, values)
        last = (np.abs(fitted[-2:]).max(axis=0) / size).max(axis=1)
        rough = (last > LOST) & ((last > NOISE) | (last < 0.25 * before))
        done.append((low[~rough], high[~rough], fitted[:, ~rough]))
        low, high, before = low[rough], high[rough], last[rough]
        if not low.size:
            break
        middle, keep = 0.5 * (low + high), fitted[:, rough]
        low, high = np.concatenate((low, middle)), np.concatenate((middle, high))
        before = np.concatenate((before, before))
    else:
        done.append((low[: len(middle)], high[len(middle) :], keep))
    starts = np.concatenate([part[0] for part in done])
    order = np.argsort(starts)
    coefficients = np.concatenate([part[2] for part in done], axis=1)[:, order]
    return Series(np.append(starts[order], breaks[-1]), coefficients)
