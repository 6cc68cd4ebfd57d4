"""Panes: the region inside an outline, cut along the rulings at which one piece of a bend goes over into the next.

Each pane lies on one piece of the sheet. Its edge is made of parts of the outline's own edge, and of the cuts between
it and its neighbours; the region lies at the left of every edge.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from ..model.shape.outline import Outline
from ..model.shape.profile import Floats
from ..model.shape.strokes import Spot, Straight, Stroke, strokes
from ..model.units import Mm

NEAR: Mm = 1e-6
"""Places of an edge that come nearer than this to a cut lie on it."""
HALVINGS = 60
"""Halvings after which a crossing is known to the last digit."""
FLATTENED = 65
"""Places of each part of an edge by which is told what lies inside."""


@dataclass(frozen=True, slots=True, eq=False)
class Part:
    """A part of an outline's edge between two parameters of its stroke, on one piece of the sheet.

    Parameters
    ----------
    piece
        Number of the piece: 0 is what goes on straight before the first.
    begin, end
        Numbers of its corners.
    """

    stroke: Stroke
    first: float
    last: float
    piece: int
    begin: int
    end: int

    def at(self, u: Floats) -> tuple[Floats, Floats, Floats]:
        """Places with their derivatives by the stroke's own parameter."""
        return self.stroke.at(u)

    def crossed(self, place: Mm) -> float:
        """Parameter at which it crosses a place t."""
        return _crossed(self.stroke, place)


@dataclass(frozen=True, slots=True, eq=False)
class Crossing:
    """A straight cut along a ruling between one piece of the sheet and the next, walked with rising w."""

    begin: int
    end: int
    piece: int


Step = tuple[int, bool]
"""An edge of a pane: number of a part, or of a crossing after the parts; and whether it is walked backwards."""


@dataclass(frozen=True, slots=True, eq=False)
class Pane:
    """A pane: the piece it lies on, its edge anticlockwise and the edges of its holes clockwise."""

    piece: int
    edge: tuple[Step, ...]
    holes: tuple[tuple[Step, ...], ...]


@dataclass(frozen=True, slots=True, eq=False)
class Panes:
    """The region inside an outline.

    Parameters
    ----------
    corners
        ``(n, 2)`` places t and w of all corners.
    parts, crossings
        Stretches of the outline's edge, and the cuts between panes.
    """

    corners: Floats
    parts: tuple[Part, ...]
    crossings: tuple[Crossing, ...]
    panes: tuple[Pane, ...]


def panes(outline: Outline, joints: Sequence[Mm]) -> Panes:
    """Cut the region inside an outline along the rulings at some places t, which rise."""
    corners: list[Spot] = []
    parts: list[Part] = []
    for loop in strokes(outline):
        _cut_loop(loop, joints, corners, parts)
    spots = np.array(corners)
    rings = _flattened(parts)
    crossings = [
        Crossing(a, b, number)
        for number, joint in enumerate(joints)
        for a, b in _inner(spots, parts, joint, rings)
    ]
    found = []
    for piece in range(len(joints) + 1):
        edges = [(number, False) for number, part in enumerate(parts) if part.piece == piece]
        # the pane before a cut has it at its end, walked with rising w; the one after it the other way
        for number, crossing in enumerate(crossings, len(parts)):
            if piece in (crossing.piece, crossing.piece + 1):
                edges.append((number, piece > crossing.piece))
        found += _assembled(piece, edges, spots, parts, crossings)
    return Panes(corners=spots, parts=tuple(parts), crossings=tuple(crossings), panes=tuple(found))


def _cut_loop(loop: Sequence[Stroke], joints: Sequence[Mm], corners: list[Spot], parts: list[Part]) -> None:
    """Add the corners and the parts of one closed row of strokes."""
    base = len(corners)
    ends = np.array([stroke.at(np.zeros(1))[0][0] for stroke in loop])
    ends[:, 0] = [_snapped(t, joints) for t in ends[:, 0]]
    loop = [
        Straight(tuple(ends[number]), tuple(ends[(number + 1) % len(loop)])) if stroke.is_straight else stroke
        for number, stroke in enumerate(loop)
    ]
    found: list[tuple[Stroke, float, float, int]] = []
    for number, stroke in enumerate(loop):
        start, end = ends[number], ends[(number + 1) % len(loop)]
        low, high = sorted((float(start[0]), float(end[0])))
        between = [joint for joint in joints if low < joint < high]
        if end[0] < start[0]:
            between.reverse()
        marks = [0.0, *(_crossed(stroke, joint) for joint in between), 1.0]
        across = stroke.at(np.array(marks[1:-1]))[0][:, 1].tolist()
        spots = [tuple(start.tolist()), *zip(between, across, strict=True), tuple(end.tolist())]
        for (a, b), (u, v) in zip(pairwise(spots), pairwise(marks), strict=True):
            corners.append((a[0], a[1]))
            found.append((stroke, u, v, _piece(a, b, joints)))
    for number, (stroke, u, v, piece) in enumerate(found):
        after = (number + 1) % len(found)
        parts.append(Part(stroke, u, v, piece, base + number, base + after))


def _snapped(t: Mm, joints: Sequence[Mm]) -> Mm:
    return next((joint for joint in joints if abs(t - joint) <= NEAR), float(t))


def _crossed(stroke: Stroke, joint: Mm) -> float:
    """Parameter at which a stroke crosses a place t."""
    low, high = 0.0, 1.0
    ends = stroke.at(np.array([0.0, 1.0]))[0][:, 0]
    rising = ends[1] > ends[0]
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        if (stroke.at(np.array([middle]))[0][0, 0] < joint) == rising:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


def _piece(start: Spot, end: Spot, joints: Sequence[Mm]) -> int:
    """Piece on which a part lies; one along a cut belongs to the side at its left, where the region is."""
    middle = 0.5 * (start[0] + end[0])
    if start[0] == end[0] and start[0] in joints:
        rising = end[1] > start[1]
        return int(np.searchsorted(joints, start[0], side="left" if rising else "right"))
    return int(np.searchsorted(joints, middle))


def _flattened(parts: Sequence[Part]) -> Floats:
    """Chords ``(n, 4)`` along all edges."""
    rows = []
    for part in parts:
        count = 2 if part.stroke.is_straight else FLATTENED
        points = part.at(np.linspace(part.first, part.last, count))[0]
        rows.append(np.column_stack((points[:-1], points[1:])))
    return np.concatenate(rows)


def _is_inside(spot: Spot, chords: Floats) -> bool:
    """Whether a place lies inside: how often the edges turn around it."""
    t, w = spot
    x0, y0, x1, y1 = (chords - np.array([t, w, t, w])).T
    turn = np.arctan2(x0 * y1 - x1 * y0, x0 * x1 + y0 * y1).sum()
    return bool(abs(turn) > math.pi)


def _inner(corners: Floats, parts: Sequence[Part], joint: Mm, chords: Floats) -> Iterator[tuple[int, int]]:
    """Corners of the stretches of a ruling that lie inside, each pair with rising w."""
    there = np.flatnonzero(corners[:, 0] == joint)
    there = there[np.argsort(corners[there, 1])]
    along = {frozenset((part.begin, part.end)) for part in parts if part.stroke.is_straight}
    for a, b in pairwise(there.tolist()):
        middle = 0.5 * (corners[a, 1] + corners[b, 1])
        if (
            frozenset((a, b)) not in along
            and corners[b, 1] - corners[a, 1] > NEAR
            and _is_inside((joint, middle), chords)
        ):
            yield a, b


def _assembled(
    piece: int, steps: Sequence[Step], corners: Floats, parts: Sequence[Part], crossings: Sequence[Crossing]
) -> list[Pane]:
    """Panes on one piece from all edges that lie on it."""
    tracks = {step: _track(step, corners, parts, crossings) for step in steps}
    rows = _closed_rows(tracks)
    points = [np.concatenate([track.points[:-1] for track in row]) for row in rows]
    named = [tuple(track.step for track in row) for row in rows]
    found = []
    for row, ring in zip(named, points, strict=True):
        if _area(ring) > 0.0:
            chords = np.column_stack((ring, np.roll(ring, -1, axis=0)))
            holes = (
                other
                for other, spots in zip(named, points, strict=True)
                if _area(spots) < 0.0 and _is_inside((float(spots[0, 0]), float(spots[0, 1])), chords)
            )
            found.append(Pane(piece, row, tuple(holes)))
    return found


@dataclass(frozen=True, slots=True, eq=False)
class _Track:
    """An edge of a pane as it is walked: its first and last corner, and places along it."""

    step: Step
    first: int
    last: int
    points: Floats


def _track(step: Step, corners: Floats, parts: Sequence[Part], crossings: Sequence[Crossing]) -> _Track:
    number, back = step
    edge: Part | Crossing
    if number < len(parts):
        edge = parts[number]
        count = 2 if edge.stroke.is_straight else FLATTENED
        points = edge.at(np.linspace(edge.first, edge.last, count))[0]
    else:
        edge = crossings[number - len(parts)]
        points = corners[[edge.begin, edge.end]]
    if back:
        return _Track(step, edge.end, edge.begin, points[::-1])
    return _Track(step, edge.begin, edge.end, points)


def _closed_rows(tracks: Mapping[Step, _Track]) -> list[list[_Track]]:
    """Rows of edges that each run back to where they began."""
    leaving: dict[int, list[_Track]] = {}
    for track in tracks.values():
        leaving.setdefault(track.first, []).append(track)
    found = []
    waiting = dict(tracks)
    while waiting:
        row = [waiting.pop(next(iter(waiting)))]
        leaving[row[0].first].remove(row[0])
        while row[-1].last != row[0].first:
            after = _leftmost(row[-1], leaving[row[-1].last])
            leaving[after.first].remove(after)
            del waiting[after.step]
            row.append(after)
        found.append(row)
    return found


def _leftmost(arriving: _Track, choices: Sequence[_Track]) -> _Track:
    """Of several edges that leave a corner the one that keeps most to the left: it bounds the same region."""
    back = _direction(arriving.points[::-1])
    return min(choices, key=lambda track: (back - _direction(track.points)) % (2.0 * math.pi))


def _direction(points: Floats) -> float:
    """Direction in which a row of places leaves its first."""
    step = points[1] - points[0]
    return math.atan2(step[1], step[0])


def _area(points: Floats) -> float:
    x, y = points.T
    return 0.5 * float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))
