"""The lines of an SVG drawing in mm, y up: paths, lines and shapes, with the transforms of the groups around them.

How long a unit is follows from the size of the page, where that says millimetres or another length. Pixels are no
length: drawing programs have counted 72, 90 and 96 of them to the inch.

Source: SVG 2, chapters 5, 7 and 8 (structure, geometry, coordinate systems), from memory.
"""

import itertools
import math
import re
from collections.abc import Iterator
from xml.etree import ElementTree

from ...model.errors import ShapeError
from ...model.shape.drawn import Drawn, DrawnArc, DrawnBezier, DrawnLine, Spot
from ...model.units import Mm
from .svg_path import path_segments

Frame = tuple[float, float, float, float, float, float]
"""a, b, c, d, e, f of x' = a·x + c·y + e, y' = b·x + d·y + f."""

PLAIN: Frame = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
UNITS: dict[str, Mm] = {"mm": 1.0, "cm": 10.0, "in": 25.4, "q": 0.25, "pt": 25.4 / 72.0, "pc": 25.4 / 6.0}
"""Lengths that the size of a page may be given in."""
NOT_DRAWN = ("defs", "clipPath", "mask", "marker", "pattern", "symbol", "title", "desc", "metadata")
"""Elements whose contents are not drawn where they stand."""
DEEPEST = 50
"""Groups within each other; more is no drawing."""

_LENGTH = re.compile(r"\s*([0-9]*\.?[0-9]+(?:[eE][-+]?[0-9]+)?)\s*([a-zA-Z%]*)\s*")
_TRANSFORM = re.compile(r"\s*,?\s*([a-zA-Z]+)\s*\(([^()]*)\)")
_NUMBER = re.compile(r"[-+]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][-+]?[0-9]+)?")


def svg_segments(data: bytes, unit: Mm | None) -> tuple[list[Drawn], bool]:
    """Segments of a drawing, in mm and y up, and whether the drawing itself says how long its unit is.

    Parameters
    ----------
    unit
        Length of its unit where the drawing does not say it; None where nobody does, and then it is taken as 1 mm.

    Raises
    ------
    ShapeError
        It is no SVG drawing; what is amiss stands in the text.
    """
    if b"<!ENTITY" in data:
        raise ShapeError("it declares entities, which no curve needs; save it as plain SVG")
    try:
        root = ElementTree.fromstring(data)
    except (ElementTree.ParseError, ValueError) as error:
        raise ShapeError(f"it is no XML ({error})") from None
    if _name(root) != "svg":
        raise ShapeError(f"it begins with <{_name(root)}>, not with <svg>")
    own = _unit(root)
    size = own or unit or 1.0
    frame = (size, 0.0, 0.0, -size, 0.0, 0.0)
    found = [_carried(segment, frame) for segment in _segments(root, PLAIN, 0)]
    return found, own is not None


def _name(element: ElementTree.Element) -> str:
    return str(element.tag).rpartition("}")[2]


def _unit(root: ElementTree.Element) -> Mm | None:
    """Length of a unit by the page's size and its view box; None where the size is no length."""
    box = [float(number) for number in _NUMBER.findall(root.get("viewBox", ""))]
    ratios = []
    for name, place in (("width", 2), ("height", 3)):
        length = _LENGTH.fullmatch(root.get(name, ""))
        if length is None or length[2].lower() not in UNITS:
            continue
        # without a view box a unit is a pixel, whatever the page measures
        if len(box) == 4 and box[place] > 0.0 and float(length[1]) > 0.0:
            ratios.append(float(length[1]) * UNITS[length[2].lower()] / box[place])
    if len(ratios) == 2 and root.get("preserveAspectRatio", "").strip() == "none" and _differ(*ratios):
        raise ShapeError(
            "its page stretches the drawing more one way than the other (preserveAspectRatio is none); save it with a "
            "view box of the page's own proportion"
        )
    # the drawing is as large as both sides allow
    return min(ratios, default=None)


def _differ(one: float, other: float) -> bool:
    """Whether two scales differ by more than a page's size is rounded to."""
    return abs(one - other) > 1e-3 * min(one, other)


def _segments(element: ElementTree.Element, frame: Frame, depth: int) -> Iterator[Drawn]:
    """Segments of an element and of those within it."""
    if depth > DEEPEST:
        raise ShapeError(f"its groups stand more than {DEEPEST} deep within each other")
    name = _name(element)
    if name in NOT_DRAWN or element.get("display") == "none":
        return
    if name == "svg" and depth > 0:
        raise ShapeError("it holds a drawing within the drawing; take that apart first")
    frame = _after(frame, _transform(element.get("transform", "")))
    for segment in _own(element, name):
        yield _carried(segment, frame)
    for inner in element:
        yield from _segments(inner, frame, depth + 1)


def _own(element: ElementTree.Element, name: str) -> Iterator[Drawn]:
    """Segments that an element draws itself, in its own coordinates."""
    if name == "path":
        yield from path_segments(element.get("d", ""))
    elif name == "line":
        x1, y1, x2, y2 = (_plain(element.get(word, "0")) for word in ("x1", "y1", "x2", "y2"))
        yield DrawnLine((x1, y1), (x2, y2))
    elif name == "polyline":
        yield from (DrawnLine(a, b) for a, b in itertools.pairwise(_spots(element)))
    elif name == "polygon":
        spots = _spots(element)
        yield from (DrawnLine(a, b) for a, b in itertools.pairwise([*spots, *spots[:1]]))
    elif name in ("circle", "ellipse"):
        rx, ry = (
            _plain(element.get(word, "0")) for word in (("r", "r") if name == "circle" else ("rx", "ry"))
        )
        if rx > 0.0 and ry > 0.0:
            x, y = (_plain(element.get(word, "0")) for word in ("cx", "cy"))
            yield DrawnArc(centre=(x, y), one=(rx, 0.0), other=(0.0, ry), first=0.0, sweep=2.0 * math.pi)
    elif name == "rect":
        yield from _rectangle(element)
    elif name == "use":
        raise ShapeError("it holds a <use>, a copy of something else; turn it into a path, or take it out")


def _spots(element: ElementTree.Element) -> list[Spot]:
    numbers = [float(number) for number in _NUMBER.findall(element.get("points", ""))]
    return list(zip(numbers[::2], numbers[1::2], strict=False))


def _rectangle(element: ElementTree.Element) -> list[Drawn]:
    """Sides and rounded corners of an upright rectangle; a radius that is left out is as large as the other."""
    x, y, width, height = (_plain(element.get(word, "0")) for word in ("x", "y", "width", "height"))
    if width <= 0.0 or height <= 0.0:
        return []
    rx, ry = element.get("rx", element.get("ry", "0")), element.get("ry", element.get("rx", "0"))
    p, q = min(_plain(rx), 0.5 * width), min(_plain(ry), 0.5 * height)
    a, b = width - 2.0 * p, height - 2.0 * q
    data = f"M {x + p} {y} h {a} a {p} {q} 0 0 1 {p} {q} v {b} a {p} {q} 0 0 1 {-p} {q} h {-a} a {p} {q} 0 0 1 {-p} {-q} v {-b} a {p} {q} 0 0 1 {p} {-q} z"
    return path_segments(data)


def _plain(text: str) -> float:
    if _NUMBER.fullmatch(text.strip()) is None:
        raise ShapeError(f"it gives a place as {text[:20]!r}; save it with plain numbers")
    return float(text)


def _transform(text: str) -> Frame:
    """Frame of a list of transforms, the last one done first."""
    frame, at = PLAIN, 0
    while text[at:].strip():
        found = _TRANSFORM.match(text, at)
        if found is None:
            raise ShapeError(f"it has a transform {text[at : at + 20]!r}, which is none")
        numbers = [float(number) for number in _NUMBER.findall(found[2])]
        frame = _after(frame, _step(found[1], numbers))
        at = found.end()
    return frame


def _step(name: str, numbers: list[float]) -> Frame:
    match name, numbers:
        case "matrix", [a, b, c, d, e, f]:
            return a, b, c, d, e, f
        case "translate", [x, *rest]:
            return 1.0, 0.0, 0.0, 1.0, x, rest[0] if rest else 0.0
        case "scale", [x, *rest]:
            return x, 0.0, 0.0, rest[0] if rest else x, 0.0, 0.0
        case "rotate", [angle, *rest] if len(rest) in (0, 2):
            c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
            x, y = rest or (0.0, 0.0)
            return c, s, -s, c, x - c * x + s * y, y - s * x - c * y
        case "skewX", [angle]:
            return 1.0, 0.0, math.tan(math.radians(angle)), 1.0, 0.0, 0.0
        case "skewY", [angle]:
            return 1.0, math.tan(math.radians(angle)), 0.0, 1.0, 0.0, 0.0
    raise ShapeError(f"it has a transform {name} of {len(numbers)} numbers, which is none")


def _after(outer: Frame, inner: Frame) -> Frame:
    """Frame that does the inner one first."""
    (a, b, c, d, e, f), (p, q, r, s, t, u) = outer, inner
    return a * p + c * q, b * p + d * q, a * r + c * s, b * r + d * s, a * t + c * u + e, b * t + d * u + f


def _carried(segment: Drawn, frame: Frame) -> Drawn:
    """Segment in another frame."""
    a, b, c, d, e, f = frame

    def spot(point: Spot) -> Spot:
        return a * point[0] + c * point[1] + e, b * point[0] + d * point[1] + f

    def way(step: Spot) -> Spot:
        return a * step[0] + c * step[1], b * step[0] + d * step[1]

    match segment:
        case DrawnLine():
            return DrawnLine(spot(segment.start), spot(segment.end))
        case DrawnBezier():
            p, q, r, s = segment.poles
            return DrawnBezier((spot(p), spot(q), spot(r), spot(s)))
        case DrawnArc():
            return DrawnArc(
                centre=spot(segment.centre),
                one=way(segment.one),
                other=way(segment.other),
                first=segment.first,
                sweep=segment.sweep,
            )
