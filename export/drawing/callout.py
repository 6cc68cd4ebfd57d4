"""Leaders and numbered balloons: taken apart, and placed in a column so that no two leaders cross.

Source: ISO 128-22 (endings of leaders, from memory), ISO 6433 (item numbers in circles of one size, from memory).
"""

import math
from collections.abc import Sequence

from ...model.errors import ExportError
from ...model.units import Mm, Ratio
from .curves import Circle, Point, Polyline, polar
from .dimension import GAP, arrow
from .pens import DIMENSION
from .primitives import Align, Balloon, Ending, Hatch, Leader, Level, Plain, Stroke, Text
from .sheet import View

DOT: Mm = 0.6
"""Radius of the dot at the end of a leader."""

SLOPE: Ratio = 0.25
"""How steeply leaders rise where they may: level ones would be lost among level outlines and hatching."""


def _ending(points: tuple[Point, ...], ending: Ending) -> list[Plain]:
    tip, before = points[0], points[1]
    if ending is Ending.ARROW:
        return [arrow(tip, math.atan2(tip[1] - before[1], tip[0] - before[0]))]
    if ending is Ending.DOT:
        return [Hatch(boundary=(Circle(centre=tip, radius=DOT),), pattern="solid")]
    return []


def leader(item: Leader) -> tuple[Plain, ...]:
    """Line, ending and note of a leader; the note stands beyond its last point."""
    end, before = item.points[-1], item.points[-2]
    line = Stroke(curve=Polyline(points=item.points), pen=DIMENSION)
    parts: list[Plain] = [line, *_ending(item.points, item.ending)]
    if item.text:
        to_right = end[0] >= before[0]
        place = (end[0] + (GAP if to_right else -GAP), end[1])
        align = Align.LEFT if to_right else Align.RIGHT
        parts.append(
            Text(text=item.text, position=place, height=item.height, align=align, level=Level.MIDDLE)
        )
    return tuple(parts)


def balloon(item: Balloon) -> tuple[Plain, ...]:
    """Line, ending, circle and number of a balloon."""
    centre, before = item.points[-1], item.points[-2]
    parts: list[Plain] = []
    if math.dist(centre, before) > item.radius:
        touch = polar(centre, item.radius, math.atan2(before[1] - centre[1], before[0] - centre[0]))
        parts.append(Stroke(curve=Polyline(points=(*item.points[:-1], touch)), pen=DIMENSION))
    parts += _ending(item.points, item.ending)
    parts.append(Stroke(curve=Circle(centre=centre, radius=item.radius), pen=DIMENSION))
    number = Text(text=item.text, position=centre, height=item.height, align=Align.CENTRE, level=Level.MIDDLE)
    return (*parts, number)


def balloon_column(
    view: View,
    parts: Sequence[tuple[Point, str]],
    x: Mm,
    low: Mm,
    high: Mm,
    radius: Mm = 4.0,
    ending: Ending = Ending.DOT,
    slope: Ratio = SLOPE,
) -> tuple[Balloon, ...]:
    """Balloons of parts in one column, each as near to its own slope as the others allow.

    The leaders are straight and do not cross.

    Parameters
    ----------
    parts
        For each part a point of the view that lies on it, and its number.
    x, low, high
        Place on paper of the column, and between which heights it may stand.
    slope
        Rise of the leaders over their run; negative where they should fall.

    Raises
    ------
    ExportError
        The column is too short for so many balloons.
    """
    if not parts:
        return ()
    tips = [(view.on_paper(point), number) for point, number in parts]
    tips.sort(key=lambda tip: -_aim(tip[0], x, slope))
    pitch = (high - low) / len(tips)
    if pitch < 2.0 * radius:
        raise ExportError(
            f"balloons of {view.name}: found {len(tips)} in {high - low:.0f} mm; each needs {2.0 * radius:.0f} mm; "
            "give them a second column, a smaller radius or a larger sheet"
        )
    pitch = min(pitch, 2.5 * radius)
    heights = _levels([_aim(tip, x, slope) for tip, _ in tips], pitch, low + pitch / 2.0, high - pitch / 2.0)
    places = [(x, height) for height in heights]
    order = _uncrossed([tip for tip, _ in tips], places)
    return tuple(
        Balloon(
            points=(view.in_view(tip), view.in_view(places[k])), text=number, radius=radius, ending=ending
        )
        for (tip, number), k in zip(tips, order, strict=True)
    )


def _aim(tip: Point, x: Mm, slope: Ratio) -> Mm:
    return tip[1] + slope * abs(x - tip[0])


def _levels(wanted: Sequence[Mm], pitch: Mm, low: Mm, high: Mm) -> list[Mm]:
    """Falling heights at least a pitch apart and within limits, nearest to falling wanted ones.

    With i pitches added they need only not rise: neighbours that would are pooled at their mean.
    """
    pools: list[tuple[float, int]] = []
    for i, height in enumerate(wanted):
        mean, count = height + i * pitch, 1
        while pools and pools[-1][0] < mean:
            other, size = pools.pop()
            mean, count = (other * size + mean * count) / (size + count), size + count
        pools.append((mean, count))
    raised = [mean for mean, count in pools for _ in range(count)]
    floor = low + (len(wanted) - 1) * pitch
    return [min(max(height, floor), high) - i * pitch for i, height in enumerate(raised)]


def _uncrossed(tips: Sequence[Point], places: Sequence[Point]) -> list[int]:
    """Place of each tip such that no two lines cross: swapping two that cross always shortens the whole."""
    order = list(range(len(tips)))
    crossed = True
    while crossed:
        crossed = False
        for i in range(len(tips)):
            for j in range(i + 1, len(tips)):
                if crosses(tips[i], places[order[i]], tips[j], places[order[j]]):
                    order[i], order[j] = order[j], order[i]
                    crossed = True
    return order


def crosses(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether the lines from a to b and from c to d cross in a point inside both."""

    def side(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < -1e-9 and side(c, d, a) * side(c, d, b) < -1e-9
