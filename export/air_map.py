"""The map of the air as a picture: when each place of the breather is drawn down, as seen on the flat bag.

Bands between round times go from light to dark, and the lines between them carry their times where there is room, so
that it reads in grey and for colour-blind eyes. The closed end of the bag is at the left, the left seam below, as seen from above.
"""

import math
from html import escape

import numpy as np

from ..model.air_answer import AirAnswer
from ..model.bag.air import ENOUGH, Drawn
from ..model.bag.ground import Strip
from ..model.bag.size import CLOSED_KINDS
from ..model.colour import AIR_BANDS, AIR_NEVER
from ..model.units import Second
from ..model.wording import both, decimal, duration
from .air_labels import Spots, contour_labels
from .contours import Floats, regions
from .page.svg_text import FINE, MARGIN, TEXT, WIDTH, drawing
from .page.svg_views import View

TALLEST = 420.0
"""Height that the bag takes at the most, in units of the view."""
SMALL = 10.5
"""Letters on the map itself."""
SWATCH = 14.0
ROUND = (1.0, 2.0, 5.0)


def air_views(answer: AirAnswer) -> tuple[View, ...]:
    """Map of the best single valve and, where more are needed to be in time, that of those."""
    found = [air_view(answer, answer.first)]
    if answer.enough is not None and len(answer.enough.spots) > 1:
        found.append(air_view(answer, answer.enough))
    if answer.strips is not None:
        found.append(air_view(answer, answer.strips.drawn, answer.strips.strips))
    return tuple(found)


def air_picture(answer: AirAnswer) -> bytes:
    """The first map as a picture of its own, on white, with what it says below it."""
    svg = air_view(answer, answer.first).svg
    head = '<svg xmlns="http://www.w3.org/2000/svg" font-family="sans-serif" color="#111111" '
    ground = f'<path d="M0 0H{WIDTH * FINE}V{WIDTH * FINE * 2}H0z" fill="#ffffff"/>'
    return (svg.replace("<svg ", head, 1).replace("</title>", f"</title>{ground}", 1) + "\n").encode()


def air_view(answer: AirAnswer, drawn: Drawn, strips: tuple[Strip, ...] = ()) -> View:
    """Map of one set of valves, and the strips of netting that lie over the breather."""
    plan, size = answer.plan, answer.plan.bag
    scale = min((WIDTH - 2.0 * MARGIN) / size.length, TALLEST / size.width)
    left = 0.5 * (WIDTH - scale * size.length)
    top = MARGIN + TEXT + 4.0

    def place(points: Floats) -> Floats:
        """Places on the breather ``(n, 2)`` in units of the view."""
        u, v = answer.on_flat_bag((points[:, 0], points[:, 1]))  # type: ignore[arg-type]
        return np.column_stack((left + scale * u, top + scale * (size.width - v)))

    times = drawn.map.reached
    levels = levels_for(times)
    bag = np.array([[left, top], [left + scale * size.length, top + scale * size.width]])
    below, rows = float(bag[1, 1]) + TEXT + 16.0, 20.0 * math.ceil((len(levels) + 1) / 3)
    loops = [
        [place(_places(drawn, loop)) for loop in regions(filled(times, level), level)] for level in levels
    ]
    edge = [place(loop) for loop in outline(drawn)]
    spots = Spots(
        valves=place(np.array(drawn.spots)),
        radius=max(scale * answer.ground.radius, 3.0),
        last=place(np.array([drawn.last]))[0],
    )
    closure = plan.layup.bag.closure if size.kind in CLOSED_KINDS else 0.0
    body = "".join(
        (
            _bag(bag, scale * closure),
            _bands(
                edge, loops, bool(np.isinf(times).any()), [place(_places(drawn, one)) for one in never(times)]
            ),
            _strips([place(_corners(answer, strip)) for strip in strips]),
            "".join(contour_labels(loops, [told(level) for level in levels], edge, spots, SMALL)),
            _marks(spots),
            _edges(bag, size.kind in CLOSED_KINDS),
            _legend(levels, times, below),
            _ruler(scale, below + rows),
        )
    )
    title = f"{plan.layup.title}: when each place of the breather is drawn down, seen on the flat bag"
    count = len(drawn.spots)
    return View(
        name="Air to one valve, with strips of netting"
        if strips
        else "Air to one valve"
        if count == 1
        else f"Air to {count} valves",
        svg=drawing(body, below + rows + 26.0, title),
        caption=_caption(answer, drawn),
    )


def _caption(answer: AirAnswer, drawn: Drawn) -> str:
    places = "; ".join(f"{both(u)}, {both(v)}" for u, v in map(answer.on_flat_bag, drawn.spots))
    if not math.isfinite(drawn.slowest):
        said = "some places are not drawn down in the time that was followed"
    else:
        said = f"every place has {ENOUGH:.0%} of the reading after {duration(drawn.slowest)}"
    alone = f"the pump alone would need {duration(answer.pumping.alone)}"
    valves = "Valve" if len(drawn.spots) == 1 else "Valves"
    return f"Seconds from when the film lies on; {said}, and {alone}. {valves}, from the closed end and the left seam: {places}."


def levels_for(times: Floats) -> tuple[Second, ...]:
    """Round times that part a map into three to eight bands; none where it is the same everywhere."""
    finite = times[np.isfinite(times)]
    low, high = float(finite.min()), float(finite.max())
    if high - low <= 1e-6 * max(high, 1e-9):
        return ()
    rough = (high - low) / 6.0
    power = 10.0 ** math.floor(math.log10(rough))
    step = next((one * power for one in ROUND if one * power >= rough), 10.0 * power)
    first = math.floor(low / step) + 1
    return tuple(step * n for n in range(first, math.ceil(high / step)))


def told(level: Second) -> str:
    """A round time without its unit."""
    return decimal(level, 6 if level < 1.0 else 3)


def filled(times: Floats, level: Second) -> Floats:
    """Map without holes: what is never reached comes after everything, what is no breather is as its nearest place."""
    from scipy.ndimage import distance_transform_edt

    _, (rows, columns) = distance_transform_edt(np.isnan(times), return_indices=True)
    whole: Floats = times[rows, columns]
    # straight down to the level from a place that is never reached
    top = max(float(times[np.isfinite(times)].max()), level) + 1.0
    return np.where(np.isinf(whole), top, whole)


def never(times: Floats) -> list[Floats]:
    """Loops around what is never reached."""
    return regions(np.where(np.isinf(times), 1.0, 0.0), 0.5) if np.isinf(times).any() else []


def outline(drawn: Drawn) -> list[Floats]:
    """Edge of the breather and its tails, as closed loops ``(n, 2)`` of places on it."""
    import shapely

    inside, cell = drawn.grid.breather.inside, drawn.grid.breather.cell
    (s, w), rows = drawn.grid.corner, []
    for row, cells in enumerate(inside):
        steps = np.flatnonzero(np.diff(np.concatenate(([0], cells.astype(int), [0]))))
        rows += [
            shapely.box(s + a * cell, w + row * cell, s + b * cell, w + (row + 1) * cell)
            for a, b in steps.reshape(-1, 2).tolist()
        ]
    whole = shapely.union_all(rows).normalize()
    parts = whole.geoms if whole.geom_type == "MultiPolygon" else (whole,)
    return [
        np.array(ring.coords)[:-1]
        for part in parts
        for ring in (part.simplify(1e-6).exterior, *part.simplify(1e-6).interiors)
    ]


def _places(drawn: Drawn, loop: Floats) -> Floats:
    """Places on the breather of points given in cells."""
    return np.array(drawn.grid.corner) + (loop + 0.5) * drawn.grid.breather.cell


def _path(loops: list[Floats]) -> str:
    """Path data of closed loops."""
    return "".join(
        "M" + "L".join(f"{x} {y}" for x, y in np.rint(loop * FINE).astype(int).tolist()) + "z"
        for loop in loops
    )


def _bag(corners: Floats, closure: float) -> str:
    """Inside edge of the bag, and the line that the closure begins at."""
    (x0, y0), (x1, y1) = np.rint(corners * FINE).astype(int).tolist()
    shut = f"M{x1 - round(closure * FINE)} {y0}V{y1}" if closure else ""
    return (
        f'<path d="M{x0} {y0}H{x1}V{y1}H{x0}z{shut}" fill="none" stroke="currentColor" '
        'stroke-opacity=".55" stroke-width="3"/>'
    )


def _edges(bag: Floats, is_closed: bool) -> str:
    """Names of the bag's edges; sheets that are taped down all round have no open end."""
    (x0, y0), (x1, y1) = bag.tolist()
    words = _word("closed end", x0, y0 - 5.0)
    words += _word("open end", x1 - 56.0, y0 - 5.0) if is_closed else ""
    seam = _word("left seam, seen from the open end", x0, y1 + TEXT + 2.0)
    return f'<g fill="currentColor" font-size="{TEXT * FINE}">{words}{seam}</g>'


def _bands(edge: list[Floats], loops: list[list[Floats]], is_cut_off: bool, shut: list[Floats]) -> str:
    """Bands within the edge of the breather: each is painted over the one that is reached before it."""
    colours = band_colours(len(loops) + 1)
    said = [
        f'<clipPath id="breather"><path d="{_path(edge)}"/></clipPath><g clip-path="url(#breather)">',
        f'<path d="{_path(edge)}" fill="{colours[0]}"/>',
    ]
    for colour, region in zip(colours[1:], loops, strict=True):
        said.append(f'<path d="{_path(region)}" fill="{colour}" stroke="#333333" stroke-width="3"/>')
    if is_cut_off:
        said.append(f'<path d="{_path(shut)}" fill="{AIR_NEVER}"/>')
    said.append(f'</g><path d="{_path(edge)}" fill="none" stroke="currentColor" stroke-width="5"/>')
    return "".join(said)


def band_colours(count: int) -> tuple[str, ...]:
    """So many colours from light to dark."""
    at = np.linspace(0.0, len(AIR_BANDS) - 1.0, max(count, 2))[:count]
    channels = np.array(AIR_BANDS, dtype=float).T
    mixed = np.stack([np.interp(at, np.arange(len(AIR_BANDS)), channel) for channel in channels], axis=1)
    return tuple("#" + "".join(f"{round(part):02x}" for part in rgb) for rgb in mixed.tolist())


def _corners(answer: AirAnswer, strip: Strip) -> Floats:
    """Corners ``(4, 2)`` of a strip, from edge to edge of the breather."""
    along, half = strip.run == "along", 0.5 * strip.width
    reach = 0.5 * (answer.ground.length if along else answer.ground.width)
    low, high = strip.at - half, strip.at + half
    corners = np.array([[-reach, low], [reach, low], [reach, high], [-reach, high]])
    return corners if along else corners[:, ::-1]


def _strips(corners: list[Floats]) -> str:
    """Edges of strips, light beside dark so that they are seen on every band."""
    lines = "".join(_path([one]) for one in corners)
    return "".join(
        f'<path d="{lines}" fill="none" stroke="{colour}" stroke-width="{width}"/>'
        for colour, width in (("#ffffff", 12), ("#111111", 5))
        if lines
    )


def _marks(spots: Spots) -> str:
    """Valves as discs with a ring around, and a cross at the place that is drawn down last."""
    return "".join(_ring(valve, spots.radius) for valve in spots.valves) + _cross(spots.last)


def _ring(middle: Floats, radius: float) -> str:
    rim, core = _path([disc(middle, radius)]), _path([disc(middle, 0.4 * radius)])
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


def _legend(levels: tuple[Second, ...], times: Floats, top: float) -> str:
    """Bands with their times in three columns, and what the marks mean."""
    ends = [float(np.nanmin(times)), *levels, float(times[np.isfinite(times)].max())]
    said = []
    for n, colour in enumerate(band_colours(len(levels) + 1)):
        x, y = MARGIN + (n % 3) * WIDTH / 3.0, top + 20.0 * (n // 3)
        said.append(
            f'<path d="{_path([_square(x, y)])}" fill="{colour}" stroke="#333333" stroke-width="2"/>'
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


def _ruler(scale: float, top: float) -> str:
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
