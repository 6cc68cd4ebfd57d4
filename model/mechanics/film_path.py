"""Where a taut film lies on a section of the work, and where it bridges.

A section is an ``(n, 2)`` array of corners, x across and z up, mm. Arcs come already broken into chords. A chord
is shorter than its arc by the part a²/24 of the arc, a being the angle it spans (0.03 % at 5°), and the film's
whole path is short by no more than that; chords also lie below a convex arc by the sagitta r·a²/8. So give
``touch``, the gap that still counts as lying on the work, no smaller than the sagitta: otherwise the film is
said to bridge from crown to crown where it lies on an arc.
"""

from dataclasses import dataclass
from itertools import pairwise
from math import atan2, cos, inf, isfinite, sin

import numpy as np
from numpy.typing import NDArray

from ..errors import ShapeError
from ..units import Mm, Radian, Ratio
from .film import pinned_stretch, sliding_stretch

Section = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bridge:
    """One hollow that a taut film crosses without touching.

    Parameters
    ----------
    start, end
        Arc length along the section at the two rims; ``end`` is the smaller where a closed section is
        crossed at its first corner.
    span
        Straight distance between the rims.
    girth
        Length of the work's surface between the rims.
    depth
        Gap under the film at the deepest place.
    deepest
        Arc length of that place.
    """

    start: Mm
    end: Mm
    span: Mm
    girth: Mm
    depth: Mm
    deepest: Mm

    @property
    def extra(self) -> Mm:
        """Film that is missing for it to reach all of the hollow."""
        return self.girth - self.span

    @property
    def stretch(self) -> Ratio:
        """Stretch of the film that is caught at the rims: the safe one."""
        return pinned_stretch(s=self.girth, c=self.span)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FilmPath:
    """A taut film over a section and the surface below it.

    Parameters
    ----------
    true_length
        Length of the surface, into every hollow.
    taut_length
        Length of the taut film.
    taut
        ``(m, 2)`` corners of the taut film, in the section's own order; the first comes again as the last
        where the section is closed.
    bridges
        The hollows that it crosses, in order along the section.
    """

    true_length: Mm
    taut_length: Mm
    taut: Section
    bridges: tuple[Bridge, ...]

    @property
    def extra(self) -> Mm:
        """Film that is missing for it to touch everywhere."""
        return self.true_length - self.taut_length

    @property
    def sliding(self) -> Ratio:
        """Stretch needed to touch everywhere if the film slides over the whole section."""
        return sliding_stretch(P=self.true_length, H=self.taut_length)

    @property
    def pinned(self) -> Ratio:
        """Largest stretch needed over any hollow if the film is caught at its rims; 0 without a hollow."""
        return max((bridge.stretch for bridge in self.bridges), default=0.0)


def girth(section: Section) -> Mm:
    """Length round a closed section, following every hollow.

    Parameters
    ----------
    section
        ``(n, 2)`` corners in order; the first may be repeated at the end.
    """
    return _girth(_corners(section))


def path_length(profile: Section) -> Mm:
    """Length along an open profile, ``(n, 2)`` corners in order."""
    return float(_steps(_corners(profile)).sum())


def convex_hull(points: Section) -> Section:
    """Corners of the taut band round points, anticlockwise, ``(m, 2)``; none of them lies on a straight side."""
    corners = _corners(points)
    hull: Section = corners[_hull_indices(corners)]
    return hull


def hull_girth(points: Section) -> Mm:
    """Length of the taut band round points: the film round a closed section without stretch."""
    corners = _corners(points)
    return _girth(corners[_hull_indices(corners)])


def wrap(section: Section, touch: Mm) -> FilmPath:
    """Film drawn taut round a closed section, such as a stack in a tube.

    Parameters
    ----------
    section
        ``(n, 2)`` corners in order, either way round; it must not cross itself.
    touch
        Gap that still counts as lying on the work; see the module's text.

    Raises
    ------
    ShapeError
        Fewer than three corners, corners all on one line, or ``touch`` is not positive.
    """
    points = _open_end(_corners(section))
    rims = np.sort(_hull_indices(points))
    if len(rims) < 3:
        raise ShapeError(
            f"section of {len(points)} corners: all on one line; a closed section needs an inside"
        )
    first = int(rims[0])
    turned = np.roll(points, -first, axis=0)
    ring = np.vstack([turned, turned[:1]])
    arc = _arc_lengths(ring)
    before = _arc_lengths(points)[first]
    marks = np.append(rims - first, len(points))
    return _path(ring, arc, marks, touch, offset=float(before), around=float(arc[-1]))


def lay_over(profile: Section, touch: Mm) -> FilmPath:
    """Film drawn taut over an open profile from one end to the other, such as work on a bench.

    The profile runs from the place where the film is held on one side to that on the other, with the air on
    its left where it is walked from left to right: above. Take the bench along as far as the film is sealed.

    Parameters
    ----------
    profile
        ``(n, 2)`` corners from left to right; it must not cross itself.
    touch
        Gap that still counts as lying on the work; see the module's text.

    Raises
    ------
    ShapeError
        It runs from right to left or crosses itself, an end is not outermost, or ``touch`` is not positive.
    """
    points = _corners(profile)
    hull = _hull_indices(points)
    last = len(points) - 1
    if not points[0, 0] < points[last, 0]:
        raise ShapeError(
            f"open profile: runs from x = {points[0, 0]:g} to {points[last, 0]:g} mm; give it from left to right"
        )
    if 0 not in hull or last not in hull:
        raise ShapeError(
            "open profile: an end lies inside the taut film; begin and end it where the film is held, outside"
            " of all the work between"
        )
    # The hull runs anticlockwise; the upper side from the first point to the last runs the other way.
    back = np.roll(hull[::-1], -int(np.flatnonzero(hull[::-1] == 0)[0]))
    upper = back[: int(np.flatnonzero(back == last)[0]) + 1]
    if np.any(np.diff(upper) < 0):
        raise ShapeError(
            "open profile: crosses itself; the film rests on its corners in another order than theirs"
        )
    arc = _arc_lengths(points)
    return _path(points, arc, upper, touch, offset=0.0, around=inf)


def sharp_corners(path: FilmPath, turn: Radian) -> Section:
    """Corners of the work on which the film turns at one point by ``turn`` or more: edges not yet eased.

    Only corners that the taut film rests on are meant; ``turn`` must be larger than the step of a broken arc.

    Returns
    -------
    corners
        ``(k, 2)``; ``(0, 2)`` where there is none.
    """
    taut = path.taut
    if len(taut) > 2 and np.array_equal(taut[0], taut[-1]):
        taut = np.vstack([taut, taut[1:2]])
    steps = np.diff(taut, axis=0)
    a, b = steps[:-1], steps[1:]
    angles = np.abs(np.arctan2(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0], (a * b).sum(axis=1)))
    sharp: Section = taut[1:-1][angles >= turn]
    return sharp


def _corners(points: Section) -> Section:
    """Check corners and leave out those that repeat the one before."""
    corners = np.asarray(points, dtype=np.float64)
    if corners.ndim != 2 or corners.shape[1] != 2:
        raise ShapeError(f"section of shape {corners.shape}: give (n, 2) corners")
    if not np.isfinite(corners).all():
        raise ShapeError("section: a corner is not a finite number")
    moved = corners[1:] != corners[:-1]
    is_new = moved[:, 0] | moved[:, 1]
    kept: Section = corners
    if not is_new.all():
        kept = corners[np.concatenate(([True], is_new))]
    if len(kept) < 2:
        raise ShapeError(f"section of {len(kept)} different corners: give two at least")
    return kept


def _open_end(points: Section) -> Section:
    return points[:-1] if np.array_equal(points[0], points[-1]) else points


def _steps(points: Section) -> NDArray[np.float64]:
    """Distance of each corner from the one before."""
    step = points[1:] - points[:-1]
    lengths: NDArray[np.float64] = np.hypot(step[:, 0], step[:, 1])
    return lengths


def _girth(points: Section) -> Mm:
    """Length round checked corners and back to the first."""
    back = points[0] - points[-1]
    return float(_steps(points).sum() + np.hypot(back[0], back[1]))


def _arc_lengths(points: Section) -> NDArray[np.float64]:
    return np.concatenate([[0.0], np.cumsum(_steps(points))])


def _hull_indices(points: Section) -> NDArray[np.int64]:
    """Numbers of the hull's corners, anticlockwise (monotone chain); equal corners count once, the first."""
    order = np.lexsort((points[:, 1], points[:, 0]))
    moved = points[order[1:]] != points[order[:-1]]
    order = order[np.concatenate(([True], moved[:, 0] | moved[:, 1]))]
    x, y = points[order, 0].tolist(), points[order, 1].tolist()
    last = len(x) - 1
    lower = _chain(x, y)
    upper = [last - i for i in _chain(x[::-1], y[::-1])]
    found: NDArray[np.int64] = order[lower[:-1] + upper[:-1] or lower]
    return found


def _chain(x: list[float], y: list[float]) -> list[int]:
    """Numbers of the corners on one side of the hull, of corners in order; plain floats are quickest here."""
    chain: list[int] = []
    for i, (cx, cy) in enumerate(zip(x, y, strict=True)):
        while len(chain) > 1:
            a, b = chain[-2], chain[-1]
            ax, ay = x[a], y[a]
            if (x[b] - ax) * (cy - ay) - (y[b] - ay) * (cx - ax) > 0:
                break
            chain.pop()
        chain.append(i)
    return chain


def _path(
    points: Section, arc: NDArray[np.float64], marks: NDArray[np.int64], touch: Mm, offset: Mm, around: Mm
) -> FilmPath:
    """Collect the film's path and the hollows between the corners that it rests on."""
    if not touch > 0 or not isfinite(touch):
        raise ShapeError(f"gap that counts as touching: {touch:g} mm; it must be greater than 0")
    bridges: list[Bridge] = []
    for i, j in pairwise(marks.tolist()):
        if j - i > 1:
            bridges += _bridges(points[i : j + 1], arc[i : j + 1], touch, offset, around)
    taut = points[marks]
    return FilmPath(
        true_length=float(arc[-1]),
        taut_length=float(_steps(taut).sum()),
        taut=taut,
        bridges=tuple(bridges),
    )


def _bridges(points: Section, arc: NDArray[np.float64], touch: Mm, offset: Mm, around: Mm) -> list[Bridge]:
    """Hollows under one straight piece of film; where the work comes up to it, one hollow ends and the next begins."""
    run = points[-1] - points[0]
    heading = atan2(run[1], run[0])
    across = points - points[0]
    gaps = np.abs(across[:, 1] * cos(heading) - across[:, 0] * sin(heading))
    rests = np.flatnonzero(gaps <= touch).tolist()
    found: list[Bridge] = []
    for i, j in pairwise(rests):
        if j - i < 2:
            continue
        deepest = i + int(np.argmax(gaps[i : j + 1]))
        found.append(
            Bridge(
                start=_along(arc[i], offset, around),
                end=_along(arc[j], offset, around),
                span=float(np.hypot(*(points[j] - points[i]))),
                girth=float(arc[j] - arc[i]),
                depth=float(gaps[deepest]),
                deepest=_along(arc[deepest], offset, around),
            )
        )
    return found


def _along(length: float, offset: Mm, around: Mm) -> Mm:
    place = float(length) + offset
    return place if place < around else place - around
