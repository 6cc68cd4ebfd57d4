"""Bags for many jobs. Two questions, told apart.

Bags used again and again: which new bags, so that every job fits in one of them or in one that is owned
(``reused``). And a bag for every job, out of few sizes (``one_each``). Both answers are exact for sizes that come in
whole steps; jobs lie straight in new bags, and any way in owned ones.
"""

from dataclasses import dataclass

import numpy as np

from ..errors import LayupError
from ..units import Count, Mm, Mm2
from .few_sizes import SQUARE_METRE, few_sizes
from .needs import DIAGONAL, STRAIGHT, TURNED, Bag, Job
from .sizes import Sizes, hardest, sizes_for, stepped_needs


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A job in its bag.

    Parameters
    ----------
    job
        The job.
    bag
        Place of its bag in the choice.
    way
        How it lies in it.
    waste
        Film of the bag beyond the smallest one that holds the job straight; 0 where it is smaller than that.
    """

    job: Job
    bag: int
    way: str
    waste: Mm2


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """Bags and what goes into which.

    Parameters
    ----------
    bags
        Owned ones that are used, in the order given, then new ones from the largest.
    owned
        How many of them are owned.
    placed
        Every job, in the order given.
    film
        Film of all new bags.
    """

    bags: tuple[Bag, ...]
    owned: Count
    placed: tuple[Placed, ...]
    film: Mm2

    @property
    def waste(self) -> Mm2:
        """Film beyond what the jobs need, over all of them."""
        return sum(one.waste for one in self.placed)


def fewest(jobs: tuple[Job, ...], owned: tuple[Bag, ...] = ()) -> Count:
    """Number of new bags without which some job has none: one for each make that owned bags don't hold whole.

    A bag may be as large as all jobs of its make need, so one of each is enough.
    """
    return len({job.make for job in _left(jobs, owned)})


def reused(
    jobs: tuple[Job, ...], owned: tuple[Bag, ...] = (), step: Mm = 50.0, most: Count | None = None
) -> Choice:
    """New bags of least film in all that serve every job again and again, ``most`` of them at the most.

    Raises
    ------
    LayupError
        So few bags do not do.
    """
    left = _left(jobs, owned)
    _demand_enough(left, most)
    if not left:
        return _choice(jobs, owned, (), 1)
    hard = tuple(left[n] for n in hardest(left, step).tolist())
    sizes = sizes_for(hard, step)
    return _choice(jobs, owned, _cover(sizes, most), 1)


def one_each(jobs: tuple[Job, ...], most: Count, owned: tuple[Bag, ...] = (), step: Mm = 50.0) -> Choice:
    """A new bag for every job that no owned size holds, of least film in all, in ``most`` sizes at the most.

    Raises
    ------
    LayupError
        So few sizes do not do.
    """
    left = _left(jobs, owned)
    _demand_enough(left, most)
    if not left:
        return _choice(jobs, owned, (), 0)
    counts: dict[object, int] = {}
    first: dict[object, Job] = {}
    for job in left:
        alike = (job.make, stepped_needs(job, step))
        counts[alike] = counts.get(alike, 0) + 1
        first.setdefault(alike, job)
    sizes = sizes_for(tuple(first.values()), step)
    which = few_sizes(sizes, np.array(list(counts.values()), dtype=float), most)
    return _choice(jobs, owned, tuple(sizes.bags[n] for n in which.tolist()), 0)


def _left(jobs: tuple[Job, ...], owned: tuple[Bag, ...]) -> tuple[Job, ...]:
    """Jobs that no owned bag holds."""
    return tuple(job for job in jobs if all(bag.way_of(job) is None for bag in owned))


def _demand_enough(left: tuple[Job, ...], most: Count | None) -> None:
    makes = len({job.make for job in left})
    if most is not None and most < makes:
        raise LayupError(
            "--most",
            str(most),
            f"{makes} or more: one for every kind of bag and film among the jobs that no owned bag holds",
        )


def _cover(sizes: Sizes, most: Count | None) -> tuple[Bag, ...]:
    """Sizes of least film in all that hold every job between them."""
    from scipy.optimize import Bounds, LinearConstraint, milp

    n, jobs = len(sizes.bags), sizes.holds.shape[1]
    rows = [LinearConstraint(sizes.holds.T.astype(float), np.ones(jobs), np.inf)]
    if most is not None:
        rows.append(LinearConstraint(np.ones((1, n)), 0.0, float(most)))
    answer = milp(
        sizes.film / SQUARE_METRE,
        integrality=np.ones(n),
        bounds=Bounds(0.0, 1.0),
        constraints=rows,
        options={"mip_rel_gap": 0.0},
    )
    return tuple(sizes.bags[n] for n in np.flatnonzero(answer.x > 0.5).tolist())


def _film(bag: Bag, job: Job) -> Mm2:
    return (bag.make or job.make).film_area(bag.length, bag.width)


def _choice(jobs: tuple[Job, ...], owned: tuple[Bag, ...], new: tuple[Bag, ...], copies: Count) -> Choice:
    """Lay every job into the smallest owned bag that holds it, or else into the smallest new one.

    ``copies`` is how many there are of each new bag; 0 where every job has its own.
    """
    fresh = tuple(sorted(new, key=lambda bag: (-bag.length * bag.width, -bag.length)))
    homes = [
        _home(job, owned, (STRAIGHT, TURNED, DIAGONAL)) or _home(job, fresh, (STRAIGHT, TURNED))
        for job in jobs
    ]
    kept = [bag for bag in (*owned, *fresh) if any(bag is home for home in homes)]
    placed, film = [], 0.0
    for job, home in zip(jobs, homes, strict=True):
        assert home is not None
        place = next(n for n, bag in enumerate(kept) if bag is home)
        taken = _film(home, job)
        film += taken if copies == 0 and any(home is bag for bag in fresh) else 0.0
        placed.append(
            Placed(job=job, bag=place, way=home.way_of(job) or "", waste=max(taken - job.least_film, 0.0))
        )
    film += sum(copies * bag.make.film_area(bag.length, bag.width) for bag in fresh if bag.make)
    return Choice(
        bags=tuple(kept),
        owned=sum(any(bag is one for one in owned) for bag in kept),
        placed=tuple(placed),
        film=film,
    )


def _home(job: Job, bags: tuple[Bag, ...], ways: tuple[str, ...]) -> Bag | None:
    fitting = [bag for bag in bags if bag.way_of(job) in ways]
    return min(fitting, key=lambda bag: _film(bag, job), default=None)
