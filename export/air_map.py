"""The map of the air as a picture: when each place of the breather is drawn down, as seen on the flat bag.

Bands between round times go from light to dark, and the lines between them carry their times where there is room, so
that it reads in grey and for colour-blind eyes. The closed end of the bag is at the left, the left seam below, as seen from above.
"""

import math

import numpy as np

from ..model.air_answer import AirAnswer
from ..model.bag.air import ENOUGH, Drawn
from ..model.bag.ground import Strip
from ..model.bag.size import CLOSED_KINDS
from ..model.units import Second
from ..model.wording import both, decimal, duration
from .air_labels import Spots, contour_labels
from .air_shapes import bag_edge, bands, edge_words, legend, marks, ruler, strip_edges
from .contours import Floats, regions
from .page.svg_text import FINE, MARGIN, TEXT, WIDTH, drawing
from .page.svg_views import View

TALLEST = 420.0
"""Height that the bag takes at the most, in units of the view."""
SMALL = 10.5
"""Letters on the map itself."""
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
            bag_edge(bag, scale * closure),
            bands(
                edge, loops, bool(np.isinf(times).any()), [place(_places(drawn, one)) for one in never(times)]
            ),
            strip_edges([place(_corners(answer, strip)) for strip in strips]),
            "".join(contour_labels(loops, [told(level) for level in levels], edge, spots, SMALL)),
            marks(spots),
            edge_words(bag, size.kind in CLOSED_KINDS),
            legend(levels, times, below),
            ruler(scale, below + rows),
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


def _corners(answer: AirAnswer, strip: Strip) -> Floats:
    """Corners ``(4, 2)`` of a strip, from edge to edge of the breather."""
    along, half = strip.run == "along", 0.5 * strip.width
    reach = 0.5 * (answer.ground.length if along else answer.ground.width)
    low, high = strip.at - half, strip.at + half
    corners = np.array([[-reach, low], [reach, low], [reach, high], [-reach, high]])
    return corners if along else corners[:, ::-1]
