"""A sketch of the section for the bench, not to scale: which sheet lies where, and which way the face looks."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from ...model.plan import Plan
from ...model.stack import Layer
from ...model.units import Mm
from ..drawing.curves import Arc, Line, Point, Polyline, polar
from ..drawing.dimension import arrow
from ..drawing.lettering import Face
from ..drawing.pens import NARROW, PHANTOM, WIDE
from ..drawing.primitives import Hatch, Item, Level, Stroke, Text
from .flow import WIDTH, Block

LETTERS: Mm = 3.5
PITCH: Mm = 5.2
"""Height of a row of the sketch, so that its words have room."""
PICTURE: Mm = 84.0
"""Width of the picture; the words stand on its right."""
SAG: Mm = 8.0
"""Rise of the picture of a bend."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """One band of the sketch: its words, the numbers of its layers, and its pattern; no pattern draws a line."""

    words: str
    reach: Mm
    pattern: str = ""
    is_face: bool = False


def sketch(plan: Plan) -> Block:
    """Sketch of a plan's section, from the upper film down, with an arrow where the show face looks."""
    rows = list(_rows(plan))
    bend = 0.0 if plan.layup.bend is None else (1.0 if plan.layup.press.lay == "convex" else -1.0)
    room = SAG if bend else 0.0
    items: list[Item] = []
    height = room + PITCH * len(rows) + 3.0
    for number, row in enumerate(rows):
        y = -(room if bend > 0.0 else 0.0) - PITCH * (number + 0.5) - 1.5
        items += _band(row, y, bend)
        tip = _edge(row, y, bend)
        items.append(Stroke(curve=Polyline(points=(tip, (PICTURE + 4.0, y), (PICTURE + 8.0, y))), pen=NARROW))
        items.append(
            Text(
                text=row.words,
                position=(PICTURE + 9.5, y),
                height=LETTERS,
                level=Level.MIDDLE,
                face=Face.BOLD if row.is_face else Face.REGULAR,
            )
        )
    items += _face_arrow(plan, rows, bend, room)
    return Block(items=tuple(items), height=height)


def _rows(plan: Plan) -> Iterator[_Row]:
    """Bands from above downward."""
    half = 0.5 * PICTURE
    yield _Row(words="bag film", reach=half)
    layers = list(enumerate(plan.stack.layers, 1))
    sheets: list[tuple[str, Layer]] = []
    run: list[tuple[int, Layer]] = []
    for number, layer in layers:
        if layer.role == "substrate":
            run.append((number, layer))
        elif layer.role != "adhesive":
            if run:
                sheets.append((_run_words(run), run[0][1]))
                run = []
            sheets.append((f"{number}  {layer.name}", layer))
    for words, layer in reversed(sheets):
        yield _Row(
            words=words + ("  – SHOW FACE" if layer.key == "face" else ""),
            reach=half * _REACH.get(layer.role, 0.7),
            pattern=_PATTERN.get(layer.role, ""),
            is_face=layer.key == "face",
        )
    if plan.base.kind != "bench":
        yield _Row(words=plan.base.kind, reach=half * 0.92, pattern="form")
    yield _Row(words="bench" if plan.base.kind == "bench" else "bag film below", reach=half)


_REACH = {
    "release": 0.78,
    "veneer": 0.72,
    "substrate": 0.68,
    "absorbent": 0.72,
    "caul": 0.7,
    "breather": 0.86,
}
_PATTERN = {"substrate": "wood across", "caul": "form", "veneer": "solid"}


def _run_words(run: list[tuple[int, Layer]]) -> str:
    if len(run) == 1:
        return f"{run[0][0]}  {run[0][1].name}"
    return f"{run[0][0]}–{run[-1][0]}  {len(run)} laminations, glue between"


def _thick(row: _Row) -> Mm:
    return {"solid": 1.2, "": 0.0}.get(row.pattern, 3.6)


def _curve(reach: Mm, y: Mm, bend: float) -> Arc | Line:
    """Line or arc of a band, from left to right, its middle at the height y."""
    half = 0.5 * PICTURE
    if bend == 0.0:
        return Line(start=(half - reach, y), end=(half + reach, y))
    radius = (half**2 + SAG**2) / (2.0 * SAG)
    lean = math.asin(reach / radius)
    middle = math.copysign(0.5 * math.pi, bend)
    centre = (half, y + SAG - radius) if bend > 0.0 else (half, y - SAG + radius)
    start = middle + math.copysign(lean, bend)
    return Arc(centre=centre, radius=radius, start=start, sweep=-math.copysign(2.0 * lean, bend))


def _edge(row: _Row, y: Mm, bend: float) -> Point:
    """Right end of a band at half its thickness."""
    curve = _curve(row.reach, y, bend)
    return curve.end if isinstance(curve, Line) else polar(curve.centre, curve.radius, curve.end)


def _band(row: _Row, y: Mm, bend: float) -> list[Item]:
    thick = _thick(row)
    if thick == 0.0:
        is_film = row.words.startswith("bag")
        return [Stroke(curve=_curve(row.reach, y, bend), pen=PHANTOM if is_film else NARROW)]
    low, high = _curve(row.reach, y - 0.5 * thick, bend), _curve(row.reach, y + 0.5 * thick, bend)
    back: Arc | Line
    if isinstance(high, Line):
        back = Line(start=high.end, end=high.start)
    else:
        back = Arc(centre=high.centre, radius=high.radius, start=high.end, sweep=-high.sweep)
    ring = (low, Line(start=_last(low), end=_first(back)), back, Line(start=_last(back), end=_first(low)))
    strokes = [Stroke(curve=edge, pen=WIDE) for edge in ring]
    return [Hatch(boundary=ring, pattern=row.pattern), *strokes]


def _first(curve: Arc | Line) -> Point:
    return curve.start if isinstance(curve, Line) else curve.at(curve.start)


def _last(curve: Arc | Line) -> Point:
    return curve.end if isinstance(curve, Line) else curve.at(curve.end)


def _face_arrow(plan: Plan, rows: list[_Row], bend: float, room: Mm) -> Iterator[Item]:
    """Arrow through the sketch at its left, pointing where the show face looks."""
    found = [number for number, row in enumerate(rows) if row.is_face]
    if not found:
        return
    y = -(room if bend > 0.0 else 0.0) - PITCH * (found[0] + 0.5) - 1.5
    up = 1.0 if plan.layup.face_is_up else -1.0
    x = 0.5 * PICTURE
    start = y + SAG * bend
    tip = (x, start + up * 5.2)
    yield Stroke(curve=Line(start=(x, start), end=(x, start + up * 2.5)), pen=WIDE)
    yield arrow(tip, math.copysign(0.5 * math.pi, up))


__all__ = ["WIDTH", "sketch"]
