"""Bodies of the layers of a tapered stack: two faces of the sheet, edges on both curves, and sides square to the sheet.

The face between two layers lies on one surface for both. A side is ruled between the edges of the two faces, along the
sheet's normals: plane along a straight edge, a cone along the edge of a round cone.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..model.shape.profile import Floats
from ..model.shape.taper import TaperedSheet
from ..model.shape.tapered_outline import FAR, NEAR, TaperedOutline
from ..model.stack import Layer
from ..model.tapered_blanks import tapered_outline
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
    plane_through,
    ruled_between,
    solid_of,
    spline_image,
    turned_round,
)
from .hermite import DEGREE
from .kernel import Curve, Solid
from .shapes import Face, Span, bspline, segment
from .taper_edges import Rim, rims_of
from .taper_grounds import Ground, coned, ground, ring
from .taper_panes import Pane, panes_of

SLACK: Mm = 1.0
"""How far the surfaces of the panes reach past the widest layer."""


def tapered_bodies(layers: Sequence[Layer], sheet: TaperedSheet, lift: Mm) -> list[Solid]:
    """Bodies of tapered layers from below; ``lift`` turns heights of the sheet into z."""
    outlines = [tapered_outline(layer) for layer in layers]
    ends = np.array([outline.ends for outline in outlines])
    u = np.linspace(float(ends[:, 0].min()), float(ends[:, 1].max()), 201)
    widest = max(outlines, key=lambda outline: outline.margin)
    near, far = widest.bounds(u)
    work = _Work(
        sheet=sheet,
        lift=lift,
        sides=(float(near.min()) - SLACK, float(far.max()) + SLACK),
        above=(layers[0].height - sheet.reference, layers[-1].top - sheet.reference),
        panes=panes_of(
            sheet,
            (float(u[0]), float(u[-1])),
            (float(near.min()), float(far.max())),
            (layers[0].height, layers[-1].top),
        ),
    )
    heights = sorted({height for layer in layers for height in (layer.height, layer.top)})
    grounds = {
        height: tuple(ground(sheet, pane, height, lift, work.sides) for pane in work.panes)
        for height in heights
    }
    rims: dict[TaperedOutline, tuple[tuple[Rim, ...], tuple[Rim, ...]]] = {}
    found = []
    for layer, outline in zip(layers, outlines, strict=True):
        if outline not in rims:
            rims[outline] = (
                rims_of(outline, work.panes, NEAR, work.above),
                rims_of(outline, work.panes, FAR, work.above),
            )
        found.append(_body(work, rims[outline], [(h, grounds[h]) for h in (layer.height, layer.top)]))
    return found


@dataclass(frozen=True, slots=True, eq=False)
class _Work:
    """The sheet with its panes: ``sides`` and ``above`` are the least and largest w, and height above the curves."""

    sheet: TaperedSheet
    lift: Mm
    sides: tuple[Mm, Mm]
    above: tuple[Mm, Mm]
    panes: tuple[Pane, ...]


@dataclass(frozen=True, slots=True, eq=False)
class _Row:
    """One edge at one height: the corners between its rims, where they lie, its curves, and its walks toward larger u."""

    points: Floats
    corners: tuple[Corner, ...]
    curves: tuple[Span, ...]
    walks: tuple[Walk, ...]


@dataclass(frozen=True, slots=True, eq=False)
class _Level:
    """A layer at one height: near and far row, and the rulings between them at the ends of its panes, by u."""

    height: Mm
    grounds: tuple[Ground, ...]
    rows: tuple[_Row, _Row]
    rulings: dict[Mm, Edge]


Grounds = tuple[Mm, tuple[Ground, ...]]


def _body(work: _Work, rims: tuple[tuple[Rim, ...], tuple[Rim, ...]], bounds: Sequence[Grounds]) -> Solid:
    low, high = (_level(work, rims, height, grounds) for height, grounds in bounds)
    posts = [
        [
            edge_along(segment(tuple(foot), tuple(top)), below, above)
            for foot, top, below, above in zip(
                low.rows[side].points.tolist(),
                high.rows[side].points.tolist(),
                low.rows[side].corners,
                high.rows[side].corners,
                strict=True,
            )
        ]
        for side in (0, 1)
    ]
    faces = []
    for number in sorted({rim.pane for rim in rims[0]}):
        for level, is_top in ((low, False), (high, True)):
            loop = _around(rims, level, number)
            found = level.grounds[number]
            faces.append(
                face_within(found.surface, found.is_up == is_top, [loop if is_top else turned_round(loop)])
            )
    for side in (0, 1):
        faces += [
            _side(work, side, rim, number, low, high, posts[side]) for number, rim in enumerate(rims[side])
        ]
    for end, u in ((0, rims[0][0].first), (-1, rims[0][-1].last)):
        faces.append(_end(low, high, u, end, posts))
    return solid_of(faces)


def _level(
    work: _Work, rims: tuple[tuple[Rim, ...], tuple[Rim, ...]], height: Mm, grounds: tuple[Ground, ...]
) -> _Level:
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
    return _Level(height, grounds, (near, far), rulings)


def _row(work: _Work, rims: Sequence[Rim], height: Mm, grounds: tuple[Ground, ...]) -> _Row:
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
    return _Row(points, corners, tuple(curves), tuple(walks))


def _curve(work: _Work, rim: Rim, height: Mm, ends: Floats) -> tuple[Span, bool]:
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


def _around(rims: tuple[tuple[Rim, ...], tuple[Rim, ...]], level: _Level, pane: int) -> list[Walk]:
    """Walk around a pane, anticlockwise from above."""
    rows = [
        [(level.rows[side].walks[number], rim) for number, rim in enumerate(rims[side]) if rim.pane == pane]
        for side in (0, 1)
    ]
    left, right = rows[0][0][1].first, rows[0][-1][1].last
    return [
        *(walk for walk, _ in rows[0]),
        (level.rulings[right], True),
        *turned_round([walk for walk, _ in rows[1]]),
        (level.rulings[left], False),
    ]


def _side(
    work: _Work, side: int, rim: Rim, number: int, low: _Level, high: _Level, posts: Sequence[Edge]
) -> Face:
    """Side of a body along one rim, square to the sheet."""
    (lower, is_forward), (upper, _) = low.rows[side].walks[number], high.rows[side].walks[number]
    before, after = posts[number], posts[number + 1]
    loop: list[Walk] = [(lower, is_forward), (after, True), (upper, not is_forward), (before, False)]
    seen = loop if side == 0 else turned_round(loop)
    if rim.kind == "line":
        return face_within(_upright(low.rows[side], high.rows[side], number, side), True, [seen])
    if rim.kind == "spline":
        thickness = high.height - low.height
        curves: list[Curve] = [level.rows[side].curves[number].curve for level in (low, high)]
        surface = ruled_between(curves[0], curves[1], thickness)
        drawn_on(lower, line_image((0.0, 0.0), (1.0, 0.0)), surface)
        drawn_on(upper, line_image((0.0, thickness), (1.0, 0.0)), surface)
        drawn_on(before, line_image((rim.first, 0.0), (0.0, 1.0)), surface)
        drawn_on(after, line_image((rim.last, 0.0), (0.0, 1.0)), surface)
        # its normal is that of across and up: toward the near side
        return face_within(surface, side == 0, [seen])
    return _coned_side(work, side, rim, (low.height, high.height), loop)


def _coned_side(work: _Work, side: int, rim: Rim, bounds: tuple[Mm, Mm], loop: list[Walk]) -> Face:
    """Side along the edge of a round cone: the cone of its normals."""
    pane = work.panes[rim.pane]
    frames = work.sheet.frames(np.array([pane.first]))
    above = bounds[0] - work.sheet.reference
    foot = frames.middle[0] + rim.sides[0] * frames.along[0] + above * frames.normal[0]
    found = coned(work.sheet, pane, foot, frames.normal[0], work.lift)
    (lower, is_forward), (after, _), (upper, _), (before, _) = loop
    # both circles run around with the cone that they were made for, which may be the other way
    way = 1.0 if is_forward == (found.around > 0.0) else -1.0
    top = found.slant * (bounds[1] - bounds[0])
    drawn_on(lower, line_image((0.0, 0.0), (way, 0.0)), found.surface)
    drawn_on(upper, line_image((0.0, top), (way, 0.0)), found.surface)
    for post, u in ((before, rim.first), (after, rim.last)):
        drawn_on(post, line_image(((u - pane.first) * found.around, 0.0), (0.0, found.slant)), found.surface)
    # the kernel's normal of a cone is around × slant, here across × normal, turned by both ways: toward the near side
    is_near = (found.around > 0.0) == (found.slant > 0.0)
    return face_within(found.surface, is_near == (side == 0), [loop if side == 0 else turned_round(loop)])


def _upright(low: _Row, high: _Row, number: int, side: int) -> object:
    """Plane of a side along a straight edge, its normal outside."""
    start = low.points[number]
    normal = np.cross(low.points[number + 1] - start, high.points[number] - start)
    return plane_through(start.tolist(), (normal if side == 0 else -normal).tolist())


def _end(low: _Level, high: _Level, u: Mm, end: int, posts: Sequence[Sequence[Edge]]) -> Face:
    """Plane end of a body along its first (0) or its last (−1) ruling."""
    foot, across = low.rows[0].points[end], low.rows[1].points[end]
    normal = np.cross(across - foot, high.rows[0].points[end] - foot)
    loop: list[Walk] = [
        (low.rulings[u], True),
        (posts[1][end], True),
        (high.rulings[u], False),
        (posts[0][end], False),
    ]
    plane = plane_through(foot.tolist(), (-normal if end == 0 else normal).tolist())
    return face_within(plane, True, [turned_round(loop) if end == 0 else loop])
