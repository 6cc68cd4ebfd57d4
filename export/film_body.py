"""The upper film as the kernel's solid: plane faces over the corners of its mesh, few where they lie in one plane."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np

from ..model.bag.drape import Drape
from ..model.bag.drape_mesh import flange, joined
from ..model.shape.profile import Floats
from ..model.units import Mm
from .kernel import Solid
from .shapes import Loops, polyhedron

FLAT: Mm = 1e-8
"""Corners no farther from a plane than this lie in it, well within the kernel's own 1e-7."""

LINE = 1e-6
"""Twice the area, mm², below which a face is a line."""
NEAR: Mm = 1e-6
"""Distance from a line at which a corner lies on it."""


def upper_film(film: Drape) -> Solid:
    """Body of the upper film: over the work as it lies there under vacuum, and the flange around it."""
    rims = [flange(film, z)[[0, _half(film) - 1, _half(film), -1]] for z in (0.0, film.thickness)]
    rows = len(film.inner)
    around = film.inner.shape[1]
    points, number = joined(np.concatenate((film.inner, film.outer)).reshape(-1, 3))
    inner, outer = number.reshape(2, rows, around).tolist()
    below, above = (list(range(len(points) + start, len(points) + start + 4)) for start in (0, 4))
    points = np.concatenate((points, *rims))
    faces = [
        *_side(points, outer),
        *(tuple(loop[::-1] for loop in face) for face in _side(points, inner)),
        *(([a, b, d, c],) for a, b, c, d in zip(below, _ahead(below), above, _ahead(above), strict=True)),
        (above, _foot(points, outer)[::-1]),
        (below[::-1], _foot(points, inner)),
    ]
    return polyhedron(points, _without_lines(points, faces))


def _half(film: Drape) -> int:
    return int(film.inner.shape[1]) // 2


def _side(points: Floats, rows: list[list[int]]) -> Iterator[Loops]:
    """Faces of one side of the film, seen from outside: between its rows, and the top inside the last."""
    half = len(rows[0]) // 2
    for number, (low, high) in enumerate(pairwise(rows)):
        for start in (0, half):
            lower, upper = low[start : start + half], high[start : start + half]
            if number == 0 and _is_wall(points, lower, upper):
                # on the bench no other face has the corners between
                yield from _plane(points, [lower[0], lower[-1], *upper[::-1]])
            elif _is_upright(points, lower, upper):
                for first, last in _runs(lower, upper):
                    yield from _plane(points, [*lower[first:last], *upper[first:last][::-1]])
            else:
                for a, b, c, d in zip(lower, lower[1:], upper[1:], upper, strict=False):
                    yield from _plane(points, [a, b, c, d])
        for one, other in ((half - 1, half), (-1, 0)):
            yield from _plane(points, [low[one], low[other], high[other], high[one]])
    front, rear = rows[-1][:half], rows[-1][half:][::-1]
    for a, b, c, d in zip(front, front[1:], rear[1:], rear, strict=False):
        yield from _plane(points, [a, b, c, d])


def _foot(points: Floats, rows: list[list[int]]) -> list[int]:
    """Corners of the foot that faces have, anticlockwise from above."""
    half = len(rows[0]) // 2
    loop: list[int] = []
    for start in (0, half):
        low, high = rows[0][start : start + half], rows[1][start : start + half]
        loop += [low[0], low[-1]] if _is_wall(points, low, high) else low
    return _once(loop)


def _is_wall(points: Floats, low: list[int], high: list[int]) -> bool:
    """Whether what lies between two rows is one plane wall, upright and straight along the work, without a gap."""
    return _is_upright(points, low, high) and all(one != other for one, other in zip(low, high, strict=True))


def _is_upright(points: Floats, low: list[int], high: list[int]) -> bool:
    """Whether two rows lie in one plane, upright and straight along the work."""
    return bool(np.ptp(points[[*low, *high], 1]) <= FLAT)


def _runs(low: list[int], high: list[int]) -> Iterator[tuple[int, int]]:
    """Stretches of two rows in which their corners differ, with the corner before and after where they meet."""
    apart = [one != other for one, other in zip(low, high, strict=True)]
    first = None
    for number, is_apart in enumerate([*apart, False]):
        if is_apart and first is None:
            first = number
        if not is_apart and first is not None:
            yield max(first - 1, 0), min(number + 1, len(low))
            first = None


def _plane(points: Floats, loop: list[int]) -> Iterator[Loops]:
    """A plane face of a loop; two triangles where four corners are not in one plane, none where too few are left."""
    once = _once(loop)
    if len(once) < 3:
        return
    if len(once) == 4:
        a, b, c, d = points[once]
        across = np.cross(b - a, c - a)
        if abs(float(across @ (d - a))) > FLAT * float(np.sqrt(across @ across)):
            yield from (([once[0], *pair],) for pair in (once[1:3], once[2:4]))
            return
    yield (once,)


def _without_lines(points: Floats, faces: list[Loops]) -> list[Loops]:
    """Faces without those whose corners lie on a line: these corners go into the edges of the faces beyond."""
    lines = [face for face in faces if len(face) == 1 and _is_line(points[list(face[0])])]
    if not lines:
        return faces
    gone = {(b, a) for (loop,) in lines for a, b in zip(loop, _ahead(list(loop)), strict=True)}
    corners = np.array(sorted({corner for (loop,) in lines for corner in loop}))

    def split(loop: Sequence[int]) -> list[int]:
        """Loop with the corners that lie on its edges."""
        found: list[int] = []
        for a, b in zip(loop, _ahead(list(loop)), strict=True):
            found.append(a)
            if (a, b) in gone:
                run, away = points[b] - points[a], points[corners] - points[a]
                share = (away @ run) / (run @ run)
                off = np.linalg.norm(away - share[:, None] * run, axis=1)
                on = (off < NEAR) & (share > 0.0) & (share < 1.0) & (corners != a) & (corners != b)
                found += corners[on][np.argsort(share[on])].tolist()
        return found

    kept = [face for face in faces if not any(face is line for line in lines)]
    return [tuple(split(loop) for loop in face) for face in kept]


def _is_line(corners: Floats) -> bool:
    """Whether the corners of a loop enclose nothing."""
    from_first = corners - corners[0]
    across = np.cross(from_first, np.roll(from_first, -1, axis=0)).sum(axis=0)
    return bool(across @ across < LINE**2)


def _once(loop: list[int]) -> list[int]:
    """A closed loop without corners that repeat the one before."""
    return [corner for before, corner in zip((loop[-1], *loop), loop, strict=False) if corner != before]


def _ahead(loop: list[int]) -> list[int]:
    return [*loop[1:], loop[0]]
