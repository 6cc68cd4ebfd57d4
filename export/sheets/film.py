"""The bag as it is drawn in the section: as it lies under vacuum, standing off from the work to be told from it.

The flanges beside it are broken where they are long; their ends stand for
the closed end on the left and the open end, with its fold and tape, on the right.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from ...model.bag.drape import Drape, ValveDisc, drape, valve_disc
from ...model.bag.size import CLOSED_KINDS
from ...model.plan import Plan
from ...model.units import Mm
from ..drawing.curves import Line, Point, Polyline, polygon
from ..drawing.lettering import text_width
from ..drawing.paper import Box
from ..drawing.pens import CENTRE, PHANTOM, WIDE
from ..drawing.primitives import Align, Balloon, Ending, Hatch, Item, Level, Stroke, Text, filled
from .breaks import break_line
from .parts import VALVE

STAND_OFF: Mm = 0.9
"""Distance on paper of the film from the work and from the bench."""
SHORT: Mm = 8.0
"""Length on paper of a flange before it is broken."""
GAP: Mm = 2.5
END: Mm = 5.0
"""Lengths on paper of the gap of a break and of the end behind it."""
NAMES: Mm = 2.5
"""Lettering height of the names of the ends."""
BENCH: Mm = 1.6
"""Distance on paper of the bench from the lower film, where the bench is drawn."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Flange:
    """One flange of the bag: where the work ends above it, where it is broken, and its end; x in the section, mm.

    ``pause`` and ``resume`` are equal where nothing is left out.
    """

    foot: Mm
    pause: Mm
    resume: Mm
    end: Mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Bag:
    """The bag as it is drawn.

    Parameters
    ----------
    items
        Film, ends, tail and valve with its balloon.
    names
        Names of the ends, at their highest places; they may be lowered.
    box
        Everything that is drawn of the film and valve, without the flanges, in the view's mm.
    left, right
        Where the drawn flanges end.
    valve
        Middle of the valve and half of its diagonal; None where it is not drawn.
    """

    items: tuple[Item, ...]
    names: tuple[Text, ...]
    box: Box
    left: Mm
    right: Mm
    valve: tuple[Point, Mm] | None = None


def bag(plan: Plan, unit: Mm) -> Bag:
    """Draw the bag of a plan; ``unit`` is the length in the view of one mm on paper."""
    off = STAND_OFF * unit
    film = drape(plan.stack, plan.base, plan.bag, plan.valve, off)
    disc = valve_disc(film, plan.stack, plan.bag, plan.valve)
    left, right = _flanges(film, disc, unit, plan.valve.over == "tail")
    chain: list[Point] = [(x, z) for x, z in film.section.tolist()]
    items: list[Item] = [
        Stroke(
            curve=Polyline(points=((left.pause, off), *chain, (right.pause, off))), pen=PHANTOM, part="film"
        ),
        _lower(plan, left.pause, right.pause, off),
    ]
    for flange in (left, right):
        items += _broken_end(flange, off, unit, plan)
    valve, corners = _valve(disc)
    items += valve
    if plan.valve.over == "tail":
        items.append(_tail(film, disc, unit))
    if plan.base.kind == "bench" or plan.bag.kind == "sheet on board":
        level = -off - (BENCH * unit if plan.bag.kind != "sheet on board" else 0.0)
        items.append(
            Stroke(curve=Line(start=(left.end, level), end=(right.end, level)), pen=WIDE, part="bench")
        )
    xs, ys = [x for x, _ in (*chain, *corners)], [y for _, y in (*chain, *corners)]
    return Bag(
        items=(*items, _balloon(corners, unit)),
        names=tuple(_names(plan, left, right, off, unit)),
        box=Box(low=(min(xs), -off), high=(max(xs), max(ys))),
        left=left.end,
        right=right.end,
        valve=_around(corners),
    )


def _around(corners: list[Point]) -> tuple[Point, Mm]:
    """Middle of the valve, and how far its corners are from it."""
    (x0, y0), (x1, y1) = corners[0], corners[2]
    return (0.5 * (x0 + x1), 0.5 * (y0 + y1)), 0.5 * math.hypot(x1 - x0, y1 - y0)


def _lower(plan: Plan, left: Mm, right: Mm, off: Mm) -> Stroke:
    """Lower film, or the board that a single sheet is sealed to."""
    is_board = plan.bag.kind == "sheet on board"
    pen = WIDE if is_board else PHANTOM
    return Stroke(
        curve=Line(start=(left, -off), end=(right, -off)), pen=pen, part="board" if is_board else "film"
    )


def _flanges(film: Drape, disc: ValveDisc, unit: Mm, is_beside: bool) -> tuple[Flange, Flange]:
    """Both flanges; each reaches past a valve that sits on it."""
    left, right = float(film.section[0, 0]), float(film.section[-1, 0])
    low, high = left - SHORT * unit, right + SHORT * unit
    x, reach = float(disc.base[0]), disc.radius + 5.0 * unit
    if is_beside and x < left:
        low = min(low, x - reach)
    if is_beside and x > right:
        high = max(high, x + reach)
    # the film may come in under what stands out farther, such as the ends of a half round
    widest = film.section[:, 0]
    return (
        _flange(float(widest.min()), low, float(film.low[0]), unit, -1.0),
        _flange(float(widest.max()), high, float(film.high[0]), unit, 1.0),
    )


def _flange(foot: Mm, pause: Mm, end: Mm, unit: Mm, side: float) -> Flange:
    resume = pause + side * GAP * unit
    drawn_end = resume + side * END * unit
    if side * end <= side * drawn_end:
        return Flange(foot=foot, pause=end, resume=end, end=end)
    return Flange(foot=foot, pause=pause, resume=resume, end=drawn_end)


def _broken_end(flange: Flange, off: Mm, unit: Mm, plan: Plan) -> Iterator[Stroke | Hatch]:
    """Break of a flange and the end behind it, which is a seam or a fold with its tape."""
    side = 1.0 if flange.end >= flange.foot else -1.0
    if flange.pause != flange.resume:
        for level in (off, -off):
            line = Line(start=(flange.resume, level), end=(flange.end, level))
            yield Stroke(curve=line, pen=PHANTOM, part="film")
        for x in (flange.pause, flange.resume):
            yield break_line((x, -off), (x, off), unit)
    if plan.bag.kind in CLOSED_KINDS and side < 0.0:
        yield Stroke(curve=Line(start=(flange.end, -off), end=(flange.end, off)), pen=WIDE, part="film")
    else:
        inner = flange.end - side * 2.5 * unit
        yield filled((inner, -off), (flange.end, -off), (flange.end, off), (inner, off), part="closure")


def _names(plan: Plan, left: Flange, right: Flange, off: Mm, unit: Mm) -> Iterator[Text]:
    """Names of the ends, under them."""
    first = "closed end" if plan.bag.kind in CLOSED_KINDS else "taped"
    last = "open end" if plan.bag.kind in CLOSED_KINDS else "taped"
    level = -off - 3.5 * unit
    for name, flange, side, align in ((first, left, -1.0, Align.LEFT), (last, right, 1.0, Align.RIGHT)):
        # clear of the extension lines under the foot of the work
        width = (text_width(name, NAMES) + 2.0) * unit
        x = side * max(side * flange.end, side * flange.foot + width)
        yield Text(text=name, position=(x, level), height=NAMES, align=align, level=Level.TOP)


def _valve(disc: ValveDisc) -> tuple[list[Stroke], list[Point]]:
    """Disc of the valve with its axis, and its corners."""
    (x, _, z), (dx, _, dz) = disc.base.tolist(), disc.axis.tolist()

    def at(aside: Mm, up: Mm) -> Point:
        return x + aside * dz + up * dx, z - aside * dx + up * dz

    r, h = disc.radius, disc.height
    corners = [at(-r, 0.0), at(r, 0.0), at(r, h), at(-r, h)]
    axis = Line(start=at(0.0, -0.15 * h), end=at(0.0, 1.15 * h))
    strokes = [
        Stroke(curve=polygon(corners), pen=WIDE, part="valve"),
        Stroke(curve=axis, pen=CENTRE, part="valve"),
    ]
    return strokes, corners


def _tail(film: Drape, disc: ValveDisc, unit: Mm) -> Stroke:
    """Breather tail under a valve beside the work."""
    x = float(disc.base[0])
    foot = float(film.section[0, 0] if x < 0.0 else film.section[-1, 0])
    side = -1.0 if x < 0.0 else 1.0
    end = x + side * (disc.radius + 2.0 * unit)
    return Stroke(curve=Line(start=(foot - side * 2.0 * unit, 0.0), end=(end, 0.0)), pen=WIDE, part="tail")


def _balloon(corners: list[Point], unit: Mm) -> Balloon:
    """Balloon of the valve, up and to the left of it."""
    tip = corners[3]
    centre = tip[0] - 7.0 * unit, tip[1] + 5.0 * unit
    return Balloon(points=(tip, centre), text=VALVE, ending=Ending.PLAIN, height=2.5, radius=3.2)
