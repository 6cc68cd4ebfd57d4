"""Edges by their sizes: regular polygons, superellipses, and polygons with rounded corners."""

import math
from collections.abc import Sequence

import numpy as np

from ..errors import ShapeError
from ..units import Mm
from .biarc import biarcs
from .crossing import crossing
from .loop import FINE, Corner, Loop, LoopPoint, closed, polygon
from .profile import Floats


def regular_polygon(sides: int) -> Loop:
    """Regular polygon whose corners lie on a circle of radius 1 around the origin, one side level at the bottom."""
    first = -0.5 * math.pi + math.pi / sides
    angles = [first + 2.0 * math.pi * number / sides for number in range(sides)]
    return polygon((math.cos(angle), math.sin(angle)) for angle in angles)


def superellipse(length: Mm, width: Mm, exponent: float) -> Loop:
    """Edge |2x/length|ⁿ + |2y/width|ⁿ = 1, followed by arcs within ``FINE``; for exponents from 2.

    Source: textbook, Lamé's curve.
    """
    a, b = 0.5 * length, 0.5 * width

    def quarter(u: Floats) -> tuple[Floats, Floats]:
        # exact at the upper end, where a cosine would leave a last digit
        c, s = np.where(u == 1.0, 0.0, np.cos(0.5 * np.pi * u)), np.sin(0.5 * np.pi * u)
        reach = (c**exponent + s**exponent) ** (1.0 / exponent)
        across = np.column_stack((c ** (exponent - 1.0) / a, s ** (exponent - 1.0) / b))
        across /= np.hypot(*across.T)[:, None]
        return np.column_stack((a * c / reach, b * s / reach)), np.column_stack((-across[:, 1], across[:, 0]))

    corners = biarcs(quarter, 0.0, 1.0, FINE)
    first = Loop((*corners, (0.0, b, 0.0)))
    # the other quarters are mirror images
    second = _mirrored(first, -1.0, 1.0)
    third = tuple((-x, -y, bulge) for x, y, bulge in corners)
    fourth = tuple((-x, -y, bulge) for x, y, bulge in second)
    return closed((*corners, *second, *third, *fourth))


def _mirrored(quarter: Loop, across: float, along: float) -> tuple[Corner, ...]:
    """Mirror image of an open row of corners, run back so that it turns the same way; its end left out."""
    row = quarter.corners
    return tuple(
        (across * x, along * y, bulge)
        for (x, y, _), (_, _, bulge) in zip(row[:0:-1], row[-2::-1], strict=True)
    )


def filleted(corners: Sequence[LoopPoint], radius: Mm) -> Loop:
    """Polygon through corners, either way round, each rounded to one radius; inside corners too.

    Raises
    ------
    ShapeError
        It crosses itself, or the radius finds no room at a side; the text names the place and the largest that does.
    """
    loop = _anticlockwise(corners)
    if radius == 0.0:
        return loop
    points = np.array([corner[:2] for corner in loop.corners])
    sides = np.roll(points, -1, axis=0) - points
    lengths = np.hypot(*sides.T)
    ways = sides / lengths[:, None]
    before = np.roll(ways, 1, axis=0)
    turns = np.arctan2(before[:, 0] * ways[:, 1] - before[:, 1] * ways[:, 0], (before * ways).sum(axis=1))
    take = np.tan(0.5 * np.abs(turns))
    most = lengths / np.maximum(take + np.roll(take, -1), 1e-12)
    tight = int(most.argmin())
    if radius > float(most[tight]) * (1.0 + 1e-9):
        raise ShapeError(
            f"corners rounded to {radius:g} mm find no room on the side from {told(points[tight])} to "
            f"{told(points[(tight + 1) % len(points)])}; the largest radius is {_below(float(most[tight])):g} mm"
        )
    rounded: list[Corner] = []
    for point, way, came, turn, along in zip(points, ways, before, turns, take * radius, strict=True):
        for spot, bulge in ((point - along * came, math.tan(0.25 * turn)), (point + along * way, 0.0)):
            rounded.append((float(spot[0]), float(spot[1]), bulge))
    found = closed(rounded)
    _demand_clear(found, f"with corners rounded to {radius:g} mm the edge meets itself", "Round them less.")
    return found


def _anticlockwise(corners: Sequence[LoopPoint]) -> Loop:
    """Polygon that runs anticlockwise.

    Raises
    ------
    ShapeError
        It has fewer than three corners, or crosses itself.
    """
    loop = polygon(corners)
    if len(loop.corners) < 3:
        raise ShapeError(f"an edge of {len(loop.corners)} corners; it takes three or more")
    _demand_clear(
        loop, "the edge crosses or touches itself", "List its corners in their order around the panel."
    )
    return loop if loop.area > 0.0 else loop.backwards()


def _demand_clear(loop: Loop, what: str, remedy: str) -> None:
    spot = crossing((loop,))
    if spot is not None:
        raise ShapeError(f"{what} at {told(spot)}. {remedy}")


def told(spot: Floats | LoopPoint) -> str:
    """Say where a place is."""
    # adding 0 leaves no -0
    return f"x {round(float(spot[0]), 2) + 0.0:.2f} mm, y {round(float(spot[1]), 2) + 0.0:.2f} mm"


def _below(radius: Mm) -> Mm:
    """Radius a hair smaller, in tenths of a millimetre where it is not tiny."""
    return math.floor(radius * 10.0) / 10.0 if radius >= 1.0 else math.floor(radius * 1e4) / 1e4
