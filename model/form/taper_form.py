"""The form of a tapered bend: ribs or stacked sheets, each cut to the section of the true face at its own place.

A board is flat and the face slopes across it, so that it is cut to the larger of its two sides and then bevelled until
a batten lies flat across all of them. Stretchers, baseboard and vents keep to what all ribs have in common.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from ..base import Base, sheets_across
from ..data.carcase import carcase
from ..layup.layup import Layup
from ..materials import Board
from ..shape.loop import FINE, Corner, Loop, LoopPoint, closed, polygon
from ..shape.plane_cut import cut_corners, cut_places, past_ends, plane_cut
from ..shape.profile import Floats
from ..shape.taper import TaperedSheet
from ..tapering import TaperStates, form_margin, form_width
from ..units import Mm
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
from .core import Core, shoulder
from .cores import Cores
from .part import FormPart
from .ribs import RibForm
from .skin import Skin

MARKED: Mm = 0.1
"""Chordal tolerance of lines that are only drawn on a sheet."""
DRAWN: Mm = 0.02
"""Chordal tolerance of both sides of a board where it is drawn with its bevel."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Carcase:
    """Where everything of a tapered form stands.

    Parameters
    ----------
    sheet
        The tapered sheet on the form.
    lift
        What turns heights of the sheet into z.
    past
        How far the face goes on past the last rulings, along its curve.
    width
        Extent across.
    board
        Thickness of the board under the ribs; 0 for none.
    shoulder
        Level top beside both ends of a hollow face; 0 for none.
    """

    sheet: TaperedSheet
    lift: Mm
    past: Mm
    width: Mm
    board: Mm
    shoulder: Mm

    def core(self, y: Mm, height: Mm) -> Core:
        """Section under a height of the sheet in the plane at a place y across."""
        return self._core(cut_corners(self.sheet, y, height, self.past, self.lift), y)

    def at(self, y: Mm, height: Mm, u: Floats) -> Floats:
        """Points ``(n, 2)`` of a height of the sheet in the plane at a place y across, on the rulings u."""
        return np.asarray(plane_cut(self.sheet, y, height, u) + np.array([0.0, self.lift]))

    def places(self, height: Mm, tolerance: Mm) -> Floats:
        """Rulings u between which the face at a height keeps to its chords."""
        return cut_places(self.sheet, self.past, abs(height - self.sheet.reference), tolerance)

    def points(self, y: Mm, height: Mm, tolerance: Mm) -> Core:
        """The same as a row of chords, as many in every plane."""
        spots = self.at(y, height, self.places(height, tolerance))
        return self._core(tuple((x, z, 0.0) for x, z in spots.tolist()), y)

    def edge(self, y: Mm) -> Floats:
        """Points ``(n, 2)`` of the upper side in the plane at a place y across, shoulders included, from left to right."""
        core = self.points(y, 0.0, DRAWN)
        return np.array([*core.left, *(corner[:2] for corner in core.curve), *core.right])

    @property
    def size(self) -> tuple[Mm, Mm, Mm]:
        """Length, width and height of the whole form: its face is straight along each ruling, so both ends tell."""
        points = np.concatenate([self.edge(side * 0.5 * self.width) for side in (-1.0, 1.0)])
        return float(np.ptp(points[:, 0])), self.width, float(points[:, 1].max())

    def _core(self, curve: tuple[Corner, ...], y: Mm) -> Core:
        if self.shoulder == 0.0:
            return Core(curve=curve, left=(), right=(), foot=self.board)
        face = self._face(y)
        left, right = self.outsides
        return Core(
            curve=curve,
            left=shoulder(np.array([left, face[0, 1]]), face[0], curve[0]),
            right=shoulder(np.array([right, face[-1, 1]]), face[-1], curve[-1])[::-1],
            foot=self.board,
        )

    @property
    def outsides(self) -> tuple[Mm, Mm]:
        """Outermost x of the shoulders, the same for all sections."""
        faces = np.concatenate([self._face(side * 0.5 * self.width) for side in (-1.0, 1.0)])
        return float(faces[:, 0].min()) - self.shoulder, float(faces[:, 0].max()) + self.shoulder

    def _face(self, y: Mm) -> Floats:
        return self.at(y, 0.0, self.places(0.0, DRAWN))


@dataclass(frozen=True, slots=True, kw_only=True)
class TaperSheets:
    """A form of a taper of stacked sheets.

    Parameters
    ----------
    carcase
        Where everything stands.
    boards
        The sheets, from the near end on, each with an edge of its own.
    curves
        The edge of each, from left to right, without shoulders and foot.
    """

    carcase: Carcase
    boards: tuple[FormPart, ...]
    curves: tuple[tuple[Corner, ...], ...]

    @property
    def parts(self) -> tuple[FormPart, ...]:
        """All flat boards."""
        return self.boards


@dataclass(frozen=True, slots=True, kw_only=True)
class TaperRibs:
    """A form of a taper of ribs; its boards are the ribs.

    Parameters
    ----------
    carcase, boards, curves
        As in ``TaperSheets``.
    load
        What decided how far apart the ribs stand.
    common
        The sections under the skin, on both sides of every rib.
    stretchers, skins, baseboard
        The rest of it.
    """

    carcase: Carcase
    boards: tuple[FormPart, ...]
    curves: tuple[tuple[Corner, ...], ...]
    load: Load
    common: Cores
    stretchers: tuple[FormPart, ...]
    skins: tuple[Skin, ...]
    baseboard: FormPart | None

    @property
    def bays(self) -> int:
        """Bays between the ribs."""
        return len(self.boards) - 1

    @property
    def spacing(self) -> Mm:
        """Distance of the ribs, middle to middle."""
        return self.load.run / self.bays

    @property
    def middles(self) -> tuple[Mm, ...]:
        """Middle of every rib across, from one side to the other."""
        return tuple(sorted(part.places[0] + 0.5 * part.thickness for part in self.boards))

    def lines_on(self, skin: Skin) -> tuple[Floats, ...]:
        """Rows of points ``(n, 2)`` on a sheet of the skin, laid flat, along the middle of every rib under it."""
        form, height = self.carcase, 0.5 * (skin.low + skin.high)
        u = form.places(height, MARKED)
        ways = (along_rulings(form.sheet, u, y, height) for y in self.middles)
        return tuple(form.sheet.unroll(u, w, height) for w in ways)

    @property
    def parts(self) -> tuple[FormPart, ...]:
        """All flat boards, from below."""
        below = () if self.baseboard is None else (self.baseboard,)
        return (*below, *self.stretchers, *self.boards)

    @property
    def crossings(self) -> tuple[tuple[Mm, Mm], ...]:
        """Left and right side x of every stretcher, from left to right."""
        return tuple(sorted((x, x + part.thickness) for part in self.stretchers for x in part.places))

    @property
    def depth(self) -> Mm:
        """Least height of a rib under the skin."""
        return min(core.depth(*core.ends) for core in self.common.sections)


def carcase_of(layup: Layup, states: TaperStates, base: Base, lift: Mm) -> Carcase:
    """Place everything of a tapered form.

    Parameters
    ----------
    base
        Base of the larger end.
    lift
        What turns heights of the sheet into z.
    """
    sheet = states.pressed
    return Carcase(
        sheet=sheet,
        lift=lift,
        past=past_ends(sheet, form_margin(layup)),
        width=form_width(layup, sheet.width),
        board=base.board,
        shoulder=base.shoulder,
    )


def taper_form(
    layup: Layup, board: Board, states: TaperStates, form: Carcase
) -> TaperRibs | TaperSheets | None:
    """Design the form of a taper; None for a box, and where no skin or no two ribs fit."""
    from_near = states.sides["near"] < 0.0
    if layup.form.build == "stacked":
        return _stacked(layup, board, form, from_near)
    if layup.form.build == "ribs":
        return _ribbed(layup, board, form, from_near)
    return None


def _stacked(layup: Layup, board: Board, form: Carcase, from_near: bool) -> TaperSheets:
    thickness = layup.form.rib
    count = sheets_across(form.width, thickness)
    middles = [-0.5 * form.width + (number + 0.5) * thickness for number in range(count)]
    boards = _boards(form, board, thickness, 0.0, _from_near(middles, from_near), "sheet", (), ())
    return TaperSheets(
        carcase=form,
        boards=tuple(part for part, _ in boards),
        curves=tuple(curve for _, curve in boards),
    )


def _from_near(middles: Sequence[Mm], from_near: bool) -> Sequence[Mm]:
    return middles if from_near else middles[::-1]


def _ribbed(layup: Layup, board: Board, form: Carcase, from_near: bool) -> TaperRibs | None:
    settings = layup.form
    if form.sheet.tightest(-settings.skin, 0.0, 0.5 * (form.width - form.sheet.width))[2] <= 0.0:
        return None
    load = Load(
        width=form.width, skin=settings.skin, rib=settings.rib, board=board, pressure=layup.vacuum.gauge
    )
    under = -settings.skin
    edges = Cores(sections=tuple(form.core(side * 0.5 * form.width, under) for side in (-1.0, 1.0)))
    if min(core.depth(*core.ends) for core in edges.sections) < carcase("rib.least") or most_bays(load) < 1:
        return None
    bays = bays_for_skin(load) if settings.spacing is None else bays_for_spacing(load, settings.spacing)
    middles = tuple(float(y) for y in np.linspace(-0.5 * load.run, 0.5 * load.run, bays + 1))
    half = 0.5 * settings.rib
    common = Cores(sections=tuple(form.core(y + side, under) for y in middles for side in (-half, half)))
    crosses = crosses_in(common, settings.rib)
    fields = fields_between(crosses, common.ends, settings.rib)
    vent = carcase("vent") if settings.vented == "yes" else 0.0
    boards = _boards(
        form,
        board,
        settings.rib,
        under,
        _from_near(middles, from_near),
        "rib",
        tuple(notch_corners(common, crosses, settings.rib)),
        tuple(vents_in(common, fields, vent)),
    )
    return TaperRibs(
        carcase=form,
        load=load,
        common=common,
        boards=tuple(part for part, _ in boards),
        curves=tuple(curve for _, curve in boards),
        stretchers=tuple(
            stretcher_board(
                number, height, places, form.board, form.width, middles, board, settings.rib, vent
            )
            for number, (height, places) in enumerate(by_height(crosses).items(), 1)
        ),
        skins=tuple(_skins(layup, board, form)),
        baseboard=baseboard_under(edges, edges.both_ends, board, form.width, middles, fields, vent)
        if form.board
        else None,
    )


def _boards(
    form: Carcase,
    board: Board,
    thickness: Mm,
    under: Mm,
    middles: Sequence[Mm],
    name: str,
    notches: tuple[LoopPoint, ...],
    holes: tuple[Loop, ...],
) -> list[tuple[FormPart, tuple[Corner, ...]]]:
    """Boards that carry the face or its skin, with the curve of each."""
    found = []
    for number, y in enumerate(middles, 1):
        sides = y - 0.5 * thickness, y + 0.5 * thickness
        cores = [form.core(side, under) for side in sides]
        rows = [form.points(side, under, DRAWN) for side in sides]
        outline, curve = _larger(form, cores, rows, under, notches)
        part = FormPart(
            key=f"{name}-{number}",
            name=f"{name} {number}",
            material_name=board.name,
            thickness=thickness,
            plane="along",
            outline=outline,
            holes=holes,
            places=(sides[0],),
            sides=(_loop(rows[0], notches), _loop(rows[1], notches)),
        )
        found.append((part, curve))
    return found


def _loop(core: Core, notches: tuple[LoopPoint, ...]) -> Loop:
    """Edge of a section, corner by corner."""
    return Loop((*core.curve, *((x, z, 0.0) for x, z in core.around(notches))))


def _larger(
    form: Carcase, cores: Sequence[Core], rows: Sequence[Core], under: Mm, notches: tuple[LoopPoint, ...]
) -> tuple[Loop, tuple[Corner, ...]]:
    """Outline that both sides of a board can be cut out of, with its curve: that of the larger side, or of both together."""
    whole = [closed(_loop(core, ()).corners) for core in cores]
    large = int(abs(whole[1].area) > abs(whole[0].area))
    if _holds(form, rows[large], rows[1 - large], under):
        core = cores[large]
        return closed(_loop(core, notches).corners), core.curve
    # shapely is slow to import, and few tapers are larger in one place and smaller in another
    from shapely import Polygon

    shapes = [Polygon(loop.flattened(FINE)).buffer(0.0) for loop in whole]
    joined = shapes[0].union(shapes[1])
    for left, right, low, high in _slots(notches):
        joined = joined.difference(
            Polygon([(left, low - 1.0), (right, low - 1.0), (right, high), (left, high)])
        )
    corners = np.array(joined.exterior.coords[:-1])
    return polygon(corners.tolist()), _upper(corners)


def _holds(form: Carcase, large: Core, small: Core, under: Mm) -> bool:
    """Whether a section holds all of another one: at each ruling it reaches farther up, and at its ends farther out."""
    one, other = (np.array(core.curve)[:, :2] for core in (large, small))
    normals = form.sheet.frames(form.places(under, DRAWN)).normal[:, [0, 2]]
    over = ((one - other) * normals).sum(axis=1)
    wide = form.shoulder > 0.0 or (one[0, 0] <= other[0, 0] + FINE and one[-1, 0] >= other[-1, 0] - FINE)
    return wide and bool((over >= -FINE).all())


def _slots(notches: tuple[LoopPoint, ...]) -> Iterator[tuple[Mm, Mm, Mm, Mm]]:
    """Left and right side, foot and top of every notch."""
    for number in range(0, len(notches), 4):
        (right, low), (_, high), (left, _), _ = notches[number : number + 4]
        yield left, right, low, high


def _upper(corners: Floats) -> tuple[Corner, ...]:
    """Upper side of an outline, from its leftmost corner over the top to its rightmost one."""
    first, last = int(corners[:, 0].argmin()), int(corners[:, 0].argmax())
    ways = (
        np.roll(corners, -first, axis=0)[: (last - first) % len(corners) + 1],
        np.roll(corners[::-1], first + 1, axis=0)[: (first - last) % len(corners) + 1],
    )
    over = max(ways, key=lambda way: float(way[:, 1].mean()))
    return tuple((x, z, 0.0) for x, z in over.tolist())


def _skins(layup: Layup, board: Board, form: Carcase) -> Iterator[Skin]:
    """Sheets of the skin from below, laid flat: the pattern of the face between the planes where the form ends."""
    count = layup.form.skins
    for number in range(count):
        low, high = (-layup.form.skin * (count - step) / count for step in (number, number + 1))
        outline = _flat(form, 0.5 * (low + high))
        (x0, y0), (x1, y1) = outline.box
        yield Skin(
            key=f"skin-{number + 1}" if count > 1 else "skin",
            name=f"skin {number + 1}" if count > 1 else "skin",
            material_name=board.name,
            low=low,
            high=high,
            length=x1 - x0,
            width=y1 - y0,
            outline=outline,
        )


def _flat(form: Carcase, height: Mm) -> Loop:
    """Face of the form at a height, unrolled."""
    sheet = form.sheet
    u = cut_places(sheet, form.past, abs(height - sheet.reference))
    near, far = (
        sheet.unroll(u, along_rulings(sheet, u, side * 0.5 * form.width, height), height)
        for side in (-1.0, 1.0)
    )
    points = np.concatenate((near, far[::-1]))
    return polygon(points.tolist())


def along_rulings(sheet: TaperedSheet, u: Floats, y: Mm, height: Mm) -> Floats:
    """Places w on the rulings u where they meet the plane at a place y across."""
    frames = sheet.frames(u)
    start = frames.middle[:, 1] + (height - sheet.reference) * frames.normal[:, 1]
    return np.asarray((y - start) / frames.along[:, 1])


def ribs_at(form: TaperRibs, side: float) -> RibForm:
    """Ribs as a section in the plane of one end of the panel shows them, with the outermost one behind it."""
    core = form.carcase.core(side * 0.5 * form.carcase.sheet.width, form.skins[0].low)
    nearest = max(form.boards, key=lambda part: side * part.places[0])
    return RibForm(
        load=form.load,
        bays=form.bays,
        core=core,
        around=core.around(),
        rib=nearest,
        stretchers=form.stretchers,
        skins=form.skins,
        baseboard=form.baseboard,
    )
