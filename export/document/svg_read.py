"""Reading the drawn views: the few pieces of SVG that they are made of, as shapes to paint one after the other.

Only what ``export/page`` writes is understood: groups, paths of straight and parabolic pieces, text, gradients along
a line, and a window that cuts off. Anything else is an error, so that nothing is left out of a picture unseen.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from xml.etree import ElementTree

from ...model.errors import ExportError

Point = tuple[float, float]
Curve = tuple[Point, ...]
"""Where a piece ends: one point for a straight piece, both controls and the end for a cubic one."""

TOKEN = re.compile(r"[A-Za-z]|-?\d+(?:\.\d+)?")
INHERITED = ("fill", "stroke", "stroke-width", "font-size", "clip-path")
COORDINATES = {"M": 2, "L": 2, "l": 2, "q": 4, "H": 1, "V": 1}


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a path: where it starts, its pieces, and whether it closes."""

    start: Point
    pieces: tuple[Curve, ...]
    is_closed: bool


@dataclass(frozen=True, slots=True)
class Gradient:
    """Colours along a line, in shares of the box of what it fills: ends of the line, offsets, colours."""

    start: Point
    end: Point
    offsets: tuple[float, ...]
    colours: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """Lines that are filled and stroked; an empty colour is none."""

    lines: tuple[Line, ...]
    fill: str | Gradient
    stroke: str
    width: float
    fill_opacity: float
    stroke_opacity: float
    window: tuple[Line, ...] = ()


@dataclass(frozen=True, slots=True)
class Label:
    """A line of text, its base line beginning at a place."""

    text: str
    place: Point
    size: float


@dataclass(frozen=True, slots=True)
class Drawing:
    """A whole view: its width and height, and what is painted, from the back to the front."""

    width: float
    height: float
    marks: tuple[Shape | Label, ...]


def read_svg(svg: str) -> Drawing:
    """Read a view.

    Raises
    ------
    ExportError
        It holds something that views are not made of.
    """
    root = ElementTree.fromstring(svg)
    gradients = {item.get("id", ""): _gradient(item) for item in root.iter("linearGradient")}
    windows = {item.get("id", ""): lines_of(item[0].get("d", "")) for item in root.iter("clipPath")}
    _, _, width, height = (float(number) for number in root.get("viewBox", "").split())
    return Drawing(width, height, tuple(_marks(root, {}, gradients, windows)))


def _gradient(item: ElementTree.Element) -> Gradient:
    x1, y1, x2, y2 = (float(item.get(name, "0")) for name in ("x1", "y1", "x2", "y2"))
    stops = list(item)
    return Gradient(
        (x1, y1),
        (x2, y2),
        tuple(float(stop.get("offset", "0")) for stop in stops),
        tuple(stop.get("stop-color", "") for stop in stops),
    )


def _marks(
    item: ElementTree.Element,
    above: Mapping[str, str],
    gradients: Mapping[str, Gradient],
    windows: Mapping[str, tuple[Line, ...]],
) -> Iterator[Shape | Label]:
    said = {**above, **{name: item.attrib[name] for name in INHERITED if name in item.attrib}}
    match item.tag:
        case "svg" | "g":
            for inner in item:
                yield from _marks(inner, said, gradients, windows)
        case "path":
            yield _shape(item, said, gradients, windows)
        case "text":
            place = (float(item.attrib["x"]), float(item.attrib["y"]))
            yield Label("".join(item.itertext()), place, float(said["font-size"]))
        case "defs" | "clipPath" | "title":
            pass
        case _:
            raise ExportError(f"a drawn view holds <{item.tag}>, which is not known here")


def _shape(
    item: ElementTree.Element,
    said: Mapping[str, str],
    gradients: Mapping[str, Gradient],
    windows: Mapping[str, tuple[Line, ...]],
) -> Shape:
    fill = said.get("fill", "black")
    return Shape(
        lines=lines_of(item.attrib["d"]),
        fill=gradients[_name(fill)] if fill.startswith("url(") else _colour(fill),
        stroke=_colour(said.get("stroke", "none")),
        width=float(said.get("stroke-width", "1")),
        fill_opacity=float(item.get("fill-opacity", "1")),
        stroke_opacity=float(item.get("stroke-opacity", "1")),
        window=windows[_name(said["clip-path"])] if "clip-path" in said else (),
    )


def _name(reference: str) -> str:
    return reference.removeprefix("url(#").removesuffix(")")


def _colour(text: str) -> str:
    return {"none": "", "currentColor": "#000000", "black": "#000000"}.get(text, text)


def lines_of(data: str) -> tuple[Line, ...]:
    """Lines of path data, parabolas as cubic pieces.

    Raises
    ------
    ExportError
        It has a command that views do not use.
    """
    tokens = TOKEN.findall(data)
    lines: list[Line] = []
    start: Point = (0.0, 0.0)
    pieces: list[Curve] = []
    at, command, place, is_open = start, "", 0, False

    def end(is_closed: bool) -> None:
        if is_open:
            lines.append(Line(start, tuple(pieces), is_closed))

    while place < len(tokens):
        if tokens[place].isalpha():
            command = tokens[place]
            place += 1
        if command in "zZ":
            end(True)
            at, pieces, is_open, command = start, [], False, ""
            continue
        count = COORDINATES.get(command)
        if count is None:
            raise ExportError(
                f"a drawn view has a path with {command or tokens[place]!r}, which is not known here"
            )
        numbers = [float(token) for token in tokens[place : place + count]]
        place += count
        if command == "M":
            end(False)
            start = at = (numbers[0], numbers[1])
            pieces, is_open = [], True
            continue
        piece = _piece(command, numbers, at)
        pieces.append(piece)
        at = piece[-1]
    end(False)
    return tuple(lines)


def _piece(command: str, numbers: list[float], at: Point) -> Curve:
    x, y = at
    match command:
        case "L":
            return ((numbers[0], numbers[1]),)
        case "H":
            return ((numbers[0], y),)
        case "V":
            return ((x, numbers[0]),)
        case "l":
            return ((x + numbers[0], y + numbers[1]),)
    control, last = (x + numbers[0], y + numbers[1]), (x + numbers[2], y + numbers[3])
    # the controls of a cubic piece lie two thirds of the way to that of the parabola
    first, second = (
        (other[0] + 2.0 / 3.0 * (control[0] - other[0]), other[1] + 2.0 / 3.0 * (control[1] - other[1]))
        for other in (at, last)
    )
    return (first, second, last)


def box_of(lines: tuple[Line, ...]) -> tuple[float, float, float, float]:
    """Smallest and largest x and y of lines: x0, y0, x1, y1."""
    spots = [spot for line in lines for spot in _spots(line)]
    xs, ys = [x for x, _ in spots], [y for _, y in spots]
    return min(xs), min(ys), max(xs), max(ys)


def _spots(line: Line) -> Iterator[Point]:
    yield line.start
    ends = [line.start, *(piece[-1] for piece in line.pieces)]
    for (begin, end), piece in zip(pairwise(ends), line.pieces, strict=True):
        yield end
        if len(piece) == 3:
            for u in (0.25, 0.5, 0.75):
                v = 1.0 - u
                weights = (v**3, 3 * v * v * u, 3 * v * u * u, u**3)
                points = (begin, *piece)
                yield (
                    sum(w * p[0] for w, p in zip(weights, points, strict=True)),
                    sum(w * p[1] for w, p in zip(weights, points, strict=True)),
                )
