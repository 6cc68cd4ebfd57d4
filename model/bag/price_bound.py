"""A bound for the choice of few sizes: prices on serving the jobs.

Put a price on serving each job. A size is worth what it saves against the prices of the jobs that it holds, and the
prices less what the worthiest sizes save together are a total of film that no choice goes below (Lagrange). Prices
that lift the bound are found by small steps toward serving every job once.
"""

from dataclasses import dataclass

import numpy as np

from ..units import Count
from .sizes import Bools, Floats, Ints

CLOSE = 1e-9
"""Part of the film below which two choices count as equal: rounding."""
_KEEP = 0.3
"""Part of the last step that the next one goes on with; it keeps the prices from swinging."""
_PATIENCE = 10
_SLOWER = 0.75
_AIM = 1.005


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Bound:
    """What is known of all choices that hold some sizes for sure and others of those allowed.

    Parameters
    ----------
    least
        Film that none of them goes below.
    allowed
        Sizes that one better than the best choice known may hold.
    price
        Prices at the highest bound.
    seen
        Sizes that were the worthiest together, each set once, in the order of their finding.
    """

    least: float
    allowed: Ints
    price: Floats
    seen: tuple[Ints, ...]


def price_bound(
    cost: Floats, sure: Ints, allowed: Ints, more: Count, price: Floats, best: float, rounds: Count
) -> Bound:
    """Bound the film of choices of all the sure sizes and at most so many more of the allowed ones.

    Parameters
    ----------
    cost
        ``(sizes, jobs)`` film that a size takes for a job; ``inf`` where it does not hold it.
    price
        ``(jobs,)`` prices to begin with.
    best
        Film of the best choice known.
    rounds
        Steps of the prices.
    """
    enough = best * (1.0 - CLOSE)
    fixed, free = cost[sure], cost[allowed]
    is_left: Bools = np.ones(len(allowed), dtype=bool)
    least, at_least, pace, idle = -np.inf, price, 1.5, 0
    step = np.zeros_like(price)
    seen: dict[tuple[int, ...], Ints] = {}
    for turn in range(rounds):
        saved = np.minimum(free - price, 0.0)
        worth = saved.sum(axis=1)
        top = np.argsort(worth, kind="stable")[:more]
        given = np.minimum(fixed - price, 0.0)
        bound = float(price.sum() + given.sum() + worth[top].sum())
        # a size outside of the worthiest could only take the place of the least worthy of them
        last = worth[top[-1]] if len(top) == more else 0.0
        is_left &= bound + np.maximum(worth - last, 0.0) < enough
        if turn % 10 == 0:
            found = np.sort(np.concatenate((sure, allowed[top])))
            seen.setdefault(tuple(found.tolist()), found)
        idle = 0 if bound > least + 1e-5 * best else idle + 1
        if bound > least:
            least, at_least = bound, price
        if idle >= _PATIENCE:
            pace, idle = _SLOWER * pace, 0
        lack = 1.0 - (saved[top] < 0.0).sum(axis=0) - (given < 0.0).sum(axis=0)
        step = lack if turn == 0 else _KEEP * step + (1.0 - _KEEP) * lack
        length = float(step @ step)
        if least >= enough or length == 0.0:
            break
        price = np.maximum(price + pace * (_AIM * best - bound) / length * step, 0.0)
    return Bound(least=least, allowed=allowed[is_left], price=at_least, seen=tuple(seen.values()))
