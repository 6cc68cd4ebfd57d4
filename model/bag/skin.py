"""Skins over terraces: the surface of the work, moved outward, as rows of corners around it.

Every row runs once around the work with as many corners as any other: along the front from left to right, and back
along the rear. The first row lies on the bench, the last is the edge of the uppermost top. Between two neighbours
lies a wall or a tread; where one is not there the corners of both rows coincide. Over level work the corners of a
column lie farthest in one direction, so that round edges are followed in equal turns and a square one takes a corner;
over a bend they lie on one ruling.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from ..base import Base
from ..shape.mesh import Indices
from ..shape.outline import Outline, Rectangle
from ..shape.profile import Floats
from ..shape.sheet import Sheet
from ..units import Mm, Radian
from .terraces import Terrace

SAME: Mm = 1e-6
"""Places closer than this are one."""
RIGHT: Radian = 0.5 * math.pi
"""A right angle."""
INSIDE: Mm = 5.0
"""How far inside the edge of the base the end of a hanging sheet is drawn at least."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Ground:
    """What skins are made of.

    Parameters
    ----------
    sheet, base
        What the layers follow and what they lie on.
    rows
        The terraces, from the base upward.
    turns
        Directions in which the edges of the terraces are followed, rad from t toward w, from 0 to π/2.
    t
        ``(n,)`` places along the sheet at which the lowest row has a corner at the front and one at the rear.
    face
        ``(n, 2)`` points of the base's upper side there, x and z.
    """

    sheet: Sheet
    base: Base
    rows: tuple[Terrace, ...]
    turns: Floats
    t: Floats
    face: Floats


def ground(sheet: Sheet, base: Base, rows: tuple[Terrace, ...], reach: Mm, tolerance: Mm) -> Ground:
    """Places along the sheet for terraces up to a height ``reach``, within a chordal tolerance."""
    turns = _turns(rows, tolerance)
    t = (
        _both_sides(-1.0, rows[0].farthest(turns)[0])
        if sheet.profile.is_flat
        else _stations(sheet, base, rows, reach, tolerance)
    )
    half = 0.5 * base.outline.length if base.shoulder > 0.0 else rows[0].half_length
    inside = np.clip(t, -half, half)
    face = _plane(sheet, base, inside, np.zeros_like(t))
    face[:, 0] += t - inside
    return Ground(sheet=sheet, base=base, rows=rows, turns=turns, t=t, face=face)


def _turns(rows: Sequence[Terrace], tolerance: Mm) -> Floats:
    """Directions that follow round edges within a chordal tolerance; one between the sides where all are square.

    Of the outlines of one kind the one that needs most stands for all of them, for they differ by a margin.
    """
    finest: dict[type[Outline], Floats] = {}
    for outline in (outline for row in rows for outline in row.outlines):
        turns = outline.turns(tolerance)
        if turns.size > finest.get(type(outline), turns[:0]).size:
            finest[type(outline)] = turns
    if len(finest) > 1:
        # a square corner is met in any direction
        finest.pop(Rectangle, None)
    turns = np.sort(np.concatenate(list(finest.values())))
    kept: Floats = turns[np.concatenate(([True], np.diff(turns) > SAME))]
    return kept


def _stations(sheet: Sheet, base: Base, rows: Sequence[Terrace], reach: Mm, tolerance: Mm) -> Floats:
    """Places along a bend: where it turns, and where a terrace ends."""
    ends = np.array([row.half_length for row in rows])
    places = [sheet.profile.stations(reach + abs(sheet.reference), tolerance), -ends, ends]
    low, high = -ends[0], ends[0]
    if base.shoulder > 0.0:
        places.append(_shoulders(base))
        low, high = places[-1][[0, -1]]
    t = np.sort(np.concatenate(places))
    t = t[(t >= low - SAME) & (t <= high + SAME)]
    kept: Floats = t[np.concatenate(([True], np.diff(t) > SAME))]
    return kept


def _both_sides(sign: float, half: Floats) -> Floats:
    """Numbers of the right half, from its end to the middle, as those of a whole row from left to right."""
    return np.concatenate((sign * half, half[::-1]))


def skin(ground: Ground, offset: Mm, top: Mm, foot: Mm) -> Floats:
    """Skin at an offset from every wall and tread.

    Parameters
    ----------
    offset
        Distance from the walls, from the treads and from the face of the base.
    top
        Height of the uppermost top above the face.
    foot
        Level of the first row.

    Returns
    -------
    rows
        ``(rows, 2 · n, 3)`` corners, two rows for each terrace, and one more where the base has shoulders.
    """
    last = len(ground.rows) - 1
    edges = [_rim(ground, row, offset) for row in ground.rows]
    below = [row.high + offset for row in ground.rows[:last]]
    above = [row.high + offset for row in ground.rows[1:last]] + [top]
    count = len(ground.t)
    planes = np.zeros((2 * last + 2, count, 2))
    for number in (0, 1, 2)[: len(planes)]:
        # foot and edge of the base, and the foot of the stack on its face
        planes[number] = _on_face(ground, edges[number // 2][0], offset)
    if last:
        t = np.concatenate([t for t, _ in edges[1:] for _ in (0, 1)][1:])
        heights = [height for pair in zip(below, above, strict=True) for height in pair][1:]
        planes[3:] = _plane(ground.sheet, ground.base, t, np.repeat(heights, count)).reshape(-1, count, 2)
    halves = np.repeat([half for _, half in edges], 2, axis=0)[:, :, None]
    front = np.concatenate((planes[:, :, :1], -halves, planes[:, :, 1:]), axis=2)
    rear = front[:, ::-1] * np.array([1.0, -1.0, 1.0])
    rows: Floats = np.concatenate((front, rear), axis=1)
    rows[0, :, 2] = foot
    if ground.base.shoulder > 0.0:
        rows = np.concatenate((rows[:2], _lip(ground, rows[1])[None], rows[2:]))
    return rows


def _on_face(ground: Ground, t: Floats, offset: Mm) -> Floats:
    """Points ``(n, 2)`` at an offset from the face of the base, and past its ends."""
    if ground.sheet.profile.is_flat:
        return _plane(ground.sheet, ground.base, t, np.full_like(t, offset))
    face = moved_out(ground.face, offset)
    return np.column_stack([np.interp(t, ground.t, side) for side in face.T])


def _lip(ground: Ground, edge: Floats) -> Floats:
    """One more row beside a hollow: the edge of the base, drawn in to the ends of its face."""
    half = 0.5 * ground.base.outline.length
    number = np.arange(len(ground.t))
    on_face = np.flatnonzero(np.abs(ground.t) <= half + SAME)
    inward = np.clip(number, on_face[0], on_face[-1])
    rear = 2 * len(number) - 1 - inward[::-1]
    lip: Floats = edge[np.concatenate((inward, rear))]
    return lip


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Cut:
    """Where a sheet ends on a skin: ``(2 · n,)`` the row before and ``(2 · n, 3)`` the point, at every corner."""

    row: Indices
    point: Floats


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Descent:
    """The ways down from the edge of the uppermost top: rows of corners, and ``(rows, 2 · n)`` lengths up to each."""

    rows: Floats
    ways: Floats


def descent(ground: Ground) -> Descent:
    """Ways down over the bare terraces."""
    rows = skin(ground, 0.0, ground.rows[-1].high, 0.0)
    step = rows[1:] - rows[:-1]
    lengths = np.sqrt(np.einsum("kni,kni->kn", step, step))
    if ground.sheet.profile.is_flat:
        # a column may cross a tread aslant; the sheet goes straight down
        for number, (low, high) in enumerate(pairwise(ground.rows)):
            lengths[2 * number + 1] = _room(ground, low, high)
    ways = np.concatenate((np.zeros((1, lengths.shape[1])), np.cumsum(lengths[::-1], axis=0)))[::-1]
    return Descent(rows=rows, ways=ways)


def cut_at(down: Descent, margin: Floats, past: Mm) -> Cut:
    """End of a sheet that reaches past the uppermost top by a margin ``(2 · n,)`` and drapes down from there.

    It is taken to end on the base: what would hang down the base's own sides is left out. ``past`` goes beyond the end.
    """
    rows, ways = down.rows, down.ways
    margin = np.minimum(margin, ways[1] - INSIDE) + past
    before = np.clip(len(ways) - 1 - (ways <= margin).sum(axis=0), 0, len(ways) - 2)
    corner = np.arange(ways.shape[1])
    step = ways[before, corner] - ways[before + 1, corner]
    share = np.clip((margin - ways[before + 1, corner]) / np.maximum(step, SAME), 0.0, 1.0)[:, None]
    point = share * rows[before, corner] + (1.0 - share) * rows[before + 1, corner]
    return Cut(row=before, point=point)


def above_cut(rows: Floats, cut: Cut) -> Floats:
    """Rows of a skin from where a sheet ends upward; those below lie at its end."""
    number = np.arange(len(rows))[:, None, None]
    found: Floats = np.where(number > cut.row[:, None], rows, _ends(rows, cut))
    return found


def below_cut(rows: Floats, cut: Cut) -> Floats:
    """Rows of a skin from below up to where a sheet ends; those above lie at its end."""
    number = np.arange(len(rows))[:, None, None]
    found: Floats = np.where(number <= cut.row[:, None], rows, _ends(rows, cut))
    return found


def _ends(rows: Floats, cut: Cut) -> Floats:
    """Corners of a skin straight over the end of a sheet."""
    corner = np.arange(rows.shape[1])
    low, high = rows[cut.row, corner], rows[cut.row + 1, corner]
    run = high - low
    share = np.sum((cut.point - low) * run, axis=1) / np.maximum(np.sum(run * run, axis=1), SAME**2)
    found: Floats = low + np.clip(share, 0.0, 1.0)[:, None] * run
    return found[_first_alike(np.concatenate((low, high), axis=1))]


def _first_alike(ways: Floats) -> Indices:
    """Number of the first of the neighbours that end on one way down, at every corner.

    Directions apart on bare work may meet in one corner of a skin around it. Ends a hair apart on that one corner
    would make a fold without width, which comes back on itself where it lies on the middle line.
    """
    is_other = np.abs(np.diff(ways, axis=0)).max(axis=1) > SAME
    first = np.where(np.concatenate(([True], is_other)), np.arange(len(ways)), 0)
    found: Indices = np.maximum.accumulate(first)
    return found


def margins(ground: Ground, sheet: Terrace) -> Floats:
    """How far a sheet reaches past the uppermost top, at every corner of a row; below 0 where it does not."""
    return _room(ground, sheet, ground.rows[-1])


def _room(ground: Ground, outer: Terrace, inner: Terrace) -> Floats:
    """Least distance to the edge of one terrace from that of another inside it, at every corner of a row."""
    t, half = _rim(ground, inner, 0.0)
    looks = np.concatenate(([0.0, RIGHT], ground.turns))
    ways = np.array([np.cos(looks), np.sin(looks)])
    ends = np.sum(ways * outer.farthest(looks), axis=0)
    room = np.min(ends[:, None] - ways.T @ np.array([np.abs(t), half]), axis=0)
    return np.concatenate((room, room[::-1]))


def _rim(ground: Ground, row: Terrace, grow: Mm) -> tuple[Floats, Floats]:
    """Edge of a terrace moved outward: places t, one for each of the ground's, and the half width at each."""
    if row is ground.rows[0] and ground.base.shoulder > 0.0:
        # a hollow form goes on past its face
        return ground.t, np.full_like(ground.t, row.half_width + grow)
    row = row.grown(grow) if grow else row
    if ground.sheet.profile.is_flat:
        t, half = row.farthest(ground.turns)
        return _both_sides(-1.0, t), _both_sides(1.0, half)
    # neighbours keep one ruling, so that a tread between them is plane
    end = row.half_length - grow
    t = np.clip(ground.t, -end, end)
    t = np.where(np.abs(t) >= end - SAME, np.sign(t) * (end + grow), t)
    return t, row.half_at(t)


def _shoulders(base: Base) -> Floats:
    """Places t of the ends of the face and of the level shoulders beside them."""
    half = 0.5 * base.outline.length
    left, first = base.upper[0, 0], base.upper[1, 0]
    last, right = base.upper[-2, 0], base.upper[-1, 0]
    return np.array([-half - (first - left), -half, half, half + (right - last)])


def _plane(sheet: Sheet, base: Base, t: Floats, height: Floats) -> Floats:
    """Points ``(n, 2)`` of the section, x and z, at places and heights above the face."""
    if sheet.profile.is_flat:
        return np.column_stack((t, height + (base.lift - sheet.reference)))
    points = sheet.place(t, t, height)[:, ::2]
    points[:, 1] += base.lift
    return points


def moved_out(chain: Floats, distance: Mm) -> Floats:
    """Chain from left to right moved outward by a distance; upright walls go down from both its ends."""
    feet = chain[[0, -1]] - np.array([0.0, 1.0])
    walked = np.concatenate((feet[:1], chain, feet[1:]))
    run = np.diff(walked, axis=0)
    run /= np.hypot(run[:, 0], run[:, 1])[:, None]
    out = np.column_stack((-run[:, 1], run[:, 0]))
    before, after = out[:-1], out[1:]
    mitre = (before + after) / (1.0 + np.sum(before * after, axis=1))[:, None]
    moved: Floats = chain + distance * mitre
    return moved
