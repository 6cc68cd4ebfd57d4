"""The size of the bag, each millimetre with the term that it comes from.

A tube or two joined sheets close around the layup: half of the girth governs. One sheet sealed down, on a board or
on another sheet that lies flat, has to climb both sides: its own path governs. Both are taken where the layup needs
most film, and with film enough to lie in every hollow and inside corner without stretch.
"""

from dataclasses import dataclass

from ..layup.layup import Layup
from ..source import COMMON_PRACTICE, GEOMETRY
from ..units import Mm
from ..value import Value, formula
from .section import FilmSection

CLOSED_KINDS = ("tube", "joined sheets")


@dataclass(frozen=True, slots=True)
class Term:
    """One part of a bag's size: what it is for and how much it takes."""

    name: str
    amount: Mm


@dataclass(frozen=True, slots=True, kw_only=True)
class BagSize:
    """Inside size of the bag, lying flat.

    Parameters
    ----------
    width_terms, length_terms
        Where each millimetre comes from.
    owned_width, owned_length
        Inside size of a bag that is owned; None where a new one is sized.
    seam
        Width of the film's seams, outside of the inside size.
    tube
        Width of the tube that a new bag is cut from, lying flat; None where it is made of sheets.
    """

    kind: str
    width_terms: tuple[Term, ...]
    length_terms: tuple[Term, ...]
    owned_width: Mm | None
    owned_length: Mm | None
    seam: Mm
    tube: Mm | None = None

    @property
    def needed_width(self) -> Mm:
        """Inside width that the layup needs."""
        return sum(term.amount for term in self.width_terms)

    @property
    def needed_length(self) -> Mm:
        """Inside length that the layup needs."""
        return sum(term.amount for term in self.length_terms)

    @property
    def width(self) -> Mm:
        """Inside width of the bag that is used: the owned one, that of its tube, or the one needed."""
        new = self.needed_width if self.tube is None else self.tube
        return new if self.owned_width is None else self.owned_width

    @property
    def length(self) -> Mm:
        """Inside length of the bag that is used: the owned one, or the one needed."""
        return self.needed_length if self.owned_length is None else self.owned_length

    @property
    def is_owned(self) -> bool:
        """Whether the bag is there already."""
        return self.owned_width is not None

    @property
    def film_short(self) -> tuple[Mm, Mm]:
        """Film that an owned bag is short of, along and across, even with its seams right at the layup; 0 where it reaches."""
        along, across = (terms[1].amount for terms in (self.length_terms, self.width_terms))
        return (
            max(0.0, self.needed_length - along - self.length),
            max(0.0, self.needed_width - across - self.width),
        )

    @property
    def is_tube(self) -> bool:
        """Whether it has no seams at its sides: a tube that is owned, or one that is sold wide enough."""
        return self.tube is not None or (self.kind == "tube" and self.is_owned)

    @property
    def film_width(self) -> Mm:
        """Width of the film to cut: seams on both sides included; a tube needs none."""
        return self.width if self.is_tube else self.width + 2.0 * self.seam

    @property
    def film_length(self) -> Mm:
        """Length of the film to cut, the seam at the closed end included."""
        ends = 1.0 if self.kind in CLOSED_KINDS else 2.0
        return self.length + ends * self.seam


@formula("b", "inside width of the bag, lying flat", "f + 2 * c", COMMON_PRACTICE)
def bag_width(f: Mm, c: Mm) -> Mm:
    """Width for film f over the layup across its width and clearance c beside it on both sides."""
    return f + 2.0 * c


@formula("l", "inside length of the bag, lying flat", "f + 2 * c + v + k", COMMON_PRACTICE)
def bag_length(f: Mm, c: Mm, v: Mm, k: Mm) -> Mm:
    """Length for film f along the layup, clearance c at both ends, room v for a valve beside it and closure k."""
    return f + 2.0 * c + v + k


@formula("f", "half girth of the layup", "G / 2", GEOMETRY)
def film_by_half_girth(G: Mm) -> Mm:
    """Film that each half of a closed bag gives to a girth G, without stretch."""
    return 0.5 * G


@formula("f", "path of the upper sheet over the layup", "G - F", GEOMETRY)
def film_by_path(G: Mm, F: Mm) -> Mm:
    """Film of a sheet sealed down beside a layup of girth G that stands on a foot F wide."""
    return G - F


@formula(
    "w",
    "where a section along takes most film: across from the middle of the panel",
    "method: largest of the sections along, at every place across",
    GEOMETRY,
)
def most_film_along(w: Mm) -> Mm:
    """Place w of the section along that takes most film."""
    return w


@formula(
    "t",
    "where a section across takes most film: along from the middle of the panel",
    "method: largest of the sections across, at every place along",
    GEOMETRY,
)
def most_film_across(t: Mm) -> Mm:
    """Place t of the section across that takes most film."""
    return t


@formula("l", "film that lies in hollows and inside corners, more than a taut film has", "P - H", GEOMETRY)
def film_in_hollows(P: Mm, H: Mm) -> Mm:
    """Film that follows a girth P everywhere, less the taut girth H."""
    return P - H


def size_bag(
    layup: Layup, along: FilmSection, across: FilmSection, valve_room: Mm, tubes: tuple[Mm, ...]
) -> BagSize:
    """Size a bag for the two sections of a layup.

    Parameters
    ----------
    valve_room
        Length for a valve beside the work.
    tubes
        Widths in which the film is sold as a tube, lying flat.
    """
    bag = layup.bag
    is_closed = bag.kind in CLOSED_KINDS
    name = "half of the girth" if is_closed else "path of the upper sheet"
    end = ", larger end" if layup.is_tapered else ""
    closure = bag.closure if is_closed else 0.0
    ends = Term("clearance at both ends", 2.0 * bag.side_clearance)
    valve = (Term("room for the valve beside the work", valve_room),) if valve_room > 0.0 else ()
    fold = (Term(f"{bag.closed_by} at the open end", closure),) if closure > 0.0 else ()
    width_terms = (
        Term(f"{name} across{end}", _film(is_closed, across)),
        Term("clearance on both sides", 2.0 * bag.side_clearance),
    )
    is_new_tube = bag.kind == "tube" and bag.width is None
    needed = sum(term.amount for term in width_terms)
    return BagSize(
        kind=bag.kind,
        width_terms=width_terms,
        length_terms=(Term(f"{name} along{end}", _film(is_closed, along)), ends, *valve, *fold),
        owned_width=bag.width,
        owned_length=bag.length,
        seam=bag.seam,
        tube=next_tube(needed, tubes if bag.roll is None else (bag.roll,)) if is_new_tube else None,
    )


def next_tube(needed: Mm, tubes: tuple[Mm, ...]) -> Mm | None:
    """Narrowest tube that is wide enough; None where none is."""
    return min((tube for tube in tubes if tube >= needed), default=None)


def size_values(layup: Layup, along: FilmSection, across: FilmSection, valve_room: Mm) -> tuple[Value, ...]:
    """Values of a bag's size with their working."""
    bag = layup.bag
    is_closed = bag.kind in CLOSED_KINDS
    closure = bag.closure if is_closed else 0.0
    return (
        _film_value("bag.film_across", is_closed, across),
        most_film_across.value("bag.film_across.at", t=across.place),
        film_in_hollows.value("bag.film_across.hollows", P=across.following, H=across.taut),
        _film_value("bag.film_along", is_closed, along),
        most_film_along.value("bag.film_along.at", w=along.place),
        film_in_hollows.value("bag.film_along.hollows", P=along.following, H=along.taut),
        bag_width.value("bag.width", f=_film(is_closed, across), c=bag.side_clearance),
        bag_length.value(
            "bag.length", f=_film(is_closed, along), c=bag.side_clearance, v=valve_room, k=closure
        ),
    )


def _film(is_closed: bool, section: FilmSection) -> Mm:
    return (
        film_by_half_girth(G=section.girth)
        if is_closed
        else film_by_path(G=section.girth, F=section.standing)
    )


def _film_value(key: str, is_closed: bool, section: FilmSection) -> Value:
    if is_closed:
        return film_by_half_girth.value(key, G=section.girth)
    return film_by_path.value(key, G=section.girth, F=section.standing)
