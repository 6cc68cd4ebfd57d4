"""The boards of a ribbed form but its ribs: stretchers, the notches they are halved into the ribs by, baseboard, vents."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from ..data.carcase import carcase
from ..materials import Board
from ..shape.loop import Loop, LoopPoint, circle, polygon
from ..units import Mm
from .core import Section
from .part import FormPart


@dataclass(frozen=True, slots=True)
class Cross:
    """A stretcher before it is cut: middle x and height."""

    x: Mm
    height: Mm


def crosses_in(core: Section, thickness: Mm) -> tuple[Cross, ...]:
    """Stretchers from end to end, where the ribs are deep enough for one."""
    left, right = core.ends
    first = left + carcase("stretcher.inset") + 0.5 * thickness
    last = right - carcase("stretcher.inset") - 0.5 * thickness
    if last - first < 2.0 * thickness:
        return ()
    count = max(2, math.ceil((last - first) / carcase("stretcher.most")) + 1)
    found = []
    for x in np.linspace(first, last, count):
        height = math.floor(core.depth(float(x) - 0.5 * thickness, float(x) + 0.5 * thickness))
        if height >= carcase("stretcher.least"):
            found.append(Cross(float(x), float(height)))
    return tuple(found)


def fields_between(crosses: tuple[Cross, ...], ends: tuple[Mm, Mm], thickness: Mm) -> list[tuple[Mm, Mm]]:
    """Clear stretches that a vent may stand in: between stretchers, and out to the ends where there are less than two."""
    half = 0.5 * thickness
    sides = [(cross.x - half, cross.x + half) for cross in crosses]
    if len(sides) < 2:
        sides = [(ends[0], ends[0]), *sides, (ends[1], ends[1])]
    return [(right, left) for (_, right), (left, _) in pairwise(sides)]


def by_height(crosses: tuple[Cross, ...]) -> dict[Mm, list[Mm]]:
    """Middle x of the stretchers of each height."""
    found: dict[Mm, list[Mm]] = {}
    for cross in crosses:
        found.setdefault(cross.height, []).append(cross.x)
    return found


def notch_corners(core: Section, crosses: tuple[Cross, ...], thickness: Mm) -> list[LoopPoint]:
    """Corners of the notches in a rib's underside, from right to left."""
    corners: list[LoopPoint] = []
    for cross in reversed(crosses):
        right, left = cross.x + 0.5 * thickness, cross.x - 0.5 * thickness
        top = core.foot + 0.5 * cross.height
        corners += [(right, core.foot), (right, top), (left, top), (left, core.foot)]
    return corners


def vents_in(core: Section, fields: list[tuple[Mm, Mm]], vent: Mm) -> Iterator[Loop]:
    """A hole in the middle of every field between stretchers."""
    for left, right in fields:
        x = 0.5 * (left + right)
        depth = core.depth(x - 0.5 * vent, x + 0.5 * vent)
        yield from _hole((x, core.foot + 0.5 * depth), vent, min(depth, right - left))


def _hole(middle: LoopPoint, vent: Mm, room: Mm) -> Iterator[Loop]:
    """A vent, smaller where the wood around it leaves less room; none where there are to be none."""
    if vent > 0.0:
        yield circle(middle, min(vent, carcase("vent.share") * room))


def stretcher_board(
    number: int,
    height: Mm,
    places: list[Mm],
    foot: Mm,
    width: Mm,
    ribs: tuple[Mm, ...],
    board: Board,
    thickness: Mm,
    vent: Mm,
) -> FormPart:
    """A stretcher with a notch from above for every rib and a vent into every bay."""
    half, top, middle = 0.5 * width, foot + height, foot + 0.5 * height
    corners: list[LoopPoint] = [(-half, foot), (half, foot)]
    for y in reversed(ribs):
        right, left = y + 0.5 * thickness, y - 0.5 * thickness
        corners += [(right, top), (right, middle), (left, middle), (left, top)]
    # at both ends the notch is open to the outside: its outer wall has no wood
    open_ends = [corner for corner in corners if not (abs(abs(corner[0]) - half) < 1e-9 and corner[1] == top)]
    holes = [
        hole
        for a, b in pairwise(ribs)
        for hole in _hole(
            (0.5 * (a + b), foot + 0.25 * height), vent, 0.5 * min(height, 4.0 * (b - a - thickness))
        )
    ]
    return FormPart(
        key=f"stretcher-{number}",
        name=f"stretcher {number}",
        material_name=board.name,
        thickness=thickness,
        plane="across",
        outline=polygon(open_ends),
        holes=tuple(holes),
        places=tuple(x - 0.5 * thickness for x in places),
    )


def baseboard_under(
    core: Section,
    ends: tuple[tuple[Mm, Mm], tuple[Mm, Mm]],
    board: Board,
    width: Mm,
    ribs: tuple[Mm, ...],
    fields: list[tuple[Mm, Mm]],
    vent: Mm,
) -> FormPart:
    """The board under all ribs, with a hole into every cell.

    ``ends`` are its leftmost and its rightmost x on both sides across.
    """
    (a, b), (c, d) = ends
    half = 0.5 * width
    holes = [
        hole
        for left, right in fields
        for low, high in pairwise(ribs)
        for hole in _hole((0.5 * (left + right), 0.5 * (low + high)), vent, right - left)
    ]
    return FormPart(
        key="baseboard",
        name="baseboard",
        material_name=board.name,
        thickness=core.foot,
        plane="level",
        outline=polygon(((a, -half), (b, -half), (d, half), (c, half))),
        holes=tuple(holes),
        places=(0.0,),
    )
