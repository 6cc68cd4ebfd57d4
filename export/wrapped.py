"""Bodies of layers whose outline is wrapped onto a bend: two faces of the sheet, and sides square to it.

The face between two layers lies on one surface for both, and the edge of one outline is one curve for both: they touch
by construction. A side is ruled between the edges of the two faces.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from ..model.shape.outline import Outline
from ..model.shape.profile import Floats
from ..model.shape.sheet import Sheet
from ..model.stack import Layer
from ..model.units import Mm
from .brep import (
    Corner,
    Edge,
    Surface,
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
from .carried import Carried, Carrier, carried, carriers
from .grounds import Ground, Grounds, grounds
from .hermite import DEGREE
from .interfaces import Interface, Reach
from .kernel import Solid
from .panes import Panes, Part, Step, panes
from .shapes import Face, Span, bspline, segment


def wrapped_bodies(
    layers: Iterable[Layer], sheet: Sheet, curves: Mapping[Mm, Interface], lift: Mm, reach: Reach
) -> dict[str, Solid]:
    """Bodies of layers by their keys.

    Parameters
    ----------
    curves
        The interface at every height at which one of the layers begins or ends.
    lift
        What turns heights of the sheet into z.
    reach
        The lowest and the highest height of everything that follows the sheet.
    """
    surfaces = {height: grounds(curve) for height, curve in curves.items()}
    wraps: dict[Outline, _Wrap] = {}
    found = {}
    for layer in layers:
        if layer.outline not in wraps:
            wraps[layer.outline] = _wrap(layer.outline, sheet, lift, reach)
        wrap = wraps[layer.outline]
        low, high = (_level(wrap, height, surfaces[height]) for height in (layer.height, layer.top))
        found[layer.key] = _body(wrap, low, high)
    return found


@dataclass(frozen=True, slots=True, eq=False)
class _Wrap:
    """An outline on its sheet.

    Parameters
    ----------
    rims
        Each part of the edge as the sheet carries it; None where it is straight in space or along the sheet's curve.
    level, rise
        ``(n, 3)`` corners on the profile, and how each moves for a millimetre of height.
    """

    sheet: Sheet
    lift: Mm
    plane: Panes
    rims: tuple[Carried | None, ...]
    level: Floats
    rise: Floats

    def points(self, height: Mm) -> Floats:
        """Corners ``(n, 3)`` at a height."""
        above = height - self.sheet.reference
        return np.asarray(self.level + above * self.rise + np.array([0.0, 0.0, self.lift]))

    def ends(self, part: Part) -> tuple[tuple[float, float], tuple[float, float]]:
        """Places t and w of both ends of a part."""
        (t0, w0), (t1, w1) = self.plane.corners[[part.begin, part.end]].tolist()
        return (t0, w0), (t1, w1)


@dataclass(frozen=True, slots=True, eq=False)
class _Level:
    """An outline at one height: the surfaces there, its corners, and the walks along its parts and crossings."""

    height: Mm
    grounds: Grounds
    points: Floats
    corners: tuple[Corner, ...]
    walks: tuple[Walk, ...]
    curves: tuple[Span, ...]


def _wrap(outline: Outline, sheet: Sheet, lift: Mm, reach: Reach) -> _Wrap:
    pieces = carriers(sheet, reach)
    plane = panes(outline, sheet.profile.joints().tolist())
    rims = tuple(
        carried(part, pieces[part.piece], reach) if _is_free(part, plane, pieces) else None
        for part in plane.parts
    )
    # of each corner, from the piece that one of its edges lies on
    places = [pieces[part.piece].carry(plane.corners[part.begin][None]) for part in plane.parts]
    order = np.argsort([part.begin for part in plane.parts])
    level, rise = (np.concatenate([place[side] for place in places])[order] for side in (0, 1))
    return _Wrap(sheet, lift, plane, rims, level, rise)


def _is_free(part: Part, plane: Panes, pieces: Sequence[Carrier]) -> bool:
    """Whether a part of an edge is neither straight in space nor along the curve of the sheet itself."""
    (t0, w0), (t1, w1) = plane.corners[[part.begin, part.end]]
    is_plain = t0 == t1 or w0 == w1 or pieces[part.piece].is_straight
    return not (part.stroke.is_straight and is_plain)


def _level(wrap: _Wrap, height: Mm, grounds: Grounds) -> _Level:
    points = wrap.points(height)
    corners = tuple(corner_at(point) for point in points.tolist())
    rims = [
        _rim(wrap, number, height, grounds[part.piece], points, corners)
        for number, part in enumerate(wrap.plane.parts)
    ]
    for crossing in wrap.plane.crossings:
        span = segment(*(tuple(points[number].tolist()) for number in (crossing.begin, crossing.end)))
        edge = edge_along(span, corners[crossing.begin], corners[crossing.end])
        foot = wrap.plane.corners[crossing.begin].tolist()
        for ground in grounds[crossing.piece : crossing.piece + 2]:
            _draw_across(edge, ground, (foot[0], foot[1]), 1.0)
        rims.append(((edge, True), span))
    return _Level(
        height, grounds, points, corners, tuple(walk for walk, _ in rims), tuple(span for _, span in rims)
    )


def _rim(
    wrap: _Wrap, number: int, height: Mm, ground: Ground, points: Floats, corners: Sequence[Corner]
) -> tuple[Walk, Span]:
    """Walk along a part of the edge at a height, and the span of its curve."""
    part, rim = wrap.plane.parts[number], wrap.rims[number]
    begin, end = corners[part.begin], corners[part.end]
    (t0, w0), (t1, w1) = wrap.ends(part)
    if rim is not None:
        poles, counts = rim.at(height - wrap.sheet.reference, wrap.lift)
        span = Span(bspline(poles, rim.knots, counts, DEGREE), part.first, part.last)
        edge = edge_along(span, begin, end)
        if not ground.is_plane:
            flat, counts = rim.on_plane()
            drawn_on(edge, spline_image(ground.spots(flat), rim.knots, counts, DEGREE), ground.surface)
        return (edge, True), span
    if w0 == w1 and not ground.is_plane:
        is_forward = t1 > t0
        span = ground.stretch.between(min(t0, t1), max(t0, t1)).moved((0.0, w0, 0.0))
        edge = edge_along(span, *((begin, end) if is_forward else (end, begin)))
        drawn_on(edge, line_image((0.0, ground.across * w0), (1.0, 0.0)), ground.surface)
        return (edge, is_forward), span
    span = segment(*(tuple(points[corner].tolist()) for corner in (part.begin, part.end)))
    edge = edge_along(span, begin, end)
    _draw_across(edge, ground, (t0, w0), 1.0 if w1 > w0 else -1.0)
    return (edge, True), span


def _draw_across(edge: Edge, ground: Ground, start: tuple[float, float], side: float) -> None:
    """Tell where a straight edge along a ruling runs on a surface that is not plane."""
    if not ground.is_plane:
        drawn_on(edge, line_image(ground.spot(*start), (0.0, side * ground.across)), ground.surface)


def _body(wrap: _Wrap, low: _Level, high: _Level) -> Solid:
    posts = []
    for number, (foot, top) in enumerate(zip(low.points.tolist(), high.points.tolist(), strict=True)):
        posts.append(edge_along(segment(tuple(foot), tuple(top)), low.corners[number], high.corners[number]))
    faces = []
    for pane in wrap.plane.panes:
        for level, is_top in ((low, False), (high, True)):
            loops = [_walked(loop, level.walks) for loop in (pane.edge, *pane.holes)]
            ground = level.grounds[pane.piece]
            # from below the loops are seen the other way round
            seen = loops if is_top else [turned_round(loop) for loop in loops]
            faces.append(face_within(ground.surface, ground.is_up == is_top, seen))
    faces += [_side(wrap, number, low, high, posts) for number in range(len(wrap.plane.parts))]
    return solid_of(faces)


def _walked(loop: Sequence[Step], walks: Sequence[Walk]) -> list[Walk]:
    return [(walks[number][0], walks[number][1] != back) for number, back in loop]


def _side(wrap: _Wrap, number: int, low: _Level, high: _Level, posts: Sequence[Edge]) -> Face:
    """Side of a body along a part of its edge, square to the sheet."""
    part = wrap.plane.parts[number]
    (lower, is_forward), (upper, _) = low.walks[number], high.walks[number]
    before, after = posts[part.begin], posts[part.end]
    loop = [(lower, is_forward), (after, True), (upper, not is_forward), (before, False)]
    if wrap.rims[number] is None:
        return face_within(_upright(wrap, part, low, high), True, [loop])
    thickness = high.height - low.height
    surface = ruled_between(low.curves[number].curve, high.curves[number].curve, thickness)
    drawn_on(lower, line_image((0.0, 0.0), (1.0, 0.0)), surface)
    drawn_on(upper, line_image((0.0, thickness), (1.0, 0.0)), surface)
    drawn_on(before, line_image((part.first, 0.0), (0.0, 1.0)), surface)
    drawn_on(after, line_image((part.last, 0.0), (0.0, 1.0)), surface)
    return face_within(surface, True, [loop])


def _upright(wrap: _Wrap, part: Part, low: _Level, high: _Level) -> Surface:
    """Plane of a side along a straight edge, its normal at the right of the way along it."""
    (t0, w0), (t1, w1) = wrap.ends(part)
    start = low.points[part.begin]
    if w0 == w1:
        # along the sheet's own curve the chord says nothing: past the half round it runs back
        return plane_through(start.tolist(), (0.0, -1.0 if t1 > t0 else 1.0, 0.0))
    normal = np.cross(low.points[part.end] - start, high.points[part.begin] - start)
    return plane_through(start.tolist(), normal.tolist())
