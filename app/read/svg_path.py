"""The data of an SVG path, taken apart into lines, arcs and Bézier curves in its own coordinates.

Source: SVG 2, chapter 9.3 (path data) and appendix B.2.4 (from the ends of an arc to its centre), from memory.
"""

import math
import re
from collections.abc import Iterator

from ...model.errors import ShapeError
from ...model.shape.drawn import Drawn, DrawnArc, DrawnBezier, DrawnLine, Spot

_TOKEN = re.compile(
    r"\s*,?\s*(?:([MmZzLlHhVvCcSsQqTtAa])|([-+]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][-+]?[0-9]+)?))"
)
_FLAG = re.compile(r"\s*,?\s*([01])")
COUNTS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
"""Numbers that each command takes."""


def path_segments(data: str) -> list[Drawn]:
    """Segments of a path; y runs as in the data.

    Raises
    ------
    ShapeError
        It is no path data; what is amiss stands in the text.
    """
    pen, first = (0.0, 0.0), (0.0, 0.0)
    handle: tuple[str, Spot] = ("", pen)
    found: list[Drawn] = []
    for command, numbers in _commands(data):
        kind, is_relative = command.upper(), command.islower()
        base = pen if is_relative else (0.0, 0.0)
        spots = [(base[0] + x, base[1] + y) for x, y in zip(numbers[::2], numbers[1::2], strict=False)]
        former, handle = handle, (kind, pen)
        match kind:
            case "M":
                pen = first = spots[0]
            case "Z":
                found.append(DrawnLine(pen, first))
                pen = first
            case "L":
                found.append(DrawnLine(pen, spots[0]))
                pen = spots[0]
            case "H" | "V":
                across = kind == "H"
                end = (base[0] + numbers[0], pen[1]) if across else (pen[0], base[1] + numbers[0])
                found.append(DrawnLine(pen, end))
                pen = end
            case "C" | "S":
                if kind == "S":
                    spots.insert(0, _mirrored(pen, former[1]) if former[0] in "CS" else pen)
                found.append(DrawnBezier((pen, spots[0], spots[1], spots[2])))
                handle, pen = (kind, spots[1]), spots[2]
            case "Q" | "T":
                if kind == "T":
                    spots.insert(0, _mirrored(pen, former[1]) if former[0] in "QT" else pen)
                found.append(quadratic(pen, spots[0], spots[1]))
                handle, pen = (kind, spots[0]), spots[1]
            case "A":
                end = base[0] + numbers[5], base[1] + numbers[6]
                found.append(_arc(pen, numbers, end))
                pen = end
    return found


def quadratic(a: Spot, b: Spot, c: Spot) -> DrawnBezier:
    """Quadratic Bézier curve as the cubic one that it is, too."""
    one = a[0] + 2.0 / 3.0 * (b[0] - a[0]), a[1] + 2.0 / 3.0 * (b[1] - a[1])
    other = c[0] + 2.0 / 3.0 * (b[0] - c[0]), c[1] + 2.0 / 3.0 * (b[1] - c[1])
    return DrawnBezier((a, one, other, c))


def _mirrored(pen: Spot, handle: Spot) -> Spot:
    return 2.0 * pen[0] - handle[0], 2.0 * pen[1] - handle[1]


def _commands(data: str) -> Iterator[tuple[str, list[float]]]:
    """Each command with its numbers; a command that is left out is the one before, a line after a move."""
    at, command = 0, ""
    data = data.rstrip()
    while at < len(data):
        token = _TOKEN.match(data, at)
        if token is None:
            raise ShapeError(f"its path has {data[at : at + 12]!r} where a command or a number belongs")
        if token[1]:
            command, at = token[1], token.end()
        elif not command or command in "Zz":
            raise ShapeError("its path begins with a number, not with a command")
        count = COUNTS[command.upper()]
        numbers: list[float] = []
        while len(numbers) < count:
            # the flags of an arc may stand without blanks between them
            is_flag = command in "Aa" and len(numbers) in (3, 4)
            number = (_FLAG if is_flag else _TOKEN).match(data, at)
            text = None if number is None else number[1] if is_flag else number[2]
            if number is None or text is None:
                raise ShapeError(f"the command {command} of its path has {len(numbers)} numbers, not {count}")
            numbers.append(float(text))
            at = number.end()
        if not all(map(math.isfinite, numbers)):
            raise ShapeError("its path has a number that is too large")
        yield command, numbers
        command = {"M": "L", "m": "l"}.get(command, command)


def _arc(start: Spot, numbers: list[float], end: Spot) -> Drawn:
    """Arc from its ends: radii, turn of its axes in degrees, whether the larger one, and which way round."""
    rx, ry, turn = abs(numbers[0]), abs(numbers[1]), math.radians(numbers[2])
    is_large, is_sweeping = numbers[3] == 1.0, numbers[4] == 1.0
    if rx == 0.0 or ry == 0.0 or start == end:
        return DrawnLine(start, end)
    c, s = math.cos(turn), math.sin(turn)
    dx, dy = 0.5 * (start[0] - end[0]), 0.5 * (start[1] - end[1])
    x, y = (c * dx + s * dy) / rx, (c * dy - s * dx) / ry
    reach = math.hypot(x, y)
    if reach > 1.0:
        # radii that are too small to reach are taken as large as they must be
        rx, ry, x, y, reach = rx * reach, ry * reach, x / reach, y / reach, 1.0
    side = -1.0 if is_large == is_sweeping else 1.0
    aside = side * math.sqrt(max(0.0, 1.0 / reach**2 - 1.0))
    u, v = aside * y, -aside * x
    centre = (
        c * rx * u - s * ry * v + 0.5 * (start[0] + end[0]),
        s * rx * u + c * ry * v + 0.5 * (start[1] + end[1]),
    )
    first, last = math.atan2(y - v, x - u), math.atan2(-y - v, -x - u)
    sweep = (last - first) % (2.0 * math.pi)
    if not is_sweeping and sweep > 0.0:
        sweep -= 2.0 * math.pi
    return DrawnArc(centre=centre, one=(c * rx, s * rx), other=(-s * ry, c * ry), first=first, sweep=sweep)
