"""Stock that is taken, sheet by sheet: equal sheets once, each with a number of its own for tables and drawings."""

from collections.abc import Sequence
from dataclasses import dataclass

from ..model.nest.needs import Need
from ..model.nest.nesting import Nesting
from ..model.nest.rectangles import Laid
from ..model.units import Mm
from ..model.wording import both, both_size

NAMES = {"board": ("sheet", "sheets"), "leaf": ("leaf", "leaves")}


@dataclass(frozen=True, slots=True, kw_only=True)
class StockSheet:
    """A layout of one sheet of stock, and how many sheets are cut so.

    Parameters
    ----------
    label
        Its number, ``"S3"``, or the numbers of all that are alike, ``"S3–S9"``.
    """

    label: str
    count: int
    laid: Laid
    need: Need


def stock_sheets(nestings: Sequence[Nesting]) -> tuple[StockSheet, ...]:
    """Every layout of all stock, numbered in the order of the stock."""
    found, number = [], 1
    for nesting in nestings:
        layouts: dict[Laid, int] = {}
        for laid in nesting.sheets:
            layouts[laid] = layouts.get(laid, 0) + 1
        for laid, count in layouts.items():
            last = f"–S{number + count - 1}" if count > 1 else ""
            found.append(StockSheet(label=f"S{number}{last}", count=count, laid=laid, need=nesting.need))
            number += count
    return tuple(found)


def taken(nesting: Nesting) -> str:
    """Say what is taken of a stock, such as ``2 sheets 2440 × 1220 mm``."""
    first = nesting.sheets[0]
    if nesting.need.kind == "roll":
        return f"{both(first.length)} off a roll {both(first.width)} wide"
    one, many = NAMES[nesting.need.kind]
    count = len(nesting.sheets)
    return f"{count} {one if count == 1 else many} of {both_size(first.length, first.width)}"


def largest(need: Need) -> tuple[Mm, Mm]:
    """Largest size of a stock that is to be had; zero where none is known."""
    return max(need.sizes, key=lambda size: (size[0] or 1.0) * size[1], default=(0.0, 0.0))
