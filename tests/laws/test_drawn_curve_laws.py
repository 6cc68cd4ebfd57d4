"""The curve of a bend out of an SVG or DXF drawing: true lengths, units, order, and what is refused with its place.

Lengths are held against plane geometry and against scipy's elliptic integrals; DXF is written by ezdxf.
"""

import contextlib
import io
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import ezdxf
import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.special import ellipe

from underbag.app.command import main
from underbag.app.page.desk import Desk
from underbag.app.read.drawn_file import LARGEST, MOST_SEGMENTS
from underbag.app.read.layup_file import read_file
from underbag.app.read.svg import svg_segments
from underbag.app.read.svg_path import path_segments
from underbag.model.errors import LayupError, ShapeError
from underbag.model.layup.layup import Layup
from underbag.model.shape.drawn import DrawnArc, DrawnBezier, DrawnLine, profile_of
from underbag.model.shape.profile import Profile, Run

Reader = Callable[..., Layup]


@pytest.fixture
def read(tmp_path: Path) -> Reader:
    """Write a drawing and a layup file that names it, and read the layup."""

    def reading(content: str | bytes, name: str = "front.svg", more: str = "") -> Layup:
        path = tmp_path / "front.toml"
        (tmp_path / name).write_bytes(content.encode() if isinstance(content, str) else content)
        path.write_text(f'[panel]\nwidth = 140\n[bend]\nfile = "{name}"\n{more}\n', encoding="utf-8")
        return read_file(str(path))

    def layup(content: str | bytes, name: str = "front.svg", more: str = "") -> Layup:
        return reading(content, name, more).layup

    return layup


def svg(inner: str, size: str = 'width="600mm" height="300mm" viewBox="0 0 600 300"') -> str:
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size}>{inner}</svg>'


def path(data: str, more: str = "") -> str:
    return svg(f'<path d="{data}" {more}/>')


def dxf(draw: Callable[[Any], None], units: int = 4) -> bytes:
    document = ezdxf.new()
    document.header["$INSUNITS"] = units
    draw(document.modelspace())
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode()


def refused(read: Reader, content: str | bytes, name: str = "front.svg", more: str = "") -> LayupError:
    with pytest.raises(LayupError) as caught:
        read(content, name, more)
    return caught.value


# True lengths


ROUND = "M 0 200 h 100 a 80 80 0 0 1 80 80"
"""A straight run of 100 and a quarter round of 80 downward: drawn with y down, a crown."""


def test_lines_and_round_arcs_are_exact(read: Reader) -> None:
    curve = read(path(ROUND)).curve
    assert curve is not None
    assert all(isinstance(piece, Run) for piece in curve.pieces)
    assert [piece.length for piece in curve.pieces] == pytest.approx([100.0, 80.0 * math.pi / 2.0], rel=1e-12)
    assert curve.turn == pytest.approx(math.pi / 2.0, rel=1e-12)


def test_a_half_ellipse_against_the_elliptic_integral(read: Reader) -> None:
    """Half axes 200 and 90, over the top: a crown."""
    curve = read(path("M 100 200 A 200 90 0 0 1 500 200")).curve
    assert curve is not None
    assert curve.length == pytest.approx(400.0 * ellipe(1.0 - 0.45**2), rel=1e-9)
    assert curve.turn == pytest.approx(math.pi, rel=1e-9)


@pytest.mark.parametrize(
    "data", ["M 0 100 Q 300 -80 600 100", "M 0 100 q 300 -180 600 0", "M0,100C200-20,400-20,600,100"]
)
def test_a_quadratic_curve_is_a_parabola(read: Reader, data: str) -> None:
    """Chord 600, rise 90: its length is the closed form of the parabola."""
    c, r = 600.0, 90.0
    length = 0.5 * math.sqrt(c * c + 16.0 * r * r) + c * c / (8.0 * r) * math.asinh(4.0 * r / c)
    curve = read(path(data)).curve
    assert curve is not None
    assert curve.length == pytest.approx(length, rel=1e-9)
    assert curve.turn == pytest.approx(2.0 * math.atan(4.0 * r / c), rel=1e-9)


def test_smooth_commands_go_on_with_the_mirrored_handle() -> None:
    long = path_segments("M0 0 C 10 20 30 20 40 0 C 50 -20 70 -20 80 0 Q 90 20 100 0 Q 110 -20 120 0")
    short = path_segments("m0,0c10 20 30 20 40 0s30-20 40 0q10 20 20 0t20 0")
    assert len(long) == len(short) == 4
    for one, other in zip(long, short, strict=True):
        assert isinstance(one, DrawnBezier)
        assert isinstance(other, DrawnBezier)
        assert np.array(one.poles) == pytest.approx(np.array(other.poles))


def test_flags_of_an_arc_may_stand_without_blanks() -> None:
    (one,), (other,) = path_segments("M0 0a80 60 0 01100 50"), path_segments("M 0 0 A 80 60 0 0 1 100 50")
    assert one == other


def test_radii_that_do_not_reach_are_scaled_up() -> None:
    """SVG 2, appendix B.2.5 (from memory): ends 200 apart on a circle of 50 make a half round of 100."""
    (arc,) = path_segments("M 0 0 A 50 50 0 0 1 200 0")
    assert arc.piece().length == pytest.approx(100.0 * math.pi)


def test_transforms_of_groups_are_followed(read: Reader) -> None:
    """Twice as large, turned upside down twice, moved: a half round of 120."""
    inner = '<path d="M 0 0 A 60 60 0 0 1 120 0"/>'
    group = (
        f'<g transform="translate(40,250) scale(2 -2)"><g transform="matrix(1 0 0 -1 3 4)">{inner}</g></g>'
    )
    curve = read(svg(group)).curve
    assert curve is not None
    assert curve.length == pytest.approx(120.0 * math.pi, rel=1e-9)
    assert curve.turn == pytest.approx(math.pi, rel=1e-9)


def test_a_circle_scaled_on_one_side_is_an_ellipse(read: Reader) -> None:
    inner = '<g transform="rotate(0) scale(1 .45)"><path d="M 100 400 A 200 200 0 0 1 500 400"/></g>'
    curve = read(svg(inner)).curve
    assert curve is not None
    assert curve.length == pytest.approx(400.0 * ellipe(1.0 - 0.45**2), rel=1e-9)


arcs = st.floats(-300.0, 300.0)


@given(arcs, arcs, arcs, arcs, st.floats(-3.0, 3.0), st.floats(-6.0, 6.0))
@settings(max_examples=25)
def test_an_arc_of_any_axes_is_its_piece(
    a: float, b: float, c: float, d: float, first: float, sweep: float
) -> None:
    """Held against 20 000 chords of its own points, which are short by less than 1e-7 relative."""
    assume(abs(a * d - b * c) > 2000.0 and abs(sweep) > 0.2)
    arc = DrawnArc(centre=(5.0, -7.0), one=(a, b), other=(c, d), first=first, sweep=sweep)
    u = np.linspace(first, first + sweep, 20_001)
    points = np.outer(np.cos(u), (a, b)) + np.outer(np.sin(u), (c, d))
    piece = arc.piece()
    assert piece.length == pytest.approx(float(np.hypot(*np.diff(points, axis=0).T).sum()), rel=1e-6)
    assert math.remainder(arc.headings[0] - piece.turn - arc.headings[1], 2.0 * math.pi) == pytest.approx(
        0.0, abs=1e-6
    )
    walked = piece.walk(np.array([piece.length]))[0]
    assert math.hypot(*walked) == pytest.approx(math.dist(arc.start, arc.end), rel=1e-6, abs=1e-5)
    assert arc.backwards().piece().turn == pytest.approx(-piece.turn, rel=1e-9)


def test_dxf_lines_arcs_and_bulges_are_exact(read: Reader) -> None:
    """A straight run of 100, a quarter round of 80, and a polyline with a half round of 50 the other way, in one curve."""

    def draw(space: Any) -> None:
        space.add_lwpolyline([(180, -80, 0.0), (180, -120, 1.0), (280, -120, 0.0)], format="xyb")
        space.add_arc((100, -80), 80, 0, 90)
        space.add_line((100, 0), (0, 0))

    curve = read(dxf(draw), "front.dxf").curve
    assert curve is not None
    lengths = [100.0, 40.0 * math.pi, 40.0, 50.0 * math.pi]
    assert [piece.length for piece in curve.pieces] == pytest.approx(lengths, rel=1e-9)
    assert [piece.turn for piece in curve.pieces] == pytest.approx(
        [0.0, math.pi / 2.0, 0.0, -math.pi], abs=1e-9
    )


def test_dxf_ellipse_against_the_elliptic_integral(read: Reader) -> None:
    content = dxf(lambda space: space.add_ellipse((0, 0), (200, 0), 0.45, 0.0, math.pi))
    curve = read(content, "front.dxf").curve
    assert curve is not None
    assert curve.length == pytest.approx(400.0 * ellipe(1.0 - 0.45**2), rel=1e-9)
    assert curve.turn == pytest.approx(math.pi, rel=1e-9)


def test_dxf_splines_are_followed(read: Reader) -> None:
    """A cubic spline as it is; a rational one, here a quarter round of 100, to 1e-4."""
    cubic = dxf(lambda space: space.add_open_spline([(0, 0), (200, 120), (400, 120), (600, 0)]))
    curve = read(cubic, "front.dxf").curve
    bezier = profile_of([DrawnBezier(((0.0, 0.0), (200.0, 120.0), (400.0, 120.0), (600.0, 0.0)))])
    assert curve is not None
    assert curve.length == pytest.approx(bezier.length, rel=1e-9)

    def rational(space: Any) -> None:
        space.add_rational_spline(
            [(0, 100), (100, 100), (100, 0)],
            weights=[1, math.sqrt(0.5), 1],
            degree=2,
            knots=[0, 0, 0, 1, 1, 1],
        )

    curve = read(dxf(rational), "front.dxf").curve
    assert curve is not None
    assert curve.length == pytest.approx(50.0 * math.pi, rel=1e-4)
    assert curve.turn == pytest.approx(0.5 * math.pi, rel=1e-3)


# Order, direction, units


def test_segments_in_any_order_and_direction_are_one_curve() -> None:
    pieces = [
        DrawnLine((0.0, 0.0), (50.0, 0.0)),
        DrawnBezier(((50.0, 0.0), (80.0, 0.0), (110.0, 20.0), (140.0, 20.0))),
    ]
    pieces.append(DrawnLine((140.0, 20.0), (200.0, 20.0)))
    straight = profile_of(pieces)
    for row in (
        pieces[::-1],
        [pieces[1], pieces[2].backwards(), pieces[0]],
        [one.backwards() for one in pieces],
    ):
        other = profile_of(row)
        assert [piece.length for piece in other.pieces] == pytest.approx(
            [piece.length for piece in straight.pieces]
        )
        assert other.turned(np.zeros(1)) == pytest.approx(straight.turned(np.zeros(1)))


def test_moved_and_turned_drawings_have_the_same_lengths(read: Reader) -> None:
    plain = read(path("M 0 100 Q 300 -80 600 100")).curve
    turned = read(path("M 0 100 Q 300 -80 600 100", 'transform="translate(30 40) rotate(25 10 10)"')).curve
    assert plain is not None
    assert turned is not None
    assert turned.length == pytest.approx(plain.length, rel=1e-12)
    assert turned.turn == pytest.approx(plain.turn, rel=1e-12)


@pytest.mark.parametrize(
    ("size", "more", "length"),
    [
        ('width="600mm" viewBox="0 0 600 300"', "", 1.0),
        ('width="60cm" height="30cm" viewBox="0 0 600 300"', "", 1.0),
        ('width="600in" viewBox="0 0 600 300"', "", 25.4),
        ('width="300mm" viewBox="0 0 600 300"', "", 0.5),
        ('width="600" height="300"', 'file_unit = "mm"', 1.0),
        ('viewBox="0 0 600 300"', 'file_unit = "in"', 25.4),
        ('width="600px" height="300px" viewBox="0 0 600 300"', 'file_unit = "px 96"', 25.4 / 96.0),
        ("", 'file_unit = "px 72"', 25.4 / 72.0),
    ],
)
def test_the_unit_is_that_of_the_page_or_of_the_layup(
    read: Reader, size: str, more: str, length: float
) -> None:
    inner = '<path d="M 100 200 A 200 200 0 0 1 500 200"/>'
    curve = read(svg(inner, size), more=more).curve
    assert curve is not None
    assert curve.length == pytest.approx(200.0 * math.pi * length, rel=1e-9)


@pytest.mark.parametrize("height", [300, 600])
def test_a_page_that_stretches_its_drawing_is_refused(read: Reader, height: int) -> None:
    """SVG 2, chapter 8, from memory: without a kept aspect ratio both ways have a scale of their own."""
    size = f'width="600mm" height="{height}mm" viewBox="0 0 600 300" preserveAspectRatio="none"'
    content = svg('<path d="M 100 200 A 200 200 0 0 1 500 200"/>', size)
    if height == 300:
        assert read(content).curve is not None
    else:
        assert "stretches" in str(refused(read, content, "front.svg"))


@pytest.mark.parametrize(("number", "length"), [(1, 25.4), (4, 1.0), (5, 10.0), (6, 1000.0)])
def test_the_unit_of_a_dxf_stands_in_its_header(read: Reader, number: int, length: float) -> None:
    curve = read(dxf(lambda space: space.add_arc((0, 0), 8, 30, 150), number), "front.dxf").curve
    assert curve is not None
    assert curve.length == pytest.approx(8.0 * length * math.radians(120.0), rel=1e-9)


def test_a_unit_that_nobody_says_is_asked_for(read: Reader) -> None:
    for content, name in (
        (svg('<path d="M 0 0 A 90 90 0 0 1 180 0"/>', 'width="600" height="300"'), "front.svg"),
        (dxf(lambda space: space.add_arc((0, 0), 200, 30, 150), 0), "front.dxf"),
    ):
        error = refused(read, content, name)
        assert error.key == "bend.file_unit"
        assert "does not say how long its unit is" in str(error)
        assert "mm, cm, in" in error.allowed


def test_a_unit_that_is_said_twice_is_refused(read: Reader) -> None:
    error = refused(read, path(ROUND), more='file_unit = "in"')
    assert error.key == "bend.file_unit"
    assert "the drawing says its own" in str(error)


# What is refused


@pytest.mark.parametrize(
    ("inner", "told"),
    [
        ("", "no curve is drawn"),
        ('<path d="M0 0L100 0L150 50"/>', "a corner of 45.0° at x 100.00 mm, y 0.00 mm"),
        ('<path d="M0 0 L100 0 M0 50 L100 50"/>', "2 curves are drawn"),
        ('<path d="M0 0 h100 v100 h-100 z"/>', "closed"),
        ('<path d="M0 0 h100 M 50 50 h10 v10 h-10 z"/>', "closed curve is drawn beside"),
        (
            '<path d="M0 0 h100"/><path d="M100 0 h50"/><path d="M100 0 v50"/>',
            "more than two lines meet at x 100.00 mm",
        ),
        ('<path d="M0 0 C 0 0 100 -50 200 0"/>', "no handle at x 0.00 mm"),
        ('<circle cx="5" cy="5" r="5"/>', "the curve is closed"),
        ('<use href="#one"/>', "a <use>, a copy of something else"),
        ('<path d="M0 0 X 5"/>', "where a command or a number belongs"),
        ('<path d="5 5 L 3 3"/>', "begins with a number"),
        ('<path d="M0 0 C 5 5 6"/>', "has 3 numbers, not 6"),
        ('<path d="M0 0 L 1e999 5"/>', "too large"),
        ('<line x1="0" x2="1e999"/>', "too large"),
        ('<line x1="0" x2="5em"/>', "plain numbers"),
        ('<path transform="wobble(3)" d="M0 0 h5"/>', "transform wobble"),
        ("<path", "no XML"),
        ('<polyline points="0,0 50,3 100,0"/>', "corner of"),
        ("<g>" * 60 + "</g>" * 60, "more than 50 deep"),
    ],
)
def test_what_is_no_curve_is_refused_with_its_place(read: Reader, inner: str, told: str) -> None:
    error = refused(read, svg(inner))
    assert error.key == "bend.file"
    assert told in str(error)
    assert error.line == 4


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("/etc/front.svg", "in the folder of the layup file"),
        ("../front.svg", "in the folder of the layup file"),
        ("C:/front.svg", "in the folder of the layup file"),
        ("front.png", "ends in .svg or .dxf"),
        ("gone.svg", "no file 'gone.svg'"),
    ],
)
def test_only_drawings_beside_the_layup_are_read(tmp_path: Path, name: str, told: str) -> None:
    layup = tmp_path / "front.toml"
    layup.write_text(f"[panel]\nwidth = 140\n[bend]\nfile = '{name}'\n", encoding="utf-8")
    with pytest.raises(LayupError, match=r"bend\.file") as caught:
        read_file(str(layup))
    assert told in str(caught.value)


@pytest.mark.parametrize(
    "content", [b"", b"no drawing at all", b"0\nSECTION\n2\nHEADER\n", b"\xff\xfe\x00" * 50]
)
def test_what_is_no_dxf_is_refused(read: Reader, content: bytes) -> None:
    error = refused(read, content, "front.dxf")
    assert error.key in ("bend.file", "bend.file_unit")


def test_files_and_curves_that_are_too_large_are_refused(read: Reader) -> None:
    assert "very large" in str(refused(read, b" " * (LARGEST + 1)))
    many = "M0 0" + "h1" * (MOST_SEGMENTS + 1)
    assert f"more than {MOST_SEGMENTS}" in str(refused(read, path(many)))


def test_files_and_curves_as_large_as_they_may_be_are_taken(read: Reader) -> None:
    """One arc, then straight pieces that run on, up to the last segment; blanks up to the last byte."""
    many = f"{ROUND} {'v 1' * (MOST_SEGMENTS - 2)}"
    curve = read(path(many)).curve
    assert curve is not None
    assert curve.length == pytest.approx(100.0 + 40.0 * math.pi + MOST_SEGMENTS - 2)
    content = path(ROUND)
    full = content + b" " * (LARGEST - len(content)) if isinstance(content, bytes) else content.ljust(LARGEST)
    assert read(full).curve is not None


def test_entities_are_refused_before_they_are_opened() -> None:
    laughs = '<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]><svg>&b;</svg>'
    with pytest.raises(ShapeError, match="entities"):
        svg_segments(laughs.encode(), None)


letters = st.text(alphabet="MmLlHhVvCcSsQqTtAaZz0123456789.,- e", max_size=40)


@given(letters)
@settings(max_examples=25)
def test_any_path_data_is_a_curve_or_a_clear_refusal(data: str) -> None:
    found: Profile | None = None
    with contextlib.suppress(ShapeError):
        found = profile_of(path_segments(data))
    assert found is None or found.length > 0.0


# The whole road


def test_a_drawing_goes_through_the_whole_program(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "front.svg").write_text(
        path("M 0 120 C 150 120 200 60 300 60 S 450 120 600 120"), encoding="utf-8"
    )
    layup = tmp_path / "front.toml"
    layup.write_text('[panel]\nwidth = 140\n[bend]\nfile = "front.svg"\n', encoding="utf-8")
    assert main(["check", str(layup)]) == 0
    assert "file front.svg" in capsys.readouterr().out
    assert main(["make", str(layup), "-o", str(tmp_path / "out"), "--only", "plan,glb"]) == 0


def test_on_the_page_a_drawing_needs_the_file_of_its_layup(tmp_path: Path) -> None:
    (tmp_path / "front.svg").write_text(path(ROUND), encoding="utf-8")
    layup = tmp_path / "front.toml"
    layup.write_text('[panel]\nwidth = 140\n[bend]\nfile = "front.svg"\n', encoding="utf-8")
    desk = Desk(layup.read_text(encoding="utf-8"), layup)
    assert desk.now.file.layup.curve is not None
    with pytest.raises(LayupError, match="into one folder"):
        desk.open(layup.read_bytes())
