"""Bodies of the layers of a tapered stack: two faces of the sheet, edges on both curves, and sides square to the sheet.

The face between two layers lies on one surface for both. A side is ruled between the edges of the two faces, along the
sheet's normals: plane along a straight edge, a cone along the edge of a round cone.
"""

from collections.abc import Sequence

import numpy as np

from ..model.shape.tapered_outline import FAR, NEAR, TaperedOutline
from ..model.stack import Layer
from ..model.tapered_blanks import tapered_outline
from ..model.units import Mm
from .brep import (
    Edge,
    Surface,
    Walk,
    drawn_on,
    edge_along,
    face_within,
    line_image,
    plane_through,
    ruled_between,
    solid_of,
    turned_round,
)
from .kernel import Curve, Solid
from .shapes import Face, segment
from .taper_edges import Rim, rims_of
from .taper_grounds import coned
from .taper_levels import Level, Rims, Row, Work, faces_of, level_at


def tapered_bodies(layers: Sequence[Layer], work: Work) -> list[Solid]:
    """Bodies of tapered layers from below."""
    rims: dict[TaperedOutline, Rims] = {}
    found = []
    for layer in layers:
        outline = tapered_outline(layer)
        if outline not in rims:
            near, far = (rims_of(outline, work.panes, side, work.above) for side in (NEAR, FAR))
            rims[outline] = near, far
        found.append(_body(work, rims[outline], (layer.height, layer.top)))
    return found


def _body(work: Work, rims: Rims, bounds: tuple[Mm, Mm]) -> Solid:
    low, high = (level_at(work, rims, height) for height in bounds)
    posts = [posts_between(*rows) for rows in zip(low.rows, high.rows, strict=True)]
    faces = [*faces_of(low, False), *faces_of(high, True)]
    for side in (0, 1):
        faces += [
            _side(work, side, rim, number, low, high, posts[side]) for number, rim in enumerate(rims[side])
        ]
    faces += [end_between(low, high, end, posts) for end in (0, -1)]
    return solid_of(faces)


def posts_between(low: Row, high: Row) -> list[Edge]:
    """Straight edges from the corners of one row up to those of another."""
    return [post_between(low, high, number, number) for number in range(len(low.corners))]


def post_between(low: Row, high: Row, foot: int, top: int) -> Edge:
    """Straight edge from a corner of one row up to one of another."""
    span = segment(tuple(low.points[foot].tolist()), tuple(high.points[top].tolist()))
    return edge_along(span, low.corners[foot], high.corners[top])


def _side(
    work: Work, side: int, rim: Rim, number: int, low: Level, high: Level, posts: Sequence[Edge]
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


def _coned_side(work: Work, side: int, rim: Rim, bounds: tuple[Mm, Mm], loop: list[Walk]) -> Face:
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


def _upright(low: Row, high: Row, number: int, side: int) -> Surface:
    """Plane of a side along a straight edge, its normal outside."""
    start = low.points[number]
    normal = np.cross(low.points[number + 1] - start, high.points[number] - start)
    return plane_through(start.tolist(), (normal if side == 0 else -normal).tolist())


def end_between(low: Level, high: Level, end: int, posts: Sequence[Sequence[Edge]]) -> Face:
    """Plane end of a body along its first (0) or its last (−1) ruling, between the posts of its near and its far side."""
    rim = low.rims[0][end]
    u = rim.first if end == 0 else rim.last
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
