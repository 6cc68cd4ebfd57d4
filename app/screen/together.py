"""Several panels in one bag: the bag, where each lies, the valve and the clock."""

from collections.abc import Iterator
from typing import Any

from ...model.bag.size import Term
from ...model.together import Together
from ...model.units import Mm, Second
from ...model.value import Value
from ...model.wording import area, both, both_size, duration
from ..columns import ends, left, wrap
from .bag import KINDS, SEATS
from .film import piece_lines
from .ink import Ink

LABEL = 44
NAME = 25


def together_sheet(found: Together, longest: tuple[Second, Second], ink: Ink) -> str:
    """Sheet for a terminal; ``longest`` is the longest of the least and of the safe times under pressure."""
    values = {value.key: value for value in found.values}
    count = len(found.laid)
    lines = [
        ink(f"{count} panels in one bag" if count > 1 else "1 panel in a bag", "heading"),
        *wrap(_verdict(found, values)),
        "",
        *_bag(found, ink),
        "",
        *_laid(found, ink),
        "",
        *_valve(found, values, ink),
        "",
        ink("CLOCK, for all of them", "heading"),
        _line("from the first glue to the gauge reading", duration(values["together.wet"].number)),
        *_spare(values),
        _line("under pressure at the least", duration(longest[0])),
        _line("under pressure to be safe", duration(longest[1])),
    ]
    return "\n".join(lines) + "\n"


def together_document(found: Together, longest: tuple[Second, Second]) -> dict[str, Any]:
    """Document for programs: mm and s."""
    return {
        "schema": 1,
        "fits": found.fits,
        "length": found.size.length,
        "width": found.size.width,
        "needed_length": found.size.needed_length,
        "needed_width": found.size.needed_width,
        "panels": [
            {
                "title": one.title,
                "from_closed_end": one.from_closed_end,
                "from_left_seam": one.from_left_seam,
                "turned": one.turned,
            }
            for one in found.laid
        ],
        "valve": {
            "over": found.valve.over,
            "from_closed_end": found.valve.from_closed_end,
            "from_left_seam": found.valve.from_left_seam,
        },
        "film": None if found.film is None else {"pieces": found.film.film, "taken": found.film.taken},
        "pressing": {"least": longest[0], "safe": longest[1]},
        "values": {value.key: value.number for value in found.values},
    }


def is_in_time(found: Together) -> bool:
    """Whether the glue of every panel is still open when the gauge has its reading."""
    return all(value.number >= 0.0 for value in found.values if value.key == "together.spare")


def _verdict(found: Together, values: dict[str, Value]) -> str:
    size = found.size
    if not found.fits:
        lacks = [
            f"{both(need - there)} {side}"
            for need, there, side in (
                (size.needed_length, size.length, "along"),
                (size.needed_width, size.width, "across"),
            )
            if need > there + 1e-9
        ]
        return f"NO: they do not fit. The bag lacks {' and '.join(lacks)}, laid as told below."
    if not is_in_time(found):
        return (
            f"NO: the glue of the first panel is past its open time by {duration(-values['together.spare'].number)} "
            "when the bag is drawn down. Press fewer at once, work with more hands, or take a slower glue."
        )
    return "YES: they fit, and the glue stays open until the bag is drawn down."


def _bag(found: Together, ink: Ink) -> Iterator[str]:
    size = found.size
    yield ink(ends("BAG, inside, lying flat", KINDS[size.kind]), "heading")
    if size.is_owned:
        yield ends("  your bag", both_size(size.length, size.width))
    yield from _side(
        "length needed" if size.is_owned else "length", size.needed_length, size.length_terms, ink
    )
    spare = () if size.tube is None else (Term("spare of the tube", size.tube - size.needed_width),)
    width = size.needed_width if size.is_owned else size.width
    yield from _side("width needed" if size.is_owned else "width", width, (*size.width_terms, *spare), ink)
    if found.film is not None:
        yield from piece_lines(found.film, ink)
        yield _line("film of the pieces", area(found.film.film))


def _side(label: str, total: Mm, terms: tuple[Term, ...], ink: Ink) -> Iterator[str]:
    yield _line(label, both(total))
    for term in terms:
        yield ink(f"    {left(term.name, LABEL - 2)}{both(term.amount)}", "quiet")


def _laid(found: Together, ink: Ink) -> Iterator[str]:
    yield ink(ends("LAY THE MIDDLE OF EACH PANEL", "from the closed end, from the left seam"), "heading")
    for number, one in enumerate(found.laid, 1):
        name, turned = f"{number} {one.title}", "turned" if one.turned else ""
        place = f"{left(both(one.from_closed_end), 23)}{both(one.from_left_seam)}"
        yield f"  {left(name, NAME)} {left(turned, 7)}{place}"


def _valve(found: Together, values: dict[str, Value], ink: Ink) -> Iterator[str]:
    yield ink(ends("VALVE, middle, on the flat bag", SEATS[found.valve.over]), "heading")
    yield _line("from the closed end", both(found.valve.from_closed_end))
    yield _line("from the left seam, seen from the open end", both(found.valve.from_left_seam))
    if found.size.is_owned:
        yield from wrap(
            "If your bag's valve sits elsewhere, lead a tail of breather to it, clear of the work.", "  "
        )
    if len(found.laid) > 1:
        yield from wrap(
            f"Lay a strip of breather from panel to panel, and let {both(values['together.gap'].number)} or more "
            "between two of them: the film comes down there.",
            "  ",
        )


def _spare(values: dict[str, Value]) -> Iterator[str]:
    if "together.spare" in values:
        spare = values["together.spare"].number
        word = "open time left" if spare >= 0.0 else "open time MISSING"
        yield _line(word, duration(abs(spare)))


def _line(label: str, text: str) -> str:
    return f"  {left(label, LABEL)}{text}"
