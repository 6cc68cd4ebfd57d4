"""The pieces of the map of the air, in units of the view: bands, bag, strips, valves, key and scale."""

from html import escape

import numpy as np

from ..model.colour import AIR_BANDS, AIR_NEVER
from ..model.units import Second
from ..model.wording import both, decimal
from .air_labels import Spots
from .contours import Floats
from .page.svg_text import FINE, MARGIN, TEXT, WIDTH

SWATCH = 14.0
ROW = 20.0
"""Height of a row of the key."""


def path_of(loops: list[Floats]) -> str:
    """Path data of closed loops."""
    return "".join(
        "M" + "L".join(f"{x} {y}" for x, y in np.rint(loop * FINE).astype(int).tolist()) + "z"
        for loop in loops
    )


def bag_edge(corners: Floats, closure: float) -> str:
    """Inside edge of the bag, and the line that the closure begins at."""
    (x0, y0), (x1, y1) = np.rint(corners * FINE).astype(int).tolist()
    shut = f"M{x1 - round(closure * FINE)} {y0}V{y1}" if closure else ""
    return (
        f'<path d="M{x0} {y0}H{x1}V{y1}H{x0}z{shut}" fill="none" stroke="currentColor" '
        'stroke-opacity=".55" stroke-width="3"/>'
    )


def edge_words(bag: Floats, is_closed: bool) -> str:
    """Names of the bag's edges; sheets that are taped down all round have no open end."""
    (x0, y0), (x1, y1) = bag.tolist()
    words = _word("closed end", x0, y0 - 5.0)
    words += _word("open end", x1 - 56.0, y0 - 5.0) if is_closed else ""
    seam = _word("left seam, seen from the open end", x0, y1 + TEXT + 2.0)
    return f'<g fill="currentColor" font-size="{TEXT * FINE}">{words}{seam}</g>'


def bands(edge: list[Floats], loops: list[list[Floats]], is_cut_off: bool, shut: list[Floats]) -> str:
    """Bands within the edge of the breather: each is painted over the one that is reached before it."""
    colours = band_colours(len(loops) + 1)
    said = [
        f'<clipPath id="breather"><path d="{path_of(edge)}"/></clipPath><g clip-path="url(#breather)">',
        f'<path d="{path_of(edge)}" fill="{colours[0]}"/>',
    ]
    for colour, region in zip(colours[1:], loops, strict=True):
        said.append(f'<path d="{path_of(region)}" fill="{colour}" stroke="#333333" stroke-width="3"/>')
    if is_cut_off:
        said.append(f'<path d="{path_of(shut)}" fill="{AIR_NEVER}"/>')
    said.append(f'</g><path d="{path_of(edge)}" fill="none" stroke="currentColor" stroke-width="5"/>')
    return "".join(said)


def band_colours(count: int) -> tuple[str, ...]:
    """So many colours from light to dark."""
    at = np.linspace(0.0, len(AIR_BANDS) - 1.0, max(count, 2))[:count]
    channels = np.array(AIR_BANDS, dtype=float).T
    mixed = np.stack([np.interp(at, np.arange(len(AIR_BANDS)), channel) for channel in channels], axis=1)
    return tuple("#" + "".join(f"{round(part):02x}" for part in rgb) for rgb in mixed.tolist())


def strip_edges(corners: list[Floats]) -> str:
    """Edges of strips, light beside dark so that they are seen on every band."""
    lines = "".join(path_of([one]) for one in corners)
    return "".join(
        f'<path d="{lines}" fill="none" stroke="{colour}" stroke-width="{width}"/>'
        for colour, width in (("#ffffff", 12), ("#111111", 5))
        if lines
    )


def marks(spots: Spots) -> str:
    """Valves as discs with a ring around, and a cross at the place that is drawn down last."""
    return "".join(_ring(valve, spots.radius) for valve in spots.valves) + _cross(spots.last)


def _ring(middle: Floats, radius: float) -> str:
    rim, core = path_of([disc(middle, radius)]), path_of([disc(middle, 0.4 * radius)])
    return (
        f'<path d="{rim}" fill="#ffffff" stroke="#111111" stroke-width="6"/><path d="{core}" fill="#111111"/>'
    )


def _cross(middle: Floats) -> str:
    """Cross on a light ground, so that it is seen on every band."""
    x, y = np.rint(np.asarray(middle) * FINE).astype(int).tolist()
    arm = 4 * FINE
    lines = f"M{x - arm} {y - arm}L{x + arm} {y + arm}M{x - arm} {y + arm}L{x + arm} {y - arm}"
    return "".join(
        f'<path d="{lines}" fill="none" stroke="{colour}" stroke-width="{width}"/>'
        for colour, width in (("#ffffff", 18), ("#111111", 8))
    )


def disc(middle: Floats, radius: float) -> Floats:
    """Points ``(36, 2)`` of a circle."""
    turn = np.linspace(0.0, 2.0 * np.pi, 36, endpoint=False)
    return np.asarray(middle) + radius * np.column_stack((np.cos(turn), np.sin(turn)))


def legend(levels: tuple[Second, ...], times: Floats, top: float) -> str:
    """Bands with their times in three columns, and what the marks mean."""
    ends = [float(np.nanmin(times)), *levels, float(times[np.isfinite(times)].max())]
    said = []
    for n, colour in enumerate(band_colours(len(levels) + 1)):
        x, y = MARGIN + (n % 3) * WIDTH / 3.0, top + 20.0 * (n // 3)
        said.append(
            f'<path d="{path_of([_square(x, y)])}" fill="{colour}" stroke="#333333" stroke-width="2"/>'
            f'<g fill="currentColor" font-size="{TEXT * FINE}">'
            f"{_word(_between(ends[n], ends[n + 1]), x + SWATCH + 6.0, y + SWATCH - 3.0)}</g>"
        )
    return "".join(said)


def _between(low: Second, high: Second) -> str:
    return f"{_short(low)} to {_short(high)} s"


def _short(time: Second) -> str:
    return decimal(time, 3 if time < 10.0 else 2 if time < 100.0 else 0)


def _square(x: float, y: float) -> Floats:
    return np.array([[x, y], [x + SWATCH, y], [x + SWATCH, y + SWATCH], [x, y + SWATCH]])


def ruler(scale: float, top: float) -> str:
    """A length of round millimetres, and what the marks mean."""
    length = next(size for size in (1000.0, 500.0, 200.0, 100.0, 50.0) if scale * size <= 0.24 * WIDTH)
    x0, x1 = round(MARGIN * FINE), round((MARGIN + scale * length) * FINE)
    y = round((top + 9.0) * FINE)
    tick = 3 * FINE
    line = f"M{x0} {y - tick}V{y + tick}M{x0} {y}H{x1}M{x1} {y - tick}V{y + tick}"
    words = _word(both(length), MARGIN + scale * length + 6.0, top + 13.5)
    x, middle = 0.55 * WIDTH, top + 9.0
    marks = _word("valve", x + 12.0, top + 13.5) + _word("drawn down last", x + 84.0, top + 13.5)
    signs = _ring(np.array([x, middle]), 6.0) + _cross(np.array([x + 72.0, middle]))
    return signs + (
        f'<path d="{line}" fill="none" stroke="currentColor" stroke-width="5"/>'
        f'<g fill="currentColor" font-size="{TEXT * FINE}">{words}{marks}</g>'
    )


def _word(text: str, x: float, y: float) -> str:
    return f'<text x="{round(x * FINE)}" y="{round(y * FINE)}">{escape(text)}</text>'
