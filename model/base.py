"""What the work lies on: the platen or bench under flat work, the form under a bend.

Both are described in the plane of the panel's length: x along the chord, z up, z = 0 at the underside.
"""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from .chosen import Chosen
from .data.limits import limit
from .layup.layup import Layup
from .materials import Board
from .shape.outline import Outline, Rectangle, RoundedRectangle
from .shape.profile import Floats, Profile
from .shape.sheet import Sheet
from .stack import core_outline, straight_cut, veneer_outline
from .units import Mm

HALF_TURN = 3.141592653589793
DRAWN_CHORD: Mm = 0.02
"""Chordal tolerance of the form's face where it is used as a row of points."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Base:
    """The platen, bench or form.

    Parameters
    ----------
    kind
        ``"platen"``, ``"bench"`` where the bag lies straight on a flat bench, or ``"form"``.
    material, material_name
        What it is made of; empty for a bench.
    outline
        Its edge on the plane of the sheet.
    lift
        Height of the sheet's chord above the underside, mm: what turns heights of the sheet into z.
    lowest
        Height of the lowest point of the face above the underside, mm.
    face
        ``(n, 2)`` points of the face from end to end, x and z, mm.
    board
        Thickness of the board under the ribs of a form, which its heights include; 0 for none.
    shoulder
        Level top beside both ends of a hollow face, so that its walls have a thickness, mm.
    """

    kind: Literal["platen", "bench", "form"]
    material: str
    material_name: str
    outline: Outline
    lift: Mm
    lowest: Mm
    face: Floats
    board: Mm = 0.0
    shoulder: Mm = 0.0

    @property
    def highest(self) -> Mm:
        """Height of the highest point of the face above the underside."""
        return float(self.face[:, 1].max())

    @property
    def foot(self) -> tuple[Mm, Mm]:
        """Leftmost and rightmost x of the base."""
        return float(self.upper[:, 0].min()), float(self.upper[:, 0].max())

    @property
    def length(self) -> Mm:
        """Extent along x."""
        left, right = self.foot
        return right - left

    @property
    def upper(self) -> Floats:
        """Points ``(n, 2)`` of the upper side: the face, and the shoulders beside it."""
        if self.shoulder == 0.0:
            return self.face
        # from the widest place of the hollow, which may lie below its mouth
        left, right = self.face[:, 0].min() - self.shoulder, self.face[:, 0].max() + self.shoulder
        return np.concatenate(([[left, self.face[0, 1]]], self.face, [[right, self.face[-1, 1]]]))

    @property
    def section(self) -> Floats:
        """Closed polygon ``(n, 2)`` of the base in the plane of the length, from the lower left corner clockwise."""
        first, last = self.upper[0], self.upper[-1]
        return np.concatenate(([[first[0], 0.0]], self.upper, [[last[0], 0.0]]))


CHORDS = 8
"""Steps to a level place between two neighbours; the lean is all but straight there, and each gains digits."""


def base_of(layup: Layup, chosen: Chosen, sheet: Sheet, raised: Mm = 0.0) -> Base:
    """Platen, bench or form of a layup whose layers follow the sheet; a form may stand ``raised`` over its base."""
    core = core_outline(layup)
    return (
        _platen(layup, chosen.platen, core, sheet)
        if chosen.form is None
        else _form(layup, chosen.form, sheet, raised)
    )


def is_undercut(pressed: Sheet, released: Sheet) -> bool:
    """Whether the work could not be drawn off its form, which would reach around under itself.

    A panel of up to a half round opens off a form that leans in a little, since it springs back.
    """
    is_closed = released.profile.swing > HALF_TURN * (1.0 + 1e-9)
    return is_closed or pressed.profile.swing > HALF_TURN + limit("form.lean")


def sheets_across(width: Mm, thickness: Mm) -> int:
    """Fewest sheets that are stacked as wide as a form has to be."""
    return max(1, math.ceil(width / thickness - 1e-9))


def _platen(layup: Layup, board: Board | None, core: Outline, sheet: Sheet) -> Base:
    platen = layup.platen
    around = veneer_outline(layup, core)
    thickness = 0.0 if board is None else platen.thickness
    if board is None:
        outline: Outline = straight_cut(around, 0.0)
    else:
        plate = straight_cut(core, platen.margin)
        length, width = plate.length, plate.width
        corner = min(platen.corner, 0.5 * min(length, width))
        outline = RoundedRectangle(length, width, corner) if corner > 0.0 else Rectangle(length, width)
    half = 0.5 * outline.length
    return Base(
        kind="bench" if board is None else "platen",
        material="" if board is None else board.key,
        material_name="" if board is None else board.name,
        outline=outline,
        lift=thickness + sheet.reference,
        lowest=thickness,
        face=np.array([[-half, thickness], [half, thickness]]),
    )


def _form(layup: Layup, board: Board, sheet: Sheet, raised: Mm) -> Base:
    form, trim = layup.form, layup.substrate.trim
    grown = trim + form.margin
    width = layup.panel.width + 2.0 * grown
    if form.build == "stacked":
        # only whole sheets can be stacked
        width = form.rib * sheets_across(width, form.rib)
    board_below = form.rib if form.build == "ribs" and form.baseboard == "yes" else 0.0
    outline = Rectangle(layup.panel.length + 2.0 * grown, width)
    half = 0.5 * outline.length
    t = np.union1d(sheet.profile.stations(sheet.reference, DRAWN_CHORD), [-half, half])
    t = np.union1d(t, _level_places(sheet.profile, t))
    face = sheet.place(t, np.zeros_like(t), 0.0)[:, [0, 2]]
    lowest = board_below + form.base + raised
    lift = lowest - float(face[:, 1].min())
    return Base(
        kind="form",
        material=board.key,
        material_name=board.name,
        outline=outline,
        lift=lift,
        lowest=lowest,
        face=face + np.array([0.0, lift]),
        board=board_below,
        shoulder=form.base if sheet.profile.turn < 0.0 else 0.0,
    )


def _level_places(profile: Profile, t: Floats) -> Floats:
    """Places at which a profile runs level, between neighbours of a row of places: its highest and lowest points."""
    lean = profile.normals(t)[:, 0]
    turns = np.flatnonzero(lean[:-1] * lean[1:] < 0.0)
    far, near, far_lean, near_lean = t[turns], t[turns + 1], lean[turns], lean[turns + 1]
    for _ in range(CHORDS):
        rise = near_lean - far_lean
        place = near - near_lean * (near - far) / np.where(rise == 0.0, 1.0, rise)
        found = profile.normals(place)[:, 0]
        # the level place stays between both; an end that stays for long counts half, so that it is drawn in too
        is_same = found * near_lean > 0.0
        far, far_lean = np.where(is_same, far, near), np.where(is_same, 0.5 * far_lean, near_lean)
        near, near_lean = place, found
    return near
