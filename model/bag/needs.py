"""What one job asks of a bag, and whether a bag of some size holds it.

The film that a layup takes is a rectangle; around it lie clearances, the closure and room for a valve, which keep
to the length and the width of the bag however the work is turned.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from ..units import Mm, Mm2, Radian
from .fit import QUARTER, even_turn, spare_across, spare_along
from .lay import Bed, lay_under
from .size import CLOSED_KINDS, BagSize

STRAIGHT, TURNED, DIAGONAL = "as it lies", "turned by a right angle", "on the diagonal"
TOUCH: Mm = 1e-9
"""What rounding may take off a room that is just enough."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Make:
    """How a bag is made: jobs of one make can share one.

    Parameters
    ----------
    kind
        Tube, joined sheets, taped sheets or a sheet on a board.
    film
        Key of its film.
    seam
        Width of its seams.
    """

    kind: str
    film: str
    seam: Mm

    def film_area(self, length: Mm, width: Mm) -> Mm2:
        """Film in a bag of an inside size, seams and both sides counted."""
        wide = width if self.kind == "tube" else width + 2.0 * self.seam
        long = length + (1.0 if self.kind in CLOSED_KINDS else 2.0) * self.seam
        return (1.0 if self.kind == "sheet on board" else 2.0) * wide * long


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One layup and the room that it needs.

    Parameters
    ----------
    name
        What it is called.
    make
        How its bag is made.
    along, across
        Film that it takes along and across the panel.
    beside_along, beside_across
        What the bag needs more, along its own length and across it.
    bed
        What it asks of its place under the valve of a bag; None where no valve is looked at.
    """

    name: str
    make: Make
    along: Mm
    across: Mm
    beside_along: Mm
    beside_across: Mm
    bed: Bed | None = None

    @property
    def needs(self) -> tuple[tuple[Mm, Mm], tuple[Mm, Mm]]:
        """Least inside length and width: as it lies, and turned by a right angle."""
        return (
            (self.along + self.beside_along, self.across + self.beside_across),
            (self.across + self.beside_along, self.along + self.beside_across),
        )

    @property
    def least_film(self) -> Mm2:
        """Film of the smallest bag that holds it straight."""
        return min(self.make.film_area(length, width) for length, width in self.needs)

    def way_into(self, length: Mm, width: Mm) -> str | None:
        """Way to lay it in a bag of an inside size, the simplest first; None where it does not fit."""
        return next((name for name, _ in self.ways_into(length, width)), None)

    def ways_into(self, length: Mm, width: Mm) -> Iterator[tuple[str, Radian]]:
        """Ways to lay it in a bag of an inside size, the simplest first, each with its angle to the bag."""
        for (name, turn), need in zip(((STRAIGHT, 0.0), (TURNED, QUARTER)), self.needs, strict=True):
            if need[0] <= length + TOUCH and need[1] <= width + TOUCH:
                yield name, turn
        usable_across, usable_along = width - self.beside_across, length - self.beside_along
        slant = even_turn(usable_across, usable_along, self.along, self.across)
        if slant is None or not 0.0 < slant < QUARTER:
            return
        spare = min(
            spare_across(W=usable_across, a=self.along, b=self.across, turn=slant),
            spare_along(L=usable_along, a=self.along, b=self.across, turn=slant),
        )
        if spare >= -TOUCH:
            yield DIAGONAL, slant


@dataclass(frozen=True, slots=True, kw_only=True)
class Bag:
    """A bag by its inside size, lying flat; an owned one that may be of any make has none.

    ``valve`` is where that of an owned bag sits, from the closed end and from the left seam.
    """

    length: Mm
    width: Mm
    make: Make | None = None
    valve: tuple[Mm, Mm] | None = None

    def way_of(self, job: Job) -> str | None:
        """Way to lay a job in it, or None."""
        if self.make is not None and self.make != job.make:
            return None
        return next(
            (name for name, turn in job.ways_into(self.length, self.width) if self._is_laid(job, turn)), None
        )

    def _is_laid(self, job: Job, turn: Radian) -> bool:
        """Whether the valve of the bag comes to sit on a caul or beside the work."""
        if self.valve is None or job.bed is None:
            return True
        return lay_under(job.bed, self.length, self.width, self.valve, turn).over != "bare work"


def job_of(name: str, size: BagSize, film: str, bed: Bed | None = None) -> Job:
    """Needs of a layup whose bag is sized, of a film by its key; ``bed`` where valves are to be looked at."""
    along, across = size.length_terms[0].amount, size.width_terms[0].amount
    return Job(
        name=name,
        make=make_of(size, film),
        along=along,
        across=across,
        beside_along=size.needed_length - along,
        beside_across=size.needed_width - across,
        bed=bed,
    )


def make_of(size: BagSize, film: str) -> Make:
    """How a bag that is sized is made, of a film by its key."""
    return Make(kind=size.kind, film=film, seam=size.seam)


def stepped(need: Mm, step: Mm) -> Mm:
    """Smallest multiple of a step that is no less than a need."""
    return step * math.ceil(need / step - TOUCH / step)
