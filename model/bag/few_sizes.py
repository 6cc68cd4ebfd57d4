"""One bag for every job, out of few sizes: the choice of at most k sizes with the least film in all, exactly.

Each job takes the size of least film that holds it (the p-median of operations research). A good choice is found
first by changing one size for another. Then all others are ruled out: the job that fewest sizes can serve is served
by one of them, so each is tried in turn, the smallest first; a bound by prices (``price_bound``) puts aside every
size, and every branch, that cannot be part of anything better; the last two sizes are tried out pair by pair.
"""

import numpy as np

from ..units import Count
from .price_bound import CLOSE, price_bound
from .sizes import Floats, Ints, Sizes

_AT_ROOT = 500
_AT_BRANCH = 60
"""Steps of the prices before the first branch, and at each one."""
SQUARE_METRE = 1e6


class _Best:
    """The best choice known; it only gets better."""

    __slots__ = ("film", "which")

    def __init__(self, cost: Floats, which: Ints) -> None:
        self.which, self.film = which, _total(cost, which)

    def hear(self, film: float, which: Ints) -> None:
        """Take a choice that is better."""
        if film < self.film * (1.0 - CLOSE):
            self.film, self.which = film, np.sort(which)


def few_sizes(sizes: Sizes, count: Floats, most: Count) -> Ints:
    """Places of at most so many sizes that together hold every job with the least film.

    Parameters
    ----------
    sizes
        All sizes; together they hold every job.
    count
        ``(jobs,)`` number of equal bags that each job needs.
    most
        Number of sizes allowed; some choice of so many holds every job.
    """
    cost = np.where(sizes.holds, sizes.film[:, None] / SQUARE_METRE * count, np.inf)
    best = _Best(cost, _improved(cost, _greedy(cost, most)))
    price = cost[best.which].min(axis=0)
    none, every = np.zeros(0, dtype=np.int64), np.arange(len(cost))
    bound = price_bound(cost, none, every, most, price, best.film, _AT_ROOT)
    for found in bound.seen:
        if np.isfinite(_total(cost, found)):
            better = _improved(cost, found)
            best.hear(_total(cost, better), better)
    _search(cost, none, bound.allowed, most, bound.price, best)
    return best.which


def _search(cost: Floats, sure: Ints, allowed: Ints, more: Count, price: Floats, best: _Best) -> None:
    """Find whatever is better than the best among the sure sizes with at most so many more."""
    best.hear(_total(cost, sure), sure)
    if more == 0 or len(allowed) == 0:
        return
    bound = price_bound(cost, sure, allowed, more, price, best.film, _AT_BRANCH)
    allowed = bound.allowed
    if bound.least >= best.film * (1.0 - CLOSE) or len(allowed) == 0:
        return
    if more <= 2:
        _pairs(cost, sure, allowed, more, best)
        return
    paid = _paid(cost, sure)
    saves = cost[allowed] < paid
    choices = saves.sum(axis=0)
    job = int(np.argmin(np.where(choices > 0, choices, len(cost) + 1)))
    mine = allowed[saves[:, job]]
    if len(mine) == 0:
        return
    # sizes stand by film: whoever serves the job, no smaller size that holds it is there
    for place, taken in enumerate(mine.tolist()):
        rest = allowed[~np.isin(allowed, mine[: place + 1])]
        _search(cost, np.append(sure, taken), rest, more - 1, bound.price, best)
    if np.isfinite(paid[job]):
        _search(cost, sure, allowed[~np.isin(allowed, mine)], more, bound.price, best)


def _pairs(cost: Floats, sure: Ints, allowed: Ints, more: Count, best: _Best) -> None:
    """Try out one more size, and two."""
    paid, free = _paid(cost, sure), cost[allowed]
    for place, taken in enumerate(allowed.tolist()):
        now = np.minimum(paid, free[place])
        best.hear(float(now.sum()), np.append(sure, taken))
        if more == 2:
            totals = np.minimum(free[place + 1 :], now).sum(axis=1)
            if len(totals):
                other = int(np.argmin(totals))
                best.hear(float(totals[other]), np.append(sure, [taken, allowed[place + 1 + other]]))


def _paid(cost: Floats, which: Ints) -> Floats:
    """Film for each job out of some sizes; ``inf`` where none holds it."""
    least: Floats = cost[which].min(axis=0, initial=np.inf)
    return least


def _total(cost: Floats, which: Ints) -> float:
    return float(_paid(cost, which).sum())


def _greedy(cost: Floats, most: Count) -> Ints:
    """First choice: the size that holds most of what is open, until all is held; then what saves most."""
    chosen: list[int] = []
    is_open = np.ones(cost.shape[1], dtype=bool)
    while is_open.any():
        chosen.append(int(np.argmax((np.isfinite(cost) & is_open).sum(axis=1))))
        is_open &= ~np.isfinite(cost[chosen[-1]])
    paid = _paid(cost, np.array(chosen))
    while len(chosen) < most:
        totals = np.minimum(cost, paid).sum(axis=1)
        taken = int(np.argmin(totals))
        if totals[taken] >= paid.sum() * (1.0 - CLOSE):
            break
        chosen.append(taken)
        paid = np.minimum(paid, cost[taken])
    return np.sort(np.array(chosen))


def _improved(cost: Floats, chosen: Ints) -> Ints:
    """Change one size for another while that saves film."""
    total = _total(cost, chosen)
    while True:
        trials = []
        for out in chosen.tolist():
            totals = np.minimum(cost, _paid(cost, chosen[chosen != out])).sum(axis=1)
            taken = int(np.argmin(totals))
            trials.append((float(totals[taken]), out, taken))
        least, out, taken = min(trials)
        if least >= total * (1.0 - CLOSE):
            return chosen
        chosen, total = np.sort(np.append(chosen[chosen != out], taken)), least
