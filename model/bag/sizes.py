"""The sizes that new bags may have for a set of jobs: all that could be part of a best choice, and what each holds.

A bag that could be cut shorter or narrower by a step and still hold the same jobs is never part of a best choice.
So its length is one that a job needs, and its width is one that a job needs.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..units import Mm
from .needs import Bag, Job, Make, stepped

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sizes:
    """Sizes of new bags, by film and then by size.

    Parameters
    ----------
    bags
        The sizes.
    film
        ``(n,)`` film of each, mm².
    holds
        ``(n, jobs)`` whether a size holds a job, straight.
    """

    bags: tuple[Bag, ...]
    film: Floats
    holds: Bools


def sizes_for(jobs: tuple[Job, ...], step: Mm) -> Sizes:
    """Every size in steps that could be part of a best choice for the jobs."""
    bags: list[Bag] = []
    holds: list[Bools] = []
    for make in sorted({job.make for job in jobs}, key=lambda make: (make.kind, make.film, make.seam)):
        mine = [n for n, job in enumerate(jobs) if job.make == make]
        needs = np.array([stepped_needs(jobs[n], step) for n in mine])
        for length, width, held in _tight(needs):
            row = np.zeros(len(jobs), dtype=bool)
            row[mine] = held
            bags.append(Bag(length=length, width=width, make=make))
            holds.append(row)
    film = np.array([bag.make.film_area(bag.length, bag.width) for bag in bags if bag.make])
    # of sizes that are equal in all but the way they lie, the long one is kept: its opening is the short side
    first: dict[tuple[Make | None, float, bytes], int] = {}
    for n in sorted(range(len(bags)), key=lambda n: (film[n], -bags[n].length, bags[n].width)):
        first.setdefault((bags[n].make, float(film[n]), holds[n].tobytes()), n)
    order = list(first.values())
    return Sizes(bags=tuple(bags[n] for n in order), film=film[order], holds=np.array(holds)[order])


def stepped_needs(job: Job, step: Mm) -> tuple[tuple[Mm, Mm], tuple[Mm, Mm]]:
    """Least length and width in whole steps: as it lies, and turned by a right angle."""
    one, other = (tuple(stepped(side, step) for side in need) for need in job.needs)
    return (one[0], one[1]), (other[0], other[1])


def hardest(jobs: tuple[Job, ...], step: Mm) -> Ints:
    """Places of the jobs that are left when each that fits wherever another one fits is put aside."""
    needs = np.array([stepped_needs(job, step) for job in jobs])
    makes = [job.make for job in jobs]
    same = np.array([[one == other for other in makes] for one in makes])
    # follows[i, j]: whichever way i lies in a bag, j has a way to lie in it
    inside: Bools = needs[None, :, None, :, :] <= needs[:, None, :, None, :]
    follows: Bools = (
        np.logical_and.reduce(np.any(np.logical_and.reduce(inside, axis=-1), axis=3), axis=2) & same
    )
    earlier = np.arange(len(jobs))[:, None] < np.arange(len(jobs))[None, :]
    put_aside = follows & (~follows.T | earlier)
    np.fill_diagonal(put_aside, False)
    return np.flatnonzero(~put_aside.any(axis=0))


def _tight(needs: Floats) -> list[tuple[Mm, Mm, Bools]]:
    """Sizes that hold fewer jobs when they are shorter or narrower, with the jobs that they hold."""
    lengths, widths = np.unique(needs[:, :, 0]), np.unique(needs[:, :, 1])
    wide = needs[None, :, :, 1] <= widths[:, None, None]
    before = np.zeros(len(widths), dtype=np.int64)
    found = []
    for length in lengths.tolist():
        held = ((needs[:, :, 0] <= length)[None] & wide).any(axis=2)
        count = held.sum(axis=1)
        narrower = np.concatenate(([0], count[:-1]))
        for n in np.flatnonzero((count > before) & (count > narrower)).tolist():
            found.append((length, float(widths[n]), held[n]))
        before = count
    return found
