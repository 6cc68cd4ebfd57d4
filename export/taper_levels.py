"""The rows and rulings of a tapered sheet at one height: edges that are made once and shared by all faces of a body."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from ..model.shape.profile import Floats
from ..model.shape.taper import TaperedSheet
from ..model.units import Mm
from .brep import (
    Corner,
    Edge,
    Walk,
    corner_at,
    drawn_on,
    edge_along,
    face_within,
    line_image,
    spline_image,
    turned_round,
)
from .hermite import DEGREE
from .shapes import Face, Span, bspline, segment
from .taper_edges import Rim
from .taper_grounds import Ground, coned, ground, ring
from .taper_panes import Pane, panes_of

SLACK: Mm = 1.0
"""How far the surfaces of the panes reach past the widest body."""

Rims = tuple[tuple[Rim, ...], tuple[Rim, ...]]
"""Parts of the near and of the far edge of a body."""


@dataclass(frozen=True, slots=True, eq=False)
class Work:
    """A tapered sheet with its panes, and their surfaces at every height that a body begins or ends at.

    Parameters
    ----------
    lift
        What turns heights of the sheet into z.
    above
        Lowest and highest height above the curves.
    """

    sheet: TaperedSheet
    lift: Mm
    above: tuple[Mm, Mm]
    panes: tuple[Pane, ...]
    grounds: Mapping[Mm, tuple[Ground, ...]]


def work_on(
    sheet: TaperedSheet, lift: Mm, ends: tuple[Mm, Mm], sides: tuple[Mm, Mm], heights: Sequence[Mm]
) -> Work:
    """Make the surfaces that all bodies on a sheet share.

    Parameters
    ----------
    ends, sides
        Least and largest places u and w of all bodies.
    heights
        Every height at which one begins or ends.
    """
    low, high = min(heights), max(heights)
    panes = panes_of(sheet, ends, sides, (low, high))
    reached = (sides[0] - SLACK, sides[1] + SLACK)
    return Work(
        sheet=sheet,
        lift=lift,
        above=(low - sheet.reference, high - sheet.reference),
        panes=panes,
        grounds={
            height: tuple(ground(sheet, pane, height, lift, reached) for pane in panes)
            for height in sorted(set(heights))
        },
    )


@dataclass(frozen=True, slots=True, eq=False)
class Row:
    """One edge at one height: the corners between its rims, where they lie, its curves, and its walks toward larger u."""

    points: Floats
    corners: tuple[Corner, ...]
    curves: tuple[Span, ...]
    walks: tuple[Walk, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Level:
    """A body at one height: near and far row, and the rulings between them at the ends of its panes, by u."""

    height: Mm
    rims: Rims
    grounds: tuple[Ground, ...]
    rows: tuple[Row, Row]
    rulings: dict[Mm, Edge]


def level_at(work: Work, rims: Rims, height: Mm) -> Level:
    """Edges of a body at a height."""
    grounds = work.grounds[height]
    near, far = (_row(work, side, height, grounds) for side in rims)
    rulings: dict[Mm, Edge] = {}
    places = [{rim.first: number for number, rim in enumerate(side)} for side in rims]
    for place, side in zip(places, rims, strict=True):
        place[side[-1].last] = len(side)
    for u in sorted(set(places[0]) & set(places[1])):
        a, b = places[0][u], places[1][u]
        span = segment(tuple(near.points[a].tolist()), tuple(far.points[b].tolist()))
        edge = edge_along(span, near.corners[a], far.corners[b])
        w = rims[0][a].sides[0] if a < len(rims[0]) else rims[0][-1].sides[1]
        for number, found in enumerate(grounds):
            pane = work.panes[number]
            if not found.is_plane and (u in (pane.first, pane.last)):
                drawn_on(edge, line_image(found.spot(u, w), (0.0, found.across)), found.surface)
        rulings[u] = edge
    return Level(height, rims, grounds, (near, far), rulings)


def _row(work: Work, rims: Sequence[Rim], height: Mm, grounds: tuple[Ground, ...]) -> Row:
    u = np.array([rims[0].first, *(rim.last for rim in rims)])
    w = np.array([rims[0].sides[0], *(rim.sides[1] for rim in rims)])
    points = work.sheet.place(u, w, height) + np.array([0.0, 0.0, work.lift])
    corners = tuple(corner_at(point) for point in points.tolist())
    curves, walks = [], []
    for number, rim in enumerate(rims):
        found = grounds[rim.pane]
        span, is_forward = _curve(work, rim, height, points[number : number + 2])
        first, last = (
            (corners[number], corners[number + 1]) if is_forward else (corners[number + 1], corners[number])
        )
        edge = edge_along(span if is_forward else span.backwards, first, last)
        if not found.is_plane and rim.kind == "circle":
            drawn_on(edge, line_image((0.0, found.spot(0.0, rim.sides[0])[1]), (1.0, 0.0)), found.surface)
        elif not found.is_plane:
            poles, counts = rim.on_plane()
            drawn_on(edge, spline_image(poles, rim.knots, counts, DEGREE), found.surface)
        curves.append(span)
        walks.append((edge, is_forward))
    return Row(points, corners, tuple(curves), tuple(walks))


def _curve(work: Work, rim: Rim, height: Mm, ends: Floats) -> tuple[Span, bool]:
    """Curve of a rim at a height, walked toward larger u, and whether it runs that way itself."""
    if rim.kind == "line":
        start, end = ends.tolist()
        return segment(tuple(start), tuple(end)), True
    above = height - work.sheet.reference
    if rim.kind == "spline":
        poles, counts = rim.at(above, work.lift)
        return Span(bspline(poles, rim.knots, counts, DEGREE), rim.first, rim.last), True
    pane = work.panes[rim.pane]
    frames = work.sheet.frames(np.array([pane.first]))
    foot = frames.middle[0] + rim.sides[0] * frames.along[0] + above * frames.normal[0]
    found = coned(work.sheet, pane, foot, frames.along[0], work.lift)
    start, end = ((u - pane.first) * found.around for u in (rim.first, rim.last))
    return Span(ring(found), start, end), found.around > 0.0


def faces_of(level: Level, is_top: bool) -> list[Face]:
    """Faces of a body along the sheet at a height, one for each pane: its top, or its bottom."""
    faces = []
    for number in sorted({rim.pane for rim in level.rims[0]}):
        loop, found = _around(level, number), level.grounds[number]
        seen = loop if is_top else turned_round(loop)
        faces.append(face_within(found.surface, found.is_up == is_top, [seen]))
    return faces


def _around(level: Level, pane: int) -> list[Walk]:
    """Walk around a pane, anticlockwise from above."""
    near, far = (
        [(row.walks[number], rim) for number, rim in enumerate(rims) if rim.pane == pane]
        for row, rims in zip(level.rows, level.rims, strict=True)
    )
    left, right = near[0][1].first, near[-1][1].last
    return [
        *(walk for walk, _ in near),
        (level.rulings[right], True),
        *turned_round([walk for walk, _ in far]),
        (level.rulings[left], False),
    ]
