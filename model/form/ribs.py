"""A form of ribs: ribs and stretchers halved into each other, a bent skin over them, a vented board below.

The ribs stand along the bend, each cut to the same edge: the form's face, less the skin. Stretchers stand across,
as high as the ribs are at their place. Ribs are notched from below and stretchers from above, each through
half of the height, so that the ribs drop over the stretchers. Every cell between them has a hole into each neighbour
and one through the board, so that no hollow is closed.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from ..base import Base
from ..data.carcase import carcase
from ..layup.layup import Layup
from ..materials import Board
from ..shape.loop import Loop, LoopPoint, circle, closed, polygon, rectangle
from ..shape.sheet import Sheet
from ..units import Mm
from ..wording import both
from .bays import Load, bays_for_skin, bays_for_spacing, most_bays
from .core import Core, core_of
from .part import FormPart
from .skin import Skin, skins_of


@dataclass(frozen=True, slots=True, kw_only=True)
class RibForm:
    """A form of ribs.

    Parameters
    ----------
    load
        What decided how far apart the ribs stand.
    bays
        Number of bays between the ribs.
    core
        The section under the skin.
    around
        Corners of a rib's edge beside the curve, clockwise from its right end to its left.
    rib
        The ribs, all equal.
    stretchers
        Each of a height of its own, the leftmost first; one may stand in several places.
    skins
        The sheets over the ribs, from below.
    baseboard
        The board under the ribs; None where there is none.
    """

    load: Load
    bays: int
    core: Core
    around: tuple[LoopPoint, ...]
    rib: FormPart
    stretchers: tuple[FormPart, ...]
    skins: tuple[Skin, ...]
    baseboard: FormPart | None

    @property
    def spacing(self) -> Mm:
        """Distance of the ribs, middle to middle."""
        return self.load.run / self.bays

    @property
    def crossings(self) -> tuple[tuple[Mm, Mm], ...]:
        """Left and right side x of every stretcher, from left to right."""
        return tuple(sorted((x, x + part.thickness) for part in self.stretchers for x in part.places))

    @property
    def depth(self) -> Mm:
        """Least height of a rib under the skin."""
        return self.core.depth(*self.core.ends)

    @property
    def parts(self) -> tuple[FormPart, ...]:
        """All flat boards, from below."""
        below = () if self.baseboard is None else (self.baseboard,)
        return (*below, *self.stretchers, self.rib)


def why_no_ribs(layup: Layup, base: Base, sheet: Sheet) -> str:
    """Say why a form can't be built of ribs."""
    form = layup.form
    if sheet.tightest(-form.skin, 0.0)[2] <= 0.0:
        return f"A skin of {both(form.skin)} is thicker than the form's radius."
    if base.outline.width < 2.0 * form.rib + carcase("vent"):
        return f"The form is only {both(base.outline.width)} wide: two ribs with a vent between do not fit."
    return "The skin is nearly as thick as the form's base is high: no rib is left."


@dataclass(frozen=True, slots=True)
class _Cross:
    """A stretcher before it is cut: middle x and height."""

    x: Mm
    height: Mm


def rib_form(layup: Layup, board: Board, base: Base, sheet: Sheet) -> RibForm | None:
    """Design the ribs of a form; None where no skin or no two ribs fit: ``why_no_ribs`` says why."""
    form, width = layup.form, base.outline.width
    if sheet.tightest(-form.skin, 0.0)[2] <= 0.0:
        return None
    skins = skins_of(layup, board, sheet, 0.5 * base.outline.length, width)
    core = core_of(base, sheet, skins[0].low)
    ends = core.ends
    load = Load(width=width, skin=form.skin, rib=form.rib, board=board, pressure=layup.vacuum.gauge)
    if core.depth(*ends) < carcase("rib.least") or most_bays(load) < 1:
        return None
    bays = bays_for_skin(load) if form.spacing is None else bays_for_spacing(load, form.spacing)
    middles = tuple(float(y) for y in np.linspace(-0.5 * load.run, 0.5 * load.run, bays + 1))
    crosses = _crosses(core, form.rib)
    fields = _fields(crosses, ends, form.rib)
    vent = carcase("vent") if form.vented == "yes" else 0.0
    around = core.around(tuple(_notches(core, crosses, form.rib)))
    return RibForm(
        load=load,
        bays=bays,
        core=core,
        around=around,
        rib=FormPart(
            key="rib",
            name="rib",
            material_name=board.name,
            thickness=form.rib,
            plane="along",
            outline=closed((*core.curve, *((x, z, 0.0) for x, z in around))),
            holes=tuple(_rib_vents(core, fields, vent)),
            places=tuple(y - 0.5 * form.rib for y in middles),
        ),
        stretchers=tuple(
            _stretcher(number, height, places, core.foot, width, middles, board, form.rib, vent)
            for number, (height, places) in enumerate(_by_height(crosses).items(), 1)
        ),
        skins=skins,
        baseboard=_baseboard(core, board, width, middles, fields, vent) if base.board else None,
    )


def _crosses(core: Core, thickness: Mm) -> tuple[_Cross, ...]:
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
            found.append(_Cross(float(x), float(height)))
    return tuple(found)


def _fields(crosses: tuple[_Cross, ...], ends: tuple[Mm, Mm], thickness: Mm) -> list[tuple[Mm, Mm]]:
    """Clear stretches that a vent may stand in: between stretchers, and out to the ends where there are less than two."""
    half = 0.5 * thickness
    sides = [(cross.x - half, cross.x + half) for cross in crosses]
    if len(sides) < 2:
        sides = [(ends[0], ends[0]), *sides, (ends[1], ends[1])]
    return [(right, left) for (_, right), (left, _) in pairwise(sides)]


def _by_height(crosses: tuple[_Cross, ...]) -> dict[Mm, list[Mm]]:
    """Middle x of the stretchers of each height."""
    found: dict[Mm, list[Mm]] = {}
    for cross in crosses:
        found.setdefault(cross.height, []).append(cross.x)
    return found


def _notches(core: Core, crosses: tuple[_Cross, ...], thickness: Mm) -> list[LoopPoint]:
    """Corners of the notches in a rib's underside, from right to left."""
    corners: list[LoopPoint] = []
    for cross in reversed(crosses):
        right, left = cross.x + 0.5 * thickness, cross.x - 0.5 * thickness
        top = core.foot + 0.5 * cross.height
        corners += [(right, core.foot), (right, top), (left, top), (left, core.foot)]
    return corners


def _rib_vents(core: Core, fields: list[tuple[Mm, Mm]], vent: Mm) -> Iterator[Loop]:
    """A hole in the middle of every field between stretchers."""
    for left, right in fields:
        x = 0.5 * (left + right)
        depth = core.depth(x - 0.5 * vent, x + 0.5 * vent)
        yield from _hole((x, core.foot + 0.5 * depth), vent, min(depth, right - left))


def _hole(middle: LoopPoint, vent: Mm, room: Mm) -> Iterator[Loop]:
    """A vent, smaller where the wood around it leaves less room; none where there are to be none."""
    if vent > 0.0:
        yield circle(middle, min(vent, carcase("vent.share") * room))


def _stretcher(
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


def _baseboard(
    core: Core, board: Board, width: Mm, ribs: tuple[Mm, ...], fields: list[tuple[Mm, Mm]], vent: Mm
) -> FormPart:
    """The board under all ribs, with a hole into every cell."""
    left, right = core.ends
    holes = [
        hole
        for a, b in fields
        for low, high in pairwise(ribs)
        for hole in _hole((0.5 * (a + b), 0.5 * (low + high)), vent, b - a)
    ]
    return FormPart(
        key="baseboard",
        name="baseboard",
        material_name=board.name,
        thickness=core.foot,
        plane="level",
        outline=rectangle((left, -0.5 * width), (right, 0.5 * width)),
        holes=tuple(holes),
        places=(0.0,),
    )
