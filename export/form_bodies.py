"""The bodies of a ribbed form as the kernel's solids: boards with notches and holes, and the sheets of the skin.

The ribs' edge and the lower side of the skin are one curve, as are both sides of two sheets of the skin.
"""

import math

from ..model.form.meshes import placed_names
from ..model.form.part import FormPart, Plane
from ..model.form.ribs import RibForm
from ..model.shape.loop import Loop
from ..model.shape.sheet import Sheet
from ..model.units import Mm
from .bodies import TOWARD, UP, across, between, straight
from .interfaces import Interface, Reach, interfaces, spans
from .kernel import Solid
from .shapes import Point, Span, backwards, circle, plane_face, prism, segment

NORMALS: dict[Plane, Point] = {"along": TOWARD, "across": (1.0, 0.0, 0.0), "level": UP}
"""Direction from which the corners of a board are seen to run anticlockwise."""

STEPS: dict[Plane, Point] = {"along": (0.0, 1.0, 0.0), "across": (1.0, 0.0, 0.0), "level": UP}
"""Direction of a board's thickness."""


def form_bodies(ribs: RibForm, sheet: Sheet, length: Mm, lift: Mm, reach: Reach) -> dict[str, Solid]:
    """Bodies of a ribbed form by the keys of its scene.

    Parameters
    ----------
    length
        Length of the form's face along the sheet.
    lift
        What turns heights of the sheet into z.
    reach
        The lowest and the highest height of form and stack.
    """
    half = 0.5 * length
    heights = {height for skin in ribs.skins for height in (skin.low, skin.high)}
    curves = interfaces(sheet, sorted(heights), lift, reach)
    found: dict[str, Solid] = {}
    for part in ribs.parts:
        for key, _, place in placed_names(part):
            if part is ribs.rib:
                outer = _rib(ribs, curves[ribs.skins[0].low], half, place)
            else:
                outer = _edge(part.outline, part.plane, place)
            found[key] = _board(part, outer, place)
    for skin in ribs.skins:
        section = between(curves[skin.low], curves[skin.high], half)
        found[f"form-{skin.key}"] = across(section, skin.width)
    return found


def _board(part: FormPart, outer: list[Span], place: Mm) -> Solid:
    holes = [backwards(_edge(hole, part.plane, place)) for hole in part.holes]
    face = plane_face(outer, NORMALS[part.plane], holes)
    x, y, z = STEPS[part.plane]
    return prism(face, (x * part.thickness, y * part.thickness, z * part.thickness))


def _rib(ribs: RibForm, curve: Interface, half: Mm, place: Mm) -> list[Span]:
    """Edge of a rib, anticlockwise as seen from the front: back along the skin, then down, along and up."""
    top = spans(curve, half)
    start, end = top[0].point(top[0].start), top[-1].point(top[-1].end)
    below = [(x, 0.0, z) for x, z in ribs.around]
    walk = [end, *below, start]
    edge = [*backwards(top), *straight(walk[::-1])]
    return [span.moved((0.0, place, 0.0)) for span in edge]


def _edge(loop: Loop, plane: Plane, place: Mm) -> list[Span]:
    """Spans along a loop, anticlockwise."""
    corners = loop.corners
    row = []
    for (u0, v0, bulge), (u1, v1, _) in zip(corners, (*corners[1:], corners[0]), strict=True):
        start, end = _in_space(plane, u0, v0, place), _in_space(plane, u1, v1, place)
        row.append(segment(start, end) if bulge == 0.0 else _arc(plane, (u0, v0), (u1, v1), bulge, place))
    return row if loop.area > 0.0 else backwards(row)


def _arc(plane: Plane, start: tuple[float, float], end: tuple[float, float], bulge: float, place: Mm) -> Span:
    (u0, v0), (u1, v1) = start, end
    away = (1.0 - bulge**2) / (4.0 * bulge)
    u, v = 0.5 * (u0 + u1) - away * (v1 - v0), 0.5 * (v0 + v1) + away * (u1 - u0)
    radius = math.hypot(u0 - u, v0 - v)
    x, y, z = NORMALS[plane]
    side = math.copysign(1.0, bulge)
    a, b = _in_space(plane, u, v, place), _in_space(plane, u0, v0, place)
    towards = ((b[0] - a[0]) / radius, (b[1] - a[1]) / radius, (b[2] - a[2]) / radius)
    curve = circle(a, (side * x, side * y, side * z), towards, radius)
    return Span(curve, 0.0, 4.0 * math.atan(abs(bulge)))


def _in_space(plane: Plane, u: float, v: float, place: Mm) -> Point:
    match plane:
        case "along":
            return u, place, v
        case "across":
            return place, u, v
        case "level":
            return u, v, place
