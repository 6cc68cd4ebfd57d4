"""Edges cut plumb: an outline in plan, carried straight down onto a bent sheet.

A cut straight down through a bent panel meets each of its surfaces at other places of the sheet. A place x of the plan
lies at t where the sheet at a height stands above it; from height to height t moves one way, away from where the
normal leans.
"""

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from ..errors import ShapeError
from ..units import Mm, Radian
from .biarc import biarcs
from .crossing import crossing
from .loop import FINE, NEAR, Corner, Loop, closed, polygon
from .outline import Outline
from .profile import Floats
from .sheet import Sheet, aside
from .strokes import Stroke, strokes

HALVINGS = 45
"""Halvings after which a place is known to the last digit."""
ON_THE_LIMIT: Radian = 1e-9
"""What a last digit may lie past the steepest angle."""
MATCH: Mm = 1e-3
"""Edges that leave each other by less are one."""


@dataclass(frozen=True, slots=True, eq=False)
class Over:
    """What lies over the plan at one height.

    Parameters
    ----------
    at, rate
        The place t over a place x, and its change per x.
    joints
        Places x over which one piece of the sheet goes over into the next.
    """

    at: Callable[[Floats], Floats]
    rate: Callable[[Floats], Floats]
    joints: tuple[Mm, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Footing:
    """Where a sheet stands over the plan: the stretch of it that is nowhere too steep.

    Parameters
    ----------
    t
        Places that rise, so close that the curve is nearly straight between them.
    """

    sheet: Sheet
    t: Floats

    def over(self, height: Mm) -> Over:
        """What lies over the plan at a height."""
        # slow to import, and only outlines in plan need it
        from scipy.interpolate import CubicHermiteSpline

        slope = self.sheet.stretch(height, self.t) * self.sheet.profile.normals(self.t)[:, 1]
        found = CubicHermiteSpline(self._x(self.t, height), self.t, 1.0 / slope)
        joints = self._x(self.sheet.profile.joints(), height)
        return Over(found, found.derivative(), tuple(joints.tolist()))

    def level(self) -> list[Mm]:
        """Places x over which the sheet runs level: there all heights lie plumb above each other."""
        lean = self.sheet.profile.normals(self.t)[:, 0]
        turns = np.flatnonzero((lean[:-1] > 0.0) != (lean[1:] > 0.0))
        before, after = lean[turns], lean[turns + 1]
        t = self.t[turns] + (self.t[turns + 1] - self.t[turns]) * before / (before - after)
        return [float(x) for x in self._x(t, self.sheet.reference)]

    def _x(self, t: Floats, height: Mm) -> Floats:
        return np.asarray(self.sheet.place(t, np.zeros_like(t), height)[:, 0])


def footing(sheet: Sheet, span: tuple[Mm, Mm], heights: tuple[Mm, Mm], steepest: Radian) -> Footing:
    """Stretch of a sheet that lies above a span of the plan.

    Parameters
    ----------
    span
        Leftmost and rightmost place x of the outline.
    heights
        Between which the work lies.
    steepest
        Angle from level up to which an outline may be given in plan.

    Raises
    ------
    ShapeError
        The sheet is steeper somewhere above the span; the text names the place and the angle.
    """
    t = _stations(sheet, span, heights)
    lean = _lean(sheet, t)
    steep = np.flatnonzero(lean > steepest + ON_THE_LIMIT)
    middle = int(np.abs(t).argmin())
    if lean[middle] > steepest + ON_THE_LIMIT:
        raise ShapeError(
            f"in the middle the surface stands at {math.degrees(float(lean[middle])):.1f}° from level, and an outline in "
            f"plan needs it within {math.degrees(steepest):.0f}°; give the outline on the unrolled sheet"
        )
    first = int(steep[steep < middle].max(initial=-1)) + 1
    last = int(steep[steep > middle].min(initial=len(t))) - 1
    ends = [float(t[first]), float(t[last])]
    for number, (end, past) in enumerate(((first, first - 1), (last, last + 1))):
        if 0 <= past < len(t):
            ends[number] = _limit(sheet, float(t[end]), float(t[past]), steepest)
            _demand_reach(sheet, ends[number], span[number], heights, t)
    inner = t[(t > ends[0] + MATCH) & (t < ends[1] - MATCH)]
    return Footing(sheet, np.concatenate(([ends[0]], inner, [ends[1]])))


def _stations(sheet: Sheet, span: tuple[Mm, Mm], heights: tuple[Mm, Mm]) -> Floats:
    """Places t close to each other, with what goes on straight past the ends of the profile.

    In place of each joint there are two beside it: off the profile the slope is another one on either side.
    """
    profile = sheet.profile
    half = 0.5 * profile.length + span[1] - span[0]
    reach = max(abs(height - sheet.reference) for height in heights)
    joints = profile.joints()
    t = np.concatenate((profile.places(), profile.stations(reach, FINE)))
    t = t[np.abs(t[:, None] - joints).min(axis=1) > MATCH]
    t = np.unique(np.concatenate((t, joints - MATCH, joints + MATCH, [-half, half])))
    return np.asarray(t[np.concatenate(([True], np.diff(t) > 0.5 * MATCH))])


def _lean(sheet: Sheet, t: Floats) -> Floats:
    """Angles of a sheet from level at places t."""
    normal = sheet.profile.normals(t)
    return np.asarray(np.abs(np.arctan2(normal[:, 0], normal[:, 1])))


def _demand_reach(sheet: Sheet, end: Mm, x: Mm, heights: tuple[Mm, Mm], t: Floats) -> None:
    """Refuse a sheet that grows too steep at a place before it has reached a place x of the plan."""
    at = np.array([end])
    past = max(
        (float(sheet.place(at, np.zeros(1), height)[0, 0]) for height in heights),
        key=lambda spot: -spot * end,
    )
    side = math.copysign(1.0, end)
    if side * (x - past) <= MATCH:
        return
    half = 0.5 * sheet.profile.length
    beyond = t[(side * t >= side * end) & (np.abs(t) <= half)]
    lean = _lean(sheet, beyond)
    worst = int(lean.argmax())
    raise ShapeError(
        f"from {aside(end)} on the surface is steeper than {math.degrees(_lean(sheet, at)[0]):.0f}° from level "
        f"({math.degrees(float(lean[worst])):.1f}° {aside(float(beyond[worst]))}), and the outline in plan reaches "
        f"{abs(x - past):.1f} mm further; make it shorter, or give it on the unrolled sheet"
    )


def _limit(sheet: Sheet, within: Mm, beyond: Mm, steepest: Radian) -> Mm:
    """Place between two others from which the sheet is steeper than an angle."""
    for _ in range(HALVINGS):
        middle = 0.5 * (within + beyond)
        if _lean(sheet, np.array([middle]))[0] <= steepest:
            within = middle
        else:
            beyond = middle
    return within


def plumb_loops(plan: Outline, ground: Footing, heights: Sequence[Mm]) -> tuple[Loop, ...]:
    """Edge and holes on the plane of t and w that cover a plumb cut at each of some heights and all between.

    One height gives the very line of the cut there. Edges are lines and true arcs within ``FINE``.
    """
    level, over = ground.level(), [ground.over(height) for height in heights]
    found = []
    for row in strokes(plan):
        # along the sheet a cut stays where it is: what lies between the ends of its neighbours is a straight line
        trails = [trail for stroke in row for trail in _trails(stroke, over, level)]
        trails = _without_hidden(trails)
        met = [_met(one, other) for one, other in zip(trails, (*trails[1:], trails[0]), strict=True)]
        found.append(closed(_corners(trails, met)))
    if len(heights) > 1 and crossing(found) is not None:
        return _united(plan, ground, heights)
    edge, *holes = found
    return edge, *(hole.backwards() for hole in holes)


@dataclass(frozen=True, slots=True, eq=False)
class _Trail:
    """A part of a stroke of the plan, carried onto the sheet at the height that has it outermost."""

    stroke: Stroke
    over: Over
    first: float
    last: float

    def curve(self, u: Floats) -> tuple[Floats, Floats]:
        """Places t and w, and unit directions."""
        spots, way, _ = self.stroke.at(u)
        moved = np.column_stack((way[:, 0] * self.over.rate(spots[:, 0]), way[:, 1]))
        places = np.column_stack((self.over.at(spots[:, 0]), spots[:, 1]))
        return places, moved / np.hypot(*moved.T)[:, None]

    def spot(self, u: float) -> tuple[Mm, Mm]:
        """One place, t and w."""
        t, w = self.curve(np.array([u]))[0][0].tolist()
        return t, w

    def level_with(self, w: Mm) -> float:
        """Parameter at which it passes a place w, which neither falls nor rises but once."""
        return _bisected(lambda u: float(self.stroke.at(np.array([u]))[0][0, 1]) - w, self.first, self.last)


def _trails(stroke: Stroke, over: Sequence[Over], level: Iterable[Mm]) -> Iterator[_Trail]:
    """Parts of a stroke between the places over which the sheet runs level; none of one that runs along the sheet."""
    (start, end), _, _ = stroke.at(np.array([0.0, 1.0]))
    if abs(end[1] - start[1]) <= NEAR:
        return
    # the region lies at the left: where w rises its outside is that of rising t
    side = math.copysign(1.0, end[1] - start[1])
    for first, last in pairwise([0.0, *_above(stroke, level, 0.0, 1.0), 1.0]):
        x = stroke.at(np.array([0.5 * (first + last)]))[0][:, 0]
        outermost = max(over, key=lambda one: side * float(one.at(x)[0]))
        yield _Trail(stroke, outermost, first, last)


def _without_hidden(trails: Sequence[_Trail]) -> list[_Trail]:
    """Trails without those that lie wholly past where their neighbours meet, in a notch that is narrower than the shift."""
    kept = list(trails)
    number = 0
    while number < len(kept) > 2:
        pair = kept[number], kept[(number + 1) % len(kept)]
        foot = _foot(*pair)
        if foot is None or foot.is_clear or foot.is_crossed:
            number += 1
            continue
        kept.remove(pair[0] if abs(pair[0].spot(pair[0].first)[1] - foot.near) <= NEAR else pair[1])
        number = max(number - 1, 0)
    return kept


@dataclass(frozen=True, slots=True, eq=False)
class _Foot:
    """The foot of a notch, or of a tip, between two trails that climb from it to the same side.

    Parameters
    ----------
    low, near
        Places w between which both trails run, from the foot on.
    order, at_low, at_near
        Whether the first trail lies farther along than the second: on the plan, at the foot, and at the far end.
    """

    low: Mm
    near: Mm
    order: bool
    at_low: bool
    at_near: bool

    @property
    def is_clear(self) -> bool:
        """Whether the trails lie as they do on the plan from the foot on."""
        return self.at_low == self.order

    @property
    def is_crossed(self) -> bool:
        """Whether they cross between the foot and the far end."""
        return not self.is_clear and self.at_near == self.order


def _foot(one: _Trail, other: _Trail) -> _Foot | None:
    """Foot between two trails; None where one goes on as the other began."""
    begin, end = one.spot(one.first)[1], one.spot(one.last)[1]
    start, stop = other.spot(other.first)[1], other.spot(other.last)[1]
    if (begin > end) != (stop > start):
        return None
    side = 1.0 if begin > end else -1.0
    low, near = max(end, start, key=lambda w: side * w), min(begin, stop, key=lambda w: side * w)
    if side * (near - low) <= NEAR:
        return None
    u, v = one.level_with(near), other.level_with(near)
    x, y = (float(trail.stroke.at(np.array([place]))[0][0, 0]) for trail, place in ((one, u), (other, v)))
    return _Foot(
        low=low,
        near=near,
        order=x > y,
        at_low=_apart(one, other, low) > 0.0,
        at_near=_apart(one, other, near) > 0.0,
    )


def _apart(one: _Trail, other: _Trail, w: Mm) -> Mm:
    """How far one trail lies along from the other at a place w."""
    return one.spot(one.level_with(w))[0] - other.spot(other.level_with(w))[0]


def _met(one: _Trail, other: _Trail) -> tuple[float, float] | None:
    """Parameters at which a trail meets the next one before its end, at the foot of a notch; None where it does not."""
    foot = _foot(one, other)
    if foot is None or not foot.is_crossed:
        return None
    w = _bisected(lambda w: _apart(one, other, w), foot.low, foot.near)
    return one.level_with(w), other.level_with(w)


def _corners(trails: Sequence[_Trail], met: Sequence[tuple[float, float] | None]) -> Iterator[Corner]:
    """Corners along all trails, each to where it meets the next."""
    for number, trail in enumerate(trails):
        before, after = met[number - 1], met[number]
        first = trail.first if before is None else before[1]
        last = trail.last if after is None else after[0]
        start, end = trail.spot(first), trail.spot(last)
        if abs(start[0] - end[0]) <= NEAR:
            yield *start, 0.0
        else:
            # the curve turns at another rate after a joint
            for low, high in pairwise([first, *_above(trail.stroke, trail.over.joints, first, last), last]):
                yield from biarcs(trail.curve, low, high, FINE)
        yield *end, 0.0


def _above(stroke: Stroke, places: Iterable[Mm], first: float, last: float) -> list[float]:
    """Parameters between two others at which a stroke lies over places x of the plan, in rising order."""
    ends = stroke.at(np.array([first, last]))[0][:, 0]
    inside = [x for x in places if ends.min() + MATCH < x < ends.max() - MATCH]

    def reached(x: Mm) -> float:
        return _bisected(lambda u: float(stroke.at(np.array([u]))[0][0, 0]) - x, first, last)

    return sorted(map(reached, inside))


def _bisected(rising: Callable[[float], float], low: float, high: float) -> float:
    """Place between two others at which a function goes over from one sign to the other."""
    is_up = rising(high) > rising(low)
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        if (rising(middle) > 0.0) == is_up:
            high = middle
        else:
            low = middle
    return 0.5 * (low + high)


def _united(plan: Outline, ground: Footing, heights: Sequence[Mm]) -> tuple[Loop, ...]:
    """Edge and holes of everything that the cut meets at some height, as chords: for notches that nearly close."""
    from shapely import Polygon, unary_union

    low, high = (plumb_loops(plan, ground, (height,)) for height in (min(heights), max(heights)))
    pieces = [
        Polygon(loops[0].flattened(FINE), [hole.flattened(FINE) for hole in loops[1:]])
        for loops in (low, high)
    ]
    for row in strokes(plan):
        x, w = np.concatenate([stroke.at(np.linspace(0.0, 1.0, 65))[0][:-1] for stroke in row]).T
        one, other = (ground.over(height).at(x) for height in (min(heights), max(heights)))
        swept = np.stack((np.column_stack((one, w)), np.column_stack((other, w))))
        after = np.roll(swept, -1, axis=1)
        for number in range(len(x)):
            ring = np.array([swept[0, number], after[0, number], after[1, number], swept[1, number]])
            pieces.append(Polygon(ring).convex_hull)
    whole = unary_union([piece for piece in pieces if piece.area > 0.0]).simplify(MATCH)
    return tuple(
        polygon(ring.coords[:-1]) if ring.is_ccw else polygon(ring.coords[-2::-1])
        for ring in (whole.exterior, *whole.interiors)
    )
