"""Small SVG pieces: paths in small steps of a unit, colours, and labels with leaders. Nothing here needs a style sheet."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from html import escape

import numpy as np

from ...model.scene import Points
from .curve import pieces

WIDTH = 480
"""Width of a view, in its own units; text of 13 of them stays readable on a phone."""
MARGIN = 6
TEXT = 13
FINE = 4
"""Steps of a unit in which coordinates are written, as whole numbers."""
SLACK = 0.2
"""How far a drawn line may lie from the true one, in units of the view."""
STEP = 17
LEADER = 34


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """How mm (right, up) become units of the view (right, down)."""

    scale: float
    left: float
    top: float

    def place(self, points: Points) -> Points:
        """Points ``(n, 2)`` in units of the view."""
        placed: Points = (points - [self.left, self.top]) * [self.scale, -self.scale] + MARGIN
        return placed


def fit(points: Points, width: float) -> tuple[Fit, float]:
    """Fit that brings points ``(n, 2)`` into a width, and the height that they take."""
    low, high = points.min(axis=0), points.max(axis=0)
    scale = (width - 2 * MARGIN) / float(max(high[0] - low[0], 1e-9))
    return Fit(scale=scale, left=float(low[0]), top=float(high[1])), float(
        high[1] - low[1]
    ) * scale + 2 * MARGIN


def path(lines: Iterable[Points], *, closed: bool) -> str:
    """Path data of lines in units of the view, written in small steps and relative to the point before."""
    return "".join(_line(line, closed) for line in lines)


def _line(line: Points, closed: bool) -> str:
    """One line of a path: its beginning, then straight and curved pieces."""
    at = np.rint(line[0] * FINE).astype(int)
    said, before = [f"M{at[0]} {at[1]}"], ""
    drawn = pieces(line, SLACK, closed=closed)
    if closed and drawn and drawn[-1][0] is None:
        # closing draws the last straight piece
        drawn.pop()
    for control, end in drawn:
        goals = [np.rint(goal * FINE).astype(int) - at for goal in (control, end) if goal is not None]
        if not goals[-1].any():
            continue
        letter = "l" if control is None else "q"
        said.append((letter if letter != before else " ") + " ".join(f"{x} {y}" for x, y in goals))
        before, at = letter, at + goals[-1]
    if len(said) == 1:
        return ""
    return "".join(said).replace(" -", "-") + ("z" if closed else "")


def colour(rgb: tuple[int, int, int], share: float) -> str:
    """Hexadecimal colour, darkened to a share of its brightness."""
    return "#" + "".join(f"{round(max(0.0, min(1.0, share)) * part):02x}" for part in rgb)


def room(place: Fit, height: float, lines: int) -> tuple[Fit, float]:
    """Fit moved to the middle of the height that so many labels need."""
    needed = max(height, STEP * (lines + 1.0))
    return replace(place, top=place.top + (needed - height) / 2 / place.scale), needed


def apart(wanted: list[float], step: float, low: float, high: float) -> list[float]:
    """Places at least ``step`` apart, as near as can be (least squares) to rising wanted ones, within limits."""
    runs: list[
        tuple[float, int]
    ] = []  # mean of what a run of touching labels wants for its first, and its length
    for number, want in enumerate(wanted):
        mean, count = want - number * step, 1
        while runs and runs[-1][0] > mean:
            before, others = runs.pop()
            mean, count = (before * others + mean * count) / (others + count), others + count
        runs.append((mean, count))
    firsts = [mean for mean, count in runs for _ in range(count)]
    last = high - (len(wanted) - 1) * step
    return [max(low, min(first, last)) + number * step for number, first in enumerate(firsts)]


def column_for(texts: Iterable[str]) -> float:
    """What labels with these texts take of the width, their leaders included; a letter is taken 0.56 of its height wide."""
    longest = max((len(text) for text in texts), default=0)
    return min(0.56 * TEXT * longest + LEADER, 0.5 * WIDTH)


def labels(anchors: list[tuple[str, float, float]], height: float) -> str:
    """Labels in a column at the right, each with a leader from its anchor (text, x, y), in units of the view."""
    ordered = sorted(anchors, key=lambda anchor: (anchor[2], anchor[0]))
    middles = apart([y for _, _, y in ordered], STEP, STEP / 2, height - STEP / 2)
    column = round(WIDTH - column_for(text for text, _, _ in anchors) + LEADER - MARGIN)
    leaders = "".join(
        f"M{x * FINE:.0f} {y * FINE:.0f}L{max(x, column - 14) * FINE:.0f} {middle * FINE:.0f}H{(column - 3) * FINE}"
        for (_, x, y), middle in zip(ordered, middles, strict=True)
    )
    texts = "".join(
        f'<text x="{column * FINE}" y="{(middle + 4.5) * FINE:.0f}">{escape(text)}</text>'
        for (text, _, _), middle in zip(ordered, middles, strict=True)
    )
    leader = f'<path d="{leaders}" fill="none" stroke="currentColor" stroke-opacity=".55" stroke-width="3"/>'
    return f'{leader}<g fill="currentColor" font-size="{TEXT * FINE}">{texts}</g>'


def window(body: str, width: float, height: float) -> str:
    """Drawing that is cut off at the edges of a window in the upper left corner of the view."""
    edge = f'<clipPath id="window"><path d="M0 0H{width * FINE:.0f}V{height * FINE:.0f}H0z"/></clipPath>'
    return f'{edge}<g clip-path="url(#window)">{body}</g>'


def drawing(body: str, height: float, title: str) -> str:
    """Whole inline SVG with its title for readers."""
    return (
        f'<svg role="img" viewBox="0 0 {WIDTH * FINE} {height * FINE:.0f}" stroke-linejoin="round">'
        f"<title>{escape(title)}</title>{body}</svg>"
    )
