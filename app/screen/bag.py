"""The bag with the term that each millimetre comes from, and the valve by two ruler measurements."""

from collections.abc import Iterator

from ...model.bag.size import Term
from ...model.bag.words import most_across, most_along
from ...model.plan import Plan
from ...model.wording import both, both_size
from ..columns import ends, left
from .ink import Ink

LABEL = 44
"""Columns of what stands before a number."""

UNDERCUT = "undercut, not designed"
"""What is said of form, bag and valve where the form would reach around under itself."""

KINDS = {
    "tube": "tube, closed on two sides and at one end",
    "joined sheets": "two sheets joined on two sides and at one end",
    "taped sheets": "two sheets taped flat to each other",
    "sheet on board": "one sheet sealed down to a board",
}
SEATS = {
    "caul": "over the breather, above the caul",
    "tail": "beside the work, on a tail of breather",
    "bare work": "on the work, with no caul below it",
}


def bag_lines(plan: Plan, ink: Ink) -> Iterator[str]:
    """Size of the bag, inside, lying flat."""
    bag = plan.bag
    if plan.is_undercut:
        yield ink(ends("BAG", UNDERCUT), "heading")
        return
    yield ink(ends("BAG, inside, lying flat", KINDS[bag.kind]), "heading")
    if bag.is_owned:
        yield ends("  your bag", both_size(bag.length, bag.width))
    yield from _side("length needed" if bag.is_owned else "length", bag.needed_length, bag.length_terms, ink)
    spare = () if bag.tube is None else (Term("spare of the tube", bag.tube - bag.needed_width),)
    yield from _side(
        "width needed" if bag.is_owned else "width",
        bag.needed_width if bag.is_owned else bag.width,
        (*bag.width_terms, *spare),
        ink,
    )
    for label, place in (most_along(plan.along), most_across(plan.across)):
        yield ink(f"    {left(label, LABEL - 2)}{place}", "quiet")


def valve_lines(plan: Plan, ink: Ink) -> Iterator[str]:
    """Where the valve is marked on the film or, in a bag that has one, where the work is laid."""
    valve = plan.valve
    if plan.is_undercut:
        yield ink(ends("VALVE", UNDERCUT), "heading")
        return
    yield ink(ends("VALVE, middle, on the flat bag", SEATS[valve.over]), "heading")
    yield _line("from the closed end", both(valve.from_closed_end))
    yield _line("from the left seam, seen from the open end", both(valve.from_left_seam))
    if plan.layup.valve.from_closed_end is not None:
        yield _line("middle of the work, from the closed end", both(valve.work_from_closed_end))
        yield _line("middle of the work, from the left seam", both(valve.work_from_left_seam))


def _side(label: str, total: float, terms: tuple[Term, ...], ink: Ink) -> Iterator[str]:
    yield _line(label, both(total))
    for term in terms:
        yield ink(f"    {left(term.name, LABEL - 2)}{both(term.amount)}", "quiet")


def _line(label: str, text: str) -> str:
    return f"  {left(label, LABEL)}{text}"
