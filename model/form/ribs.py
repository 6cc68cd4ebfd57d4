"""A form of ribs: ribs and stretchers halved into each other, a bent skin over them, a vented board below.

The ribs stand along the bend, each cut to the same edge: the form's face, less the skin. Stretchers stand across,
as high as the ribs are at their place. Ribs are notched from below and stretchers from above, each through
half of the height, so that the ribs drop over the stretchers. Every cell between them has a hole into each neighbour
and one through the board, so that no hollow is closed.
"""

from dataclasses import dataclass

import numpy as np

from ..base import Base
from ..data.carcase import carcase
from ..layup.layup import Layup
from ..materials import Board
from ..shape.loop import LoopPoint, closed
from ..shape.sheet import Sheet
from ..units import Mm
from ..wording import both
from .bays import Load, bays_for_skin, bays_for_spacing, most_bays
from .boards import (
    baseboard_under,
    by_height,
    crosses_in,
    fields_between,
    notch_corners,
    stretcher_board,
    vents_in,
)
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
    def middles(self) -> tuple[Mm, ...]:
        """Middle of every rib across, from one side to the other."""
        return tuple(y + 0.5 * self.rib.thickness for y in self.rib.places)

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
    crosses = crosses_in(core, form.rib)
    fields = fields_between(crosses, ends, form.rib)
    vent = carcase("vent") if form.vented == "yes" else 0.0
    around = core.around(tuple(notch_corners(core, crosses, form.rib)))
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
            holes=tuple(vents_in(core, fields, vent)),
            places=tuple(y - 0.5 * form.rib for y in middles),
        ),
        stretchers=tuple(
            stretcher_board(number, height, places, core.foot, width, middles, board, form.rib, vent)
            for number, (height, places) in enumerate(by_height(crosses).items(), 1)
        ),
        skins=skins,
        baseboard=baseboard_under(core, (core.ends, core.ends), board, width, middles, fields, vent)
        if base.board
        else None,
    )
