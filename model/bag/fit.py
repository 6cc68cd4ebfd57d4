"""Whether a layup fits a bag that is there already: as it lies, turned by a right angle, or on the diagonal.

The film that the layup takes is a rectangle on the flat bag: so much along, so much across. It has to lie inside the
bag less the clearances, the closure and the room for a valve beside the work. Turned by an angle it takes the box
around it; the best angle between the two straight ways is where width and length have equally much to spare.
"""

import math
from dataclasses import dataclass

from ..layup.layup import Layup
from ..source import GEOMETRY
from ..units import Mm, Radian
from ..value import formula
from .lay import Bed, Over, lay_under
from .size import CLOSED_KINDS, BagSize

QUARTER: Radian = 0.5 * math.pi


@formula("s", "room to spare across the flat bag", "W - a * sin(turn) - b * cos(turn)", GEOMETRY)
def spare_across(W: Mm, a: Mm, b: Mm, turn: Radian) -> Mm:
    """Usable width W less what film of a along and b across takes when it is turned."""
    return W - a * math.sin(turn) - b * math.cos(turn)


@formula("s", "room to spare along the flat bag", "L - a * cos(turn) - b * sin(turn)", GEOMETRY)
def spare_along(L: Mm, a: Mm, b: Mm, turn: Radian) -> Mm:
    """Usable length L less what film of a along and b across takes when it is turned."""
    return L - a * math.cos(turn) - b * math.sin(turn)


@dataclass(frozen=True, slots=True, kw_only=True)
class Under:
    """The valve of a bag, from the closed end and from the left seam, and the work that is laid under it."""

    valve: tuple[Mm, Mm]
    bed: Bed


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One way to lay the layup in the bag.

    Parameters
    ----------
    name
        What it is called.
    turn
        Angle between the panel's length and the bag's length.
    spare_width, spare_length
        Room to spare, mm; below zero it is missing.
    middle_from_closed_end, middle_from_left_seam
        Ruler measurements on the flat bag to the middle of the work: under the valve or beside it where the bag has
        one, else with the room to spare on both sides.
    over
        What the valve of the bag is over then; None where no valve is told.
    """

    name: str
    turn: Radian
    spare_width: Mm
    spare_length: Mm
    middle_from_closed_end: Mm
    middle_from_left_seam: Mm
    over: Over | None = None

    @property
    def shortest(self) -> Mm:
        """The lesser of the two rooms to spare."""
        return min(self.spare_width, self.spare_length)

    @property
    def fits(self) -> bool:
        """Whether the layup fits so, at the limit included, and the valve is not on the bare work."""
        return self.is_large_enough and self.over != "bare work"

    @property
    def is_large_enough(self) -> bool:
        """Whether the bag has the room, at the limit included."""
        return self.shortest >= -1e-9

    @property
    def longer(self) -> Mm:
        """How much longer the job may be, its width staying as it is."""
        return _less(self.spare_length, math.cos(self.turn), self.spare_width, math.sin(self.turn))

    @property
    def wider(self) -> Mm:
        """How much wider the job may be, its length staying as it is."""
        return _less(self.spare_length, math.sin(self.turn), self.spare_width, math.cos(self.turn))


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """A layup against one bag: the ways to lay it, as it lies first; the diagonal only where it is better."""

    width: Mm
    length: Mm
    ways: tuple[Way, ...]

    @property
    def best(self) -> Way | None:
        """First way that fits, or None where none does."""
        return next((way for way in self.ways if way.fits), None)

    @property
    def nearest(self) -> Way:
        """Way that lacks least."""
        return max(self.ways, key=lambda way: way.shortest)


def _less(along: Mm, per_along: float, across: Mm, per_across: float) -> Mm:
    """Growth that uses up one of two rooms first, each taken by so much of it."""
    rooms = ((along, per_along), (across, per_across))
    return min(room / share for room, share in rooms if share > 1e-12)


def fit(
    layup: Layup, needed: BagSize, valve_room: Mm, width: Mm, length: Mm, under: Under | None = None
) -> Fit:
    """Hold a layup against a bag of the given inside size, mm.

    Parameters
    ----------
    layup
        Its clearances and its closure.
    needed
        The bag that it needs, for the film that it takes.
    valve_room
        Length for a valve beside the work.
    width, length
        Inside size of the bag, lying flat; the closed end is across its length.
    under
        Valve of the bag, and what the work asks of its place; None where the bag's valve is still to be set.
    """
    clearance = layup.bag.side_clearance
    closure = layup.bag.closure if layup.bag.kind in CLOSED_KINDS else 0.0
    a, b = needed.length_terms[0].amount, needed.width_terms[0].amount
    across = width - 2.0 * clearance
    along = length - 2.0 * clearance - valve_room - closure
    before = clearance + valve_room

    def way(name: str, turn: Radian) -> Way:
        laid = None if under is None else lay_under(under.bed, length, width, under.valve, turn)
        return Way(
            name=name,
            turn=turn,
            spare_width=spare_across(W=across, a=a, b=b, turn=turn),
            spare_length=spare_along(L=along, a=a, b=b, turn=turn),
            middle_from_closed_end=before + 0.5 * along if laid is None else laid.from_closed_end,
            middle_from_left_seam=0.5 * width if laid is None else laid.from_left_seam,
            over=None if laid is None else laid.over,
        )

    ways = [way("as it lies", 0.0), way("turned by a right angle", QUARTER)]
    slant = even_turn(across, along, a, b)
    if slant is not None:
        diagonal = way("on the diagonal", slant)
        if diagonal.shortest > max(straight.shortest for straight in ways) or not any(
            one.fits for one in ways
        ):
            ways.append(diagonal)
    return Fit(width=width, length=length, ways=tuple(ways))


def even_turn(across: Mm, along: Mm, a: Mm, b: Mm) -> Radian | None:
    """Turn at which width and length have equally much to spare, or None where no slant is better than straight.

    Each room to spare is smallest somewhere between the two straight ways and largest at one of them, so the lesser of
    the two is largest at a straight way or where both are equal.
    """
    if a == b:
        return None
    share = (across - along) / (a - b) / math.sqrt(2.0)
    if abs(share) > 1.0:
        return None
    turn = 0.25 * math.pi + math.asin(share)
    return turn if 0.0 < turn < QUARTER else None
