"""Several panels laid out in one bag, with a gap between them.

The film that a panel takes is a rectangle on the flat bag. Rectangles are laid so that the whole can be parted by
straight cuts from edge to edge, again and again, until each is alone: rows, columns and rows within columns, which is
how hands lay panels. Of all such layouts, with every panel either way round, those are kept that no other beats in
both length and width. Up to four panels no layout of any kind does better; a fifth may be framed by four.
"""

from dataclasses import dataclass
from typing import Literal

from ..errors import LayupError
from ..units import Count, Mm

MOST: Count = 8
"""Panels in one bag; more take too long to lay with wet glue, and to lay out here."""
SAME: Mm = 1e-6

Sides = tuple[Mm, Mm]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """One panel's rectangle of film: its number, the corner next to the closed end and the left seam, its sides.

    ``turned`` says that its length lies across the bag.
    """

    panel: Count
    along: Mm
    across: Mm
    length: Mm
    width: Mm
    turned: bool

    @property
    def middle(self) -> Sides:
        """Middle along and across."""
        return self.along + 0.5 * self.length, self.across + 0.5 * self.width


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrangement:
    """All rectangles, and the length and width that they take together, without clearances around."""

    length: Mm
    width: Mm
    spots: tuple[Spot, ...]


@dataclass(frozen=True, slots=True)
class _Block:
    """Panels that lie together: one, or two blocks side by side."""

    length: Mm
    width: Mm
    parts: "tuple[_Block, _Block] | None"
    side: Literal["along", "across"]
    panel: Count
    turned: bool


def arrangements(panels: tuple[Sides, ...], gap: Mm) -> tuple[Arrangement, ...]:
    """Layouts that no other beats in both length and width, from the shortest to the longest.

    Parameters
    ----------
    panels
        Film that each takes, along and across, mm.
    gap
        Least distance between two of them.

    Raises
    ------
    LayupError
        There are more panels than can be laid out.
    """
    if len(panels) > MOST:
        raise LayupError("FILE", f"{len(panels)} panels", f"{MOST} at the most in one bag")
    best: dict[int, list[_Block]] = {}
    everyone = (1 << len(panels)) - 1
    for chosen in range(1, everyone + 1):
        if chosen & (chosen - 1) == 0:
            best[chosen] = _unbeaten(_single(chosen.bit_length() - 1, panels))
        else:
            best[chosen] = _unbeaten(_joined(chosen, best, gap))
    return tuple(
        Arrangement(
            length=block.length,
            width=block.width,
            spots=tuple(sorted(_spots(block, 0.0, 0.0, gap), key=_number)),
        )
        for block in best[everyone]
    )


def _number(spot: Spot) -> Count:
    return spot.panel


def _single(panel: Count, panels: tuple[Sides, ...]) -> list[_Block]:
    along, across = panels[panel]
    return [
        _Block(along, across, None, "along", panel, False),
        _Block(across, along, None, "along", panel, True),
    ]


def _joined(chosen: int, best: dict[int, list[_Block]], gap: Mm) -> list[_Block]:
    """Every way to part the chosen panels in two groups that lie side by side."""
    lowest = chosen & -chosen
    found: list[_Block] = []
    part = (chosen - 1) & chosen
    while part:
        # the group with the lowest panel comes first: the other order is its mirror image
        if part & lowest:
            for one in best[part]:
                for other in best[chosen ^ part]:
                    along = one.length + gap + other.length
                    across = one.width + gap + other.width
                    found.append(_Block(along, max(one.width, other.width), (one, other), "along", -1, False))
                    found.append(
                        _Block(max(one.length, other.length), across, (one, other), "across", -1, False)
                    )
        part = (part - 1) & chosen
    return found


def _unbeaten(blocks: list[_Block]) -> list[_Block]:
    """Blocks that are shorter or narrower than every other one."""
    kept: list[_Block] = []
    for block in sorted(blocks, key=lambda block: (block.length, block.width)):
        if not kept or block.width < kept[-1].width - SAME:
            kept.append(block)
    return kept


def _spots(block: _Block, along: Mm, across: Mm, gap: Mm) -> list[Spot]:
    """Places of the panels of a block whose corner is given; a smaller part lies in the middle of its side."""
    if block.parts is None:
        return [
            Spot(
                panel=block.panel,
                along=along,
                across=across,
                length=block.length,
                width=block.width,
                turned=block.turned,
            )
        ]
    one, other = block.parts
    if block.side == "along":
        middles = [across + 0.5 * (block.width - part.width) for part in block.parts]
        return [
            *_spots(one, along, middles[0], gap),
            *_spots(other, along + one.length + gap, middles[1], gap),
        ]
    middles = [along + 0.5 * (block.length - part.length) for part in block.parts]
    return [
        *_spots(one, middles[0], across, gap),
        *_spots(other, middles[1], across + one.width + gap, gap),
    ]
