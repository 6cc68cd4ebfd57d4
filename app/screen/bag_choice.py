"""Bags chosen for many layups: what is printed, and the same for programs."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from ...model.bag.choice import Choice, Placed
from ...model.bag.needs import STRAIGHT
from ...model.units import Count, Mm
from ...model.wording import area, both, both_size
from ..columns import ends, left, right, wrap
from .bag import KINDS

JOB = 44
"""Columns of a job's name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """One answer.

    Parameters
    ----------
    key, title
        Stable key for programs, and heading for people.
    choice
        The bags and what goes into which.
    copies
        How many there are of each new bag; 0 where every job has its own.
    """

    key: str
    title: str
    choice: Choice
    copies: Count


def bags_sheet(
    jobs: Count, step: Mm, sections: tuple[Section, ...], films: Mapping[str, str]
) -> Iterator[str]:
    """Lines for a terminal; ``films`` are the names of films by key."""
    count = f"{jobs} layup{'s' if jobs > 1 else ''}"
    yield ends(f"Bags for {count}", f"inside, lying flat, cut in steps of {both(step)}")
    for section in sections:
        yield from _section(section, films)
    yield ""
    yield from wrap(
        "Waste is film of the bag beyond the smallest that holds the job. Bags that are owned cost nothing; "
        "in a bag for every job they are taken to be there as often as they are needed. New bags are cut to whole "
        f"steps of {both(step)}, so that a few round sizes serve many jobs; a smaller --step cuts closer."
    )


def bags_document(step: Mm, sections: tuple[Section, ...], refused: list[str]) -> dict[str, Any]:
    """Document for programs: mm and mm²; ``refused`` tells the layups that are left out."""
    return {
        "schema": 1,
        "step": step,
        "left_out": refused,
        "answers": [
            {
                "key": section.key,
                "film": section.choice.film,
                "waste": section.choice.waste,
                "bags": [_bag(section, number) for number in range(len(section.choice.bags))],
            }
            for section in sections
        ],
    }


def _bag(section: Section, number: Count) -> dict[str, Any]:
    choice = section.choice
    bag, inside = choice.bags[number], [one for one in choice.placed if one.bag == number]
    is_owned = number < choice.owned
    return {
        "length": bag.length,
        "width": bag.width,
        "owned": is_owned,
        "copies": None if is_owned else section.copies or len(inside),
        "kind": None if bag.make is None else bag.make.kind,
        "material": None if bag.make is None else bag.make.film,
        "jobs": [{"title": one.job.name, "way": one.way, "waste": one.waste} for one in inside],
    }


def _section(section: Section, films: Mapping[str, str]) -> Iterator[str]:
    choice = section.choice
    yield ""
    yield ends(section.title, f"new film {area(choice.film)}")
    for number, bag in enumerate(choice.bags):
        inside = [one for one in choice.placed if one.bag == number]
        yield ""
        words = _copies(number < choice.owned, section.copies, len(inside))
        yield ends(f"  {both_size(bag.length, bag.width)}", words)
        if bag.make is not None:
            yield from wrap(f"{KINDS[bag.make.kind]}; {films[bag.make.film]}", "    ")
        for one in inside:
            yield _row(one)
    if len(choice.bags) > 1 or len(choice.placed) > 1:
        yield ends("  waste in all", area(choice.waste))


def _copies(is_owned: bool, copies: Count, jobs: Count) -> str:
    if is_owned:
        return "owned"
    return "new" if copies else f"{jobs} new"


def _row(one: Placed) -> str:
    way = "" if one.way == STRAIGHT else one.way.removesuffix(" by a right angle")
    waste = area(one.waste)
    return f"    {left(one.job.name, JOB - 16)} {left(way, 15)}{right(f'waste {waste}', 32)}".rstrip()
