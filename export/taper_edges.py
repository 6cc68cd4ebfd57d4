"""The edges of tapered layers on the panes of their sheet: one curve for every height, ruled from one to the next."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

import numpy as np

from ..model.errors import ExportError
from ..model.shape.profile import Floats
from ..model.shape.series import Series, series_of
from ..model.shape.strokes import Motion
from ..model.shape.tapered_outline import TaperedOutline
from ..model.units import Mm
from .hermite import between_knots, control_points, joined, looked_at
from .taper_panes import AT_BREAK, MOST_PARTS, Pane

CLOSE: Mm = 1e-7
"""How near an edge keeps to its pane."""

Kind = Literal["line", "circle", "spline"]


@dataclass(frozen=True, slots=True, eq=False)
class Rim:
    """Part of the near or the far edge of a layer within one pane.

    Parameters
    ----------
    pane
        Number of its pane.
    kind
        A straight line, a circle around the axis of a cone, or a spline.
    first, last
        Places u of its ends.
    sides
        Places w of its ends.
    knots, is_smooth, level, rise, plane
        Of a spline: places u between which it is fitted, whether nothing jumps at each inner one, control points
        ``(parts, 6, 3)`` at the height of the curves, what a millimetre of height adds to them, and control points
        ``(parts, 6, 2)`` in u and w.
    """

    pane: int
    kind: Kind
    first: Mm
    last: Mm
    sides: tuple[Mm, Mm]
    knots: Floats
    level: Floats
    rise: Floats
    plane: Floats

    def at(self, above: Mm, lift: Mm) -> tuple[Floats, list[int]]:
        """Poles ``(n, 3)`` and multiplicities at a height above the curves, all of it lifted."""
        spans = self.level + above * self.rise + np.array([0.0, 0.0, lift])
        return joined(spans, self.knots, [True] * (len(self.knots) - 2))

    def on_plane(self) -> tuple[Floats, list[int]]:
        """Poles ``(n, 2)`` in u and w, and multiplicities."""
        return joined(self.plane, self.knots, [True] * (len(self.knots) - 2))


def rims_of(
    outline: TaperedOutline, panes: Sequence[Pane], side: float, above: Sequence[Mm]
) -> tuple[Rim, ...]:
    """Parts of one edge of a layer, from its left side to its right one.

    Parameters
    ----------
    side
        −1 for the near edge, 1 for the far one.
    above
        Lowest and highest height above the curves.
    """
    sheet = outline.sheet
    return rims_along(
        lambda u: outline.bound(side, u), sheet.width, outline.ends, outline.kinks(side), panes, above
    )


def rims_along(
    across: Callable[[Floats], Floats],
    scale: Mm,
    ends: tuple[Mm, Mm],
    kinks: Floats,
    panes: Sequence[Pane],
    above: Sequence[Mm],
) -> tuple[Rim, ...]:
    """Parts of any edge that crosses every ruling once.

    Parameters
    ----------
    across
        Places w of the edge on rulings u.
    scale
        Size of such places, mm.
    ends
        First and last ruling.
    kinks
        Rulings, besides those between the panes, where its way of bending changes.
    panes, above
        As in ``rims_of``.
    """
    found = []
    for number, pane in enumerate(panes):
        low, high = max(pane.first, ends[0]), min(pane.last, ends[1])
        if high - low <= CLOSE:
            continue
        inside = kinks[(kinks > low + CLOSE) & (kinks < high - CLOSE)].tolist()
        found += [
            _rim(across, scale, pane, number, (first, last), above)
            for first, last in pairwise([low, *inside, high])
        ]
    return tuple(found)


def _rim(
    places: Callable[[Floats], Floats],
    scale: Mm,
    pane: Pane,
    number: int,
    ends: tuple[Mm, Mm],
    above: Sequence[Mm],
) -> Rim:
    first, last = ends
    across = series_of(lambda u: places(u)[:, None], np.array(ends), np.array([scale]))
    w0, w1 = across.at(np.array([first, last]))[:, 0].tolist()
    kind = _kind(pane, across, first, last)
    none = np.zeros((0, 6, 2))
    if kind != "spline":
        return Rim(number, kind, first, last, (w0, w1), np.array([first, last]), none, none, none)
    inner = pane.knots[(pane.knots > first + CLOSE) & (pane.knots < last - CLOSE)]
    knots = np.concatenate(([first], inner, [last]))
    slope = across.slope()
    while len(knots) <= MOST_PARTS:
        level, rise, plane = _spans(pane, across, slope, knots)
        far = _deviations(pane, across, knots, (level, rise, plane), above) > CLOSE
        if not far.any():
            return Rim(number, kind, first, last, (w0, w1), knots, level, rise, plane)
        knots = np.sort(np.concatenate((knots, 0.5 * (knots[:-1] + knots[1:])[far])))
    raise ExportError("no curve follows the edge of a layer of the taper; use larger radii")


def _kind(pane: Pane, across: Series, first: Mm, last: Mm) -> Kind:
    u = np.linspace(first, last, 9)
    w = across.at(u)[:, 0]
    off = np.abs(w - np.interp(u, [first, last], w[[0, -1]])).max()
    if pane.is_flat:
        # on a flat pane rulings may fan out: only the way itself tells
        path = pane.motion(u, 0)
        points = path[:, :3] + w[:, None] * path[:, 3:6]
        chord = points[-1] - points[0]
        beside = np.cross(points - points[0], chord) / np.linalg.norm(chord)
        return "line" if float(np.linalg.norm(beside, axis=1).max()) <= CLOSE else "spline"
    return "circle" if pane.cone is not None and off <= CLOSE and abs(w[-1] - w[0]) <= CLOSE else "spline"


def _spans(pane: Pane, across: Series, slope: Series, knots: Floats) -> tuple[Floats, Floats, Floats]:
    """Control points at the height of the curves, what a height adds to them, and in u and w."""
    curve = slope.slope()
    inner = AT_BREAK * np.diff(knots)
    rows = []
    for u, inside in ((knots[:-1], knots[:-1] + inner), (knots[1:], knots[1:] - inner)):
        w, one, two = across.at(u), slope.at(inside), curve.at(inside)
        at, ahead, bent = pane.motion(u, 0), pane.motion(u, 1), pane.motion(inside, 2)
        m, e, n = (np.split(row, 3, axis=1) for row in (at, ahead, bent))
        level: Motion = (
            m[0] + w * m[1],
            e[0] + one * m[1] + w * e[1],
            n[0] + two * m[1] + 2.0 * one * e[1] + w * n[1],
        )
        ones = np.ones_like(u)[:, None]
        plane: Motion = (np.hstack((u[:, None], w)), np.hstack((ones, one)), np.hstack((0.0 * ones, two)))
        rows.append((level, (m[2], e[2], n[2]), plane))
    begin, end = rows
    return (
        control_points(begin[0], end[0], knots),
        control_points(begin[1], end[1], knots),
        control_points(begin[2], end[2], knots),
    )


def _deviations(
    pane: Pane, across: Series, knots: Floats, spans: tuple[Floats, Floats, Floats], above: Sequence[Mm]
) -> Floats:
    """How far the curves are off within each part, in space at both heights or in w."""
    level, rise, plane = (between_knots(span) for span in spans)
    u = looked_at(knots)
    path, w = pane.motion(u, 0), across.at(u)
    true = (path[:, :3] + w * path[:, 3:6]).reshape(level.shape)
    normal = path[:, 6:].reshape(level.shape)
    off = [np.linalg.norm(level - true + d * (rise - normal), axis=-1).max(axis=1) for d in above]
    flat = np.abs(plane - np.hstack((u[:, None], w)).reshape(plane.shape)).max(axis=(1, 2))
    return np.asarray(np.maximum(np.max(off, axis=0), flat))
