"""Setting out the edge of a panel by rule and square: its corners, or what a rule reads across it at equal steps.

All places are read from the lower left corner of the box around the edge, as it is seen on the show face.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from .shape.loop import FINE, Loop, LoopPoint
from .shape.offset import TANGENT
from .shape.profile import Floats
from .units import Mm

MOST_CORNERS = 30
"""Corners that are listed; an edge of more is set out by ordinates."""
STRAIGHT = 1e-9
"""Sine of the least angle at which two sides make a corner."""
MOST_STEPS = 24
"""Steps along an edge at the most."""
STEPS: tuple[Mm, ...] = (10.0, 20.0, 25.0, 50.0, 100.0, 200.0, 250.0, 500.0, 1000.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class SetCorner:
    """A corner, sharp or before it is rounded.

    Parameters
    ----------
    spot
        Its place.
    outward
        Unit direction away from the panel.
    radius
        Radius that it is rounded to; 0 where it is sharp.
    """

    spot: LoopPoint
    outward: LoopPoint
    radius: Mm


@dataclass(frozen=True, slots=True, kw_only=True)
class SetHole:
    """A hole: the middle of its box and its size; round where its diameter is above 0."""

    middle: LoopPoint
    size: tuple[Mm, Mm]
    diameter: Mm


def set_corners(edge: Loop) -> tuple[SetCorner, ...]:
    """Corners of an edge of straight sides, each sharp or rounded by an arc; none where it is of another kind."""
    count = len(edge.corners)
    lines = [number for number in range(count) if edge.corners[number][2] == 0.0]
    if not 3 <= len(lines) <= MOST_CORNERS:
        return ()
    leaving, _ = edge.headings()
    (left, low), _ = edge.box
    found = []
    for line in lines:
        after = (line + 1) % count
        rounded = edge.corners[after][2] != 0.0
        other = (after + 1) % count if rounded else after
        corner = _rounded(edge, line, after, other) if rounded else np.array(edge.corners[after][:2])
        if corner is None:
            return ()
        away = leaving[line] - leaving[other]
        cross = float(leaving[line][0] * leaving[other][1] - leaving[line][1] * leaving[other][0])
        if abs(cross) < STRAIGHT:
            # two sides in one line: there is nothing to set out between them
            continue
        size = float(np.hypot(*away))
        # away from the panel: along the bisector, and out of an inside corner into its bay
        outward = away / size * (1.0 if cross > 0.0 else -1.0)
        radius = edge.circle(after)[1] if rounded else 0.0
        found.append(
            SetCorner(
                spot=(float(corner[0]) - left, float(corner[1]) - low),
                outward=(float(outward[0]), float(outward[1])),
                radius=radius,
            )
        )
    # from the lower left on, anticlockwise
    first = min(range(len(found)), key=lambda number: float(np.hypot(*found[number].spot)))
    return (*found[first:], *found[:first])


def _rounded(edge: Loop, line: int, arc: int, other: int) -> Floats | None:
    """Corner of two straight sides before the arc between them; None where it is none that rounds a corner."""
    leaving, coming = edge.headings()
    if edge.corners[other][2] != 0.0:
        return None
    joints = ((coming[line], leaving[arc]), (coming[arc], leaving[other]))
    if any(abs(float(a[0] * b[1] - a[1] * b[0])) > 1e3 * TANGENT for a, b in joints):
        return None
    sides = np.column_stack((leaving[line], -leaving[other]))
    if abs(float(np.linalg.det(sides))) < STRAIGHT:
        return None
    start, end = (np.array(edge.corners[number][:2]) for number in (arc, other))
    along = np.linalg.solve(sides, end - start)
    return np.asarray(start + along[0] * leaving[line])


def readings(edge: Loop, steps: tuple[Mm, ...] = STEPS) -> tuple[tuple[Mm, tuple[Mm, ...]], ...]:
    """Places along, and what a rule laid across reads at each where it meets the edge, from below."""
    (left, low), (right, _) = edge.box
    step = next((one for one in steps if (right - left) / one <= MOST_STEPS), steps[-1])
    points = edge.flattened(FINE) - np.array([left, low])
    places = np.arange(step, right - left - 1e-6, step)
    return tuple((float(x), tuple(_met(points, float(x)))) for x in places)


def _met(points: Floats, x: Mm) -> Iterator[Mm]:
    ends = np.roll(points, -1, axis=0)
    spans = (points[:, 0] > x) != (ends[:, 0] > x)
    start, run = points[spans], (ends - points)[spans]
    heights = start[:, 1] + (x - start[:, 0]) / run[:, 0] * run[:, 1]
    yield from sorted(heights.tolist())


def set_holes(edge: Loop, holes: tuple[Loop, ...]) -> tuple[SetHole, ...]:
    """Holes in the order that they are read in, from the left."""
    (left, low), _ = edge.box
    found = []
    for hole in holes:
        (x0, y0), (x1, y1) = hole.box
        middle = 0.5 * (x0 + x1), 0.5 * (y0 + y1)
        found.append(
            SetHole(
                middle=(middle[0] - left, middle[1] - low),
                size=(x1 - x0, y1 - y0),
                diameter=x1 - x0 if _is_round(hole, middle) else 0.0,
            )
        )
    return tuple(sorted(found, key=lambda hole: hole.middle))


def _is_round(hole: Loop, middle: LoopPoint) -> bool:
    (x0, _), (x1, _) = hole.box
    reach = np.hypot(*(hole.flattened(FINE) - np.array(middle)).T)
    return bool(np.abs(reach - 0.5 * (x1 - x0)).max() < FINE)
