"""Times written on the lines of the map of the air, where there is room for them."""

from collections.abc import Iterator
from dataclasses import dataclass
from html import escape

import numpy as np

from .contours import Floats
from .page.svg_text import FINE

LETTER = 0.58
"""Width of a digit over its height."""
TRIES = 48
"""Places on a line that are tried for its label."""

Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spots:
    """Places of the valves ``(n, 2)`` with the radius that they are drawn with, and of what is drawn down last."""

    valves: Floats
    radius: float
    last: Floats


def contour_labels(
    loops: list[list[Floats]], texts: list[str], edge: list[Floats], spots: Spots, size: float
) -> Iterator[str]:
    """Give each level a label on its longest line that has room, clear of marks, of the edge and of other labels.

    Parameters
    ----------
    loops
        Closed lines of each level, in units of the view.
    texts
        What each says.
    edge
        Edge of the map; a label lies inside.
    size
        Height of the letters.
    """
    import shapely

    land = shapely.Polygon(edge[0], edge[1:]).buffer(-2.0)
    around = spots.radius + 4.0
    taken: list[Box] = [_around(valve, around, around) for valve in spots.valves]
    taken.append(_around(spots.last, 8.0, 8.0))
    for lines, text in zip(loops, texts, strict=True):
        half = 0.5 * LETTER * size * len(text) + 2.0, 0.5 * size + 1.0
        for point in _candidates(lines):
            box = _around(point, *half)
            if land.covers(shapely.box(*box)) and not any(_meet(box, other) for other in taken):
                taken.append(box)
                yield _label(text, point, half, size)
                break


def _candidates(lines: list[Floats]) -> Iterator[Floats]:
    """Points on the lines, the longest line first, from its upper side on."""
    for line in sorted(lines, key=lambda line: -len(line)):
        ordered = line[np.argsort(np.abs(line[:, 0] - line[:, 0].mean()), kind="stable")]
        yield from ordered[:: max(len(ordered) // TRIES, 1)]


def _label(text: str, point: Floats, half: tuple[float, float], size: float) -> str:
    """Text on a light ground that parts it from its line."""
    x, y = float(point[0]), float(point[1])
    x0, y0, x1, y1 = (round(value * FINE) for value in _around(point, *half))
    ground = f'<path d="M{x0} {y0}H{x1}V{y1}H{x0}z" fill="#ffffff" fill-opacity=".8"/>'
    at = f'x="{round((x - half[0] + 2.0) * FINE)}" y="{round((y + 0.36 * size) * FINE)}"'
    return f'{ground}<g fill="#111111" font-size="{round(size * FINE)}"><text {at}>{escape(text)}</text></g>'


def _around(point: Floats, half_width: float, half_height: float) -> Box:
    x, y = float(point[0]), float(point[1])
    return x - half_width, y - half_height, x + half_width, y + half_height


def _meet(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
