"""Closed paths of drawings as outlines: what they enclose, and what is refused, with its place."""

import io
import math
from pathlib import Path

import ezdxf
import pytest

from underbag.app.read.layup_file import read_file
from underbag.model.errors import LayupError
from underbag.model.layup.layup import Layup
from underbag.model.shape.loop import FINE

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="600mm" height="400mm" viewBox="0 0 600 400">'
TABLE = '[panel]\noutline_file = "top.{ending}"\n'


def from_svg(folder: Path, inner: str, head: str = HEAD, more: str = "") -> Layup:
    (folder / "top.svg").write_text(f"{head}{inner}</svg>", encoding="utf-8")
    (folder / "top.toml").write_text(TABLE.format(ending="svg") + more, encoding="utf-8")
    return read_file(str(folder / "top.toml")).layup


def from_dxf(folder: Path, document: "ezdxf.document.Drawing", more: str = "") -> Layup:
    text = io.StringIO()
    document.write(text)
    (folder / "top.dxf").write_text(text.getvalue(), encoding="utf-8")
    (folder / "top.toml").write_text(TABLE.format(ending="dxf") + more, encoding="utf-8")
    return read_file(str(folder / "top.toml")).layup


@pytest.mark.parametrize(
    ("inner", "size", "area"),
    [
        ('<rect x="20" y="30" width="500" height="300"/>', (500.0, 300.0), 150_000.0),
        (
            '<rect x="20" y="30" width="500" height="300" rx="40"/>',
            (500.0, 300.0),
            150_000.0 - (4.0 - math.pi) * 1600.0,
        ),
        ('<circle cx="200" cy="200" r="150"/>', (300.0, 300.0), math.pi * 150.0**2),
        ('<ellipse cx="300" cy="200" rx="250" ry="150"/>', (500.0, 300.0), math.pi * 250.0 * 150.0),
        ('<polygon points="10,10 410,10 410,310"/>', (400.0, 300.0), 60_000.0),
        ('<path d="M10 10 h400 v300 h-400 z"/>', (400.0, 300.0), 120_000.0),
        # four quarters of a parabola's arc: a quadratic curve encloses two thirds of its triangle
        ('<path d="M0 100 Q0 0 100 0 T 200 100 Z"/>', (200.0, 100.0), None),
        ('<g transform="rotate(90) scale(2)"><rect width="100" height="50"/></g>', (100.0, 200.0), 20_000.0),
    ],
)
def test_closed_shapes_of_an_svg(
    tmp_path: Path, inner: str, size: tuple[float, float], area: float | None
) -> None:
    layup = from_svg(tmp_path, inner)
    assert layup.panel.outline == "drawing"
    assert (layup.panel.length, layup.panel.width) == pytest.approx(size, abs=2.0 * FINE)
    if area is not None:
        assert layup.edge.area == pytest.approx(area, abs=FINE * layup.edge.perimeter)


def test_a_path_of_bezier_curves_encloses_what_green_says(tmp_path: Path) -> None:
    """Textbook: the area of a closed Bézier path is the sum of a polynomial's integral; here by fine chords."""
    layup = from_svg(
        tmp_path, '<path d="M 50 200 C 50 40 300 20 400 90 S 560 330 380 350 S 50 360 50 200 Z"/>'
    )
    poles = [
        [(50, 200), (50, 40), (300, 20), (400, 90)],
        [(400, 90), (500, 160), (560, 330), (380, 350)],
        [(380, 350), (200, 370), (50, 360), (50, 200)],
    ]
    points = []
    for a, b, c, d in poles:
        for number in range(20_000):
            u = number / 20_000
            v = 1.0 - u
            points.append(
                tuple(
                    v**3 * p + 3 * v * v * u * q + 3 * v * u * u * r + u**3 * s
                    for p, q, r, s in zip(a, b, c, d, strict=True)
                )
            )
    ahead = [*points[1:], points[0]]
    area = abs(0.5 * sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(points, ahead, strict=True)))
    assert layup.edge.area == pytest.approx(area, abs=FINE * layup.edge.perimeter)


def test_holes_lie_within_the_outline(tmp_path: Path) -> None:
    inner = (
        '<rect width="500" height="300"/><circle cx="100" cy="100" r="30"/><circle cx="300" cy="200" r="10"/>'
    )
    layup = from_svg(tmp_path, inner)
    assert layup.edge.area == pytest.approx(150_000.0 - math.pi * 1000.0)
    # y of an SVG runs down; the middle of the panel is its origin
    (x0, y0), (x1, y1) = layup.edge.loops[1].box
    assert (0.5 * (x0 + x1), 0.5 * (y0 + y1)) == pytest.approx((-150.0, 50.0))


def lines(space: "ezdxf.layouts.Modelspace") -> None:
    for start, end in (((0, 0), (400, 0)), ((400, 300), (400, 0)), ((400, 300), (0, 300))):
        space.add_line(start, end)
    # a half round at the left, drawn on its own
    space.add_arc((0, 150), 150, 90, 270)


def round_of(space: "ezdxf.layouts.Modelspace") -> None:
    space.add_circle((50, 60), 200)
    space.add_circle((50, 60), 20)


def polyline(space: "ezdxf.layouts.Modelspace") -> None:
    space.add_lwpolyline([(0, 0, 0), (400, 0, 1), (400, 200, 0), (0, 200, 0)], format="xyb", close=True)


def ellipse(space: "ezdxf.layouts.Modelspace") -> None:
    space.add_ellipse((10, 10), (0, 300), 0.5)


@pytest.mark.parametrize(
    ("draw", "area", "size"),
    [
        (lines, 120_000.0 + 0.5 * math.pi * 150.0**2, (550.0, 300.0)),
        (round_of, math.pi * (200.0**2 - 20.0**2), (400.0, 400.0)),
        (polyline, 80_000.0 + 0.5 * math.pi * 100.0**2, (500.0, 200.0)),
        (ellipse, math.pi * 300.0 * 150.0, (300.0, 600.0)),
    ],
)
def test_closed_shapes_of_a_dxf(tmp_path: Path, draw, area: float, size: tuple[float, float]) -> None:
    document = ezdxf.new(units=4)
    draw(document.modelspace())
    layup = from_dxf(tmp_path, document)
    assert layup.edge.area == pytest.approx(area, abs=FINE * layup.edge.perimeter)
    assert (layup.panel.length, layup.panel.width) == pytest.approx(size, abs=2.0 * FINE)


def test_a_closed_spline_of_a_dxf(tmp_path: Path) -> None:
    document = ezdxf.new(units=4)
    document.modelspace().add_spline([(0, 0), (300, -50), (500, 100), (200, 300), (0, 0)])
    layup = from_dxf(tmp_path, document)
    # the referee walks the spline itself
    curve = document.modelspace()[0].construction_tool()
    points = [(p.x, p.y) for p in curve.approximate(20_000)]
    area = abs(
        0.5
        * sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(points, [*points[1:], points[0]], strict=True))
    )
    assert layup.edge.area == pytest.approx(area, abs=FINE * layup.edge.perimeter)


def test_units_are_those_of_the_drawing_or_asked_for(tmp_path: Path) -> None:
    inch = ezdxf.new(units=1)
    inch.modelspace().add_circle((0, 0), 10)
    assert from_dxf(tmp_path, inch).panel.length == pytest.approx(508.0)
    head = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 600 400">'
    with pytest.raises(LayupError) as asked:
        from_svg(tmp_path, '<circle r="10"/>', head)
    assert asked.value.key == "panel.outline_file_unit"
    assert "does not say how long its unit is" in str(asked.value)
    layup = from_svg(tmp_path, '<circle r="10"/>', head, 'outline_file_unit = "cm"\n')
    assert layup.panel.length == pytest.approx(200.0)
    with pytest.raises(LayupError, match="Leave outline_file_unit out"):
        from_svg(tmp_path, '<circle r="100"/>', HEAD, 'outline_file_unit = "cm"\n')


@pytest.mark.parametrize(
    ("inner", "told"),
    [
        ("", "no closed path"),
        ('<path d="M10 10 h400 v300 h-400"/>', "a path is open: it ends at x 10.00 mm, y -10.00 mm"),
        (
            '<path d="M0 0 L400 0 L0 300 L400 300 Z"/>',
            "crosses or touches itself or another at x 200.00 mm, y -150.00 mm",
        ),
        (
            '<rect width="200" height="200"/><rect x="300" width="100" height="100"/>',
            "more than one outline is drawn; the largest is the panel's, another lies beside it at x",
        ),
        (
            '<rect width="200" height="200"/><circle cx="200" cy="100" r="30"/>',
            "crosses or touches itself or another at x 200.00",
        ),
        (
            '<circle cx="200" cy="200" r="200"/><circle cx="200" cy="200" r="90"/><circle cx="200" cy="200" r="20"/>',
            "within a hole",
        ),
        (
            '<path d="M0 0 h400 v300 h-400 z M 400 300 l 50 50 l -100 0 z"/>',
            "more than two lines meet at x 400.00",
        ),
        (
            '<path d="M0 0 h400 v300 h-400 z M 400 100 l 50 50 v -100 z"/>',
            "touches itself or another at x 400.00",
        ),
        (
            '<rect width="400" height="300"/><circle cx="30" cy="97" r="30"/>',
            "a hole touches the edge or another hole at x 0.00 mm, y -97.00 mm",
        ),
        (
            '<rect width="400" height="300"/><circle cx="100" cy="97" r="30"/><circle cx="100" cy="167" r="40"/>',
            "a hole touches the edge or another hole at x 100.",
        ),
        ('<path d="M0 0 h400 l-100 0 v300 h-300 z"/>', "crosses or touches"),
        ('<rect width="4" height="4"/>', "a panel of 4 mm along"),
        ('<path d="M0 0 h200 m0 0 v200 M200 0 h-50 v-100"/>', "more than two lines meet"),
    ],
)
def test_what_is_no_outline_is_refused_with_its_place(tmp_path: Path, inner: str, told: str) -> None:
    with pytest.raises(LayupError) as error:
        from_svg(tmp_path, inner)
    assert error.value.key == "panel.outline_file"
    assert told in str(error.value)


def test_length_and_width_follow_or_agree(tmp_path: Path) -> None:
    rect = '<rect width="500" height="300"/>'
    assert from_svg(tmp_path, rect, HEAD, "length = 500\n").panel.width == 300.0
    with pytest.raises(LayupError, match="500 mm, which is what the drawing measures"):
        from_svg(tmp_path, rect, HEAD, "length = 600\n")
