"""Laws of the drawing model: geometry carried true, text within its field, nothing over anything else.

Outside referees: scipy for B-splines, shapely for areas and overlaps.
"""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from underbag.export.drawing.boxes import boxes_of, collisions, overlap, text_corners
from underbag.export.drawing.callout import balloon_column
from underbag.export.drawing.curves import (
    FULL_TURN,
    Arc,
    Circle,
    Curve,
    Line,
    Spline,
    arc_beziers,
    bezier_pieces,
    bounds,
    carried,
    end_of,
    flattened,
    polygon,
    rectangle,
    spline_through,
    start_of,
)
from underbag.export.drawing.dimension import ARROW, lay_out, linear, readable
from underbag.export.drawing.lanes import Wanted, stack_dimensions
from underbag.export.drawing.lettering import (
    SUBSTITUTES,
    block_depth,
    cut_to,
    fitted,
    shown,
    text_width,
    wrapped,
)
from underbag.export.drawing.paper import Box, Paper
from underbag.export.drawing.patterns import PATTERNS, hatch_lines
from underbag.export.drawing.pens import Pen
from underbag.export.drawing.primitives import (
    Align,
    Balloon,
    Hatch,
    Leader,
    Level,
    LinearDimension,
    Side,
    Stroke,
    Text,
    filled,
)
from underbag.export.drawing.scale import FULL_SIZE, SCALES, Scale, scale_to_fit
from underbag.export.drawing.sheet import Sheet, View, placed
from underbag.export.drawing.table import Column, paragraph, table
from underbag.export.drawing.title_block import TitleBlock
from underbag.model.errors import ExportError, ShapeError

coordinate = st.floats(-500, 500).map(lambda x: round(x, 3))
point = st.tuples(coordinate, coordinate)
angle = st.floats(-7, 7)
sweep = st.floats(0.01, FULL_TURN).flatmap(lambda size: st.sampled_from([size, -size]))
arc = st.builds(Arc, centre=point, radius=st.floats(0.5, 800), start=angle, sweep=sweep)
words = st.text(st.characters(codec="utf-8"), max_size=60)


# Curves


@given(st.integers(1, 3), st.lists(point, min_size=5, max_size=9), st.data())
def test_bezier_pieces_follow_the_spline(
    degree: int, poles: list[tuple[float, float]], data: st.DataObject
) -> None:
    """The pieces against scipy's evaluation of the same poles and knots."""
    from scipy.interpolate import BSpline

    inner = data.draw(
        st.lists(st.integers(1, 20), min_size=len(poles) - degree - 1, max_size=len(poles) - degree - 1)
    )
    assume(all(inner.count(knot) <= degree for knot in inner))
    knots = (*[0.0] * (degree + 1), *(float(knot) for knot in sorted(inner)), *[21.0] * (degree + 1))
    spline = Spline(poles=tuple(poles), knots=knots, degree=degree)
    pieces = bezier_pieces(spline)
    breaks = sorted(set(knots))
    referee = BSpline(np.array(knots), np.array(poles), degree)
    assert len(pieces) == len(breaks) - 1
    for piece, low, high in zip(pieces, breaks, breaks[1:], strict=False):
        s = np.linspace(0, 1, 7)
        ours = sum(math.comb(3, i) * ((1 - s) ** (3 - i) * s**i)[:, None] * piece[i] for i in range(4))
        # Stay inside the interval, where the referee takes the same piece.
        inside = low + (high - low) * np.clip(s, 1e-9, 1 - 1e-9)
        assert ours == pytest.approx(referee(inside), abs=1e-4)


@given(arc)
def test_arc_beziers_stay_on_the_circle(curve: Arc) -> None:
    """Within 1e-7 of the radius, from the arc's own start to its own end."""
    pieces = arc_beziers(curve)
    assert tuple(pieces[0][0]) == pytest.approx(start_of(curve))
    assert tuple(pieces[-1][3]) == pytest.approx(end_of(curve), abs=1e-6)
    s = np.linspace(0, 1, 9)[:, None]
    for a, b, c, d in pieces:
        points = (1 - s) ** 3 * a + 3 * (1 - s) ** 2 * s * b + 3 * (1 - s) * s**2 * c + s**3 * d
        radii = np.hypot(*(points - curve.centre).T)
        assert radii == pytest.approx(np.full(9, curve.radius), rel=1e-7)


@given(arc, st.floats(0.005, 0.5))
def test_flattened_arcs_keep_their_tolerance(curve: Arc, tolerance: float) -> None:
    points = flattened(curve, tolerance)
    middles = (points[1:] + points[:-1]) / 2
    sagitta = curve.radius - np.hypot(*(middles - curve.centre).T)
    assert sagitta.max() <= tolerance * (1 + 1e-6) + 1e-9
    assert tuple(points[0]) == pytest.approx(start_of(curve))
    assert tuple(points[-1]) == pytest.approx(end_of(curve), abs=1e-6)


@given(st.lists(point, min_size=4, max_size=10, unique=True))
def test_a_spline_runs_through_its_points(points: list[tuple[float, float]]) -> None:
    assume(all(math.dist(a, b) > 5 for a, b in pairwise(points)))
    drawn = LineString(flattened(spline_through(points), 0.001))
    from shapely.geometry import Point as Spot

    # 0.001 mm for the chords of the flattened spline.
    assert max(drawn.distance(Spot(p)) for p in points) < 0.002


@given(arc, st.floats(0.01, 50), point)
def test_carrying_a_curve_and_back_changes_nothing(
    curve: Arc, ratio: float, shift: tuple[float, float]
) -> None:
    there = carried(curve, ratio, shift)
    back = carried(there, 1 / ratio, (-shift[0] / ratio, -shift[1] / ratio))
    assert isinstance(back, Arc)
    assert back.radius == pytest.approx(curve.radius)
    # Carrying adds and takes away up to 500 mm / 0.01: 1e-9 of 5e4 mm.
    assert back.centre == pytest.approx(curve.centre, abs=1e-6)


def test_bounds_of_a_quarter_turn() -> None:
    low, high = bounds([Arc(centre=(0, 0), radius=10, start=math.pi / 4, sweep=math.pi / 2)])
    assert high[1] == pytest.approx(10, abs=0.01)
    assert (*low, high[0]) == pytest.approx((-math.sqrt(50), math.sqrt(50), math.sqrt(50)), abs=0.01)
    with pytest.raises(ShapeError, match="no curve"):
        bounds([])


@pytest.mark.parametrize(
    "make",
    [
        lambda: Arc(centre=(0, 0), radius=0, start=0, sweep=1),
        lambda: Arc(centre=(0, 0), radius=1, start=0, sweep=0),
        lambda: Arc(centre=(0, 0), radius=1, start=0, sweep=6.3),
        lambda: Circle(centre=(0, 0), radius=-1),
        lambda: Spline(poles=((0, 0), (1, 1)), knots=(0, 0, 1, 1), degree=4),
        lambda: Spline(poles=((0, 0), (1, 1)), knots=(0, 0, 1), degree=1),
        lambda: Spline(poles=((0, 0), (1, 1), (2, 0)), knots=(0, 0, 2, 1, 1), degree=1),
        lambda: Spline(poles=((0, 0), (1, 1)), knots=(0, 1, 2, 3), degree=1),
        lambda: Leader(points=((0, 0),)),
        lambda: Balloon(points=((0, 0),), text="1"),
        lambda: Stroke(curve=Line(start=(0, 0), end=(1, 0)), pen=Pen(name="own", width=3, says="")),
        lambda: Hatch(boundary=(Line(start=(0, 0), end=(1, 0)),), pattern="solid"),
        lambda: Hatch(
            boundary=(Line(start=(0, 0), end=(1, 0)), Line(start=(1, 1e-5), end=(0, 0))), pattern="solid"
        ),
    ],
)
def test_what_cannot_be_drawn_is_refused(make: object) -> None:
    with pytest.raises(ShapeError, match=r"found|closed|fall|clamped"):
        make()  # type: ignore[operator]


def test_a_boundary_may_gap_by_a_millionth() -> None:
    Hatch(boundary=(Line(start=(0, 0), end=(1, 0)), Line(start=(1, 1e-6), end=(0, 0))), pattern="solid")
    Arc(centre=(0, 0), radius=1, start=0, sweep=FULL_TURN)


# Lettering


@given(words)
def test_shown_text_has_only_letters_of_the_font(text: str) -> None:
    from reportlab.pdfbase.ttfonts import TTFontFace

    from underbag.export.drawing.lettering import Face, font_file

    known = TTFontFace(str(font_file(Face.REGULAR))).charToGlyph
    printed = shown(text)
    assert all(ord(letter) in known for letter in printed)
    assert shown(printed) == printed


def test_substitutes_are_documented_and_printable() -> None:
    assert shown("⌀40 ″ ′ θ ½ × ° ² − ≥") == "Ø40 \" ' theta ½ × ° ² − ≥"
    assert shown("Jürgen Łąka") == "Jürgen Łaka"
    assert shown("漢") == "?"
    assert shown("one\ntwo\x00three") == "one two three"
    for letter, instead in SUBSTITUTES.items():
        assert shown(f"a{letter}b") == f"a{instead}b"


@given(words, st.floats(5, 120), st.sampled_from([1.8, 2.5, 3.5, 5.0]))
def test_wrapped_text_keeps_its_width_and_letters(text: str, width: float, height: float) -> None:
    lines = wrapped(text, width, height)
    # A single letter is never broken.
    assert all(text_width(line, height) <= width + 1e-9 or len(line) == 1 for line in lines)
    assert "".join(lines).replace(" ", "") == "".join(shown(text).split())


@given(words, st.floats(8, 120), st.sampled_from([1.8, 3.5]))
def test_cut_text_fits(text: str, width: float, height: float) -> None:
    cut = cut_to(text, width, height)
    assert text_width(cut, height) <= width
    assert cut == text or cut.endswith("…")


@given(words, st.floats(20, 120), st.floats(4, 20))
def test_fitted_text_fits_its_field(text: str, width: float, depth: float) -> None:
    height, lines = fitted(text, width, depth, (3.5, 2.5, 1.8))
    assert block_depth(len(lines), height) <= depth + 1e-9
    assert all(text_width(line, height) <= width + 1e-9 for line in lines)


@given(st.floats(-50, 50))
def test_text_is_read_from_below_or_from_the_right(direction: float) -> None:
    read = readable(direction)
    assert -math.pi / 2 < read <= math.pi / 2 + 1e-9
    assert math.sin(read - direction) == pytest.approx(0, abs=1e-9)


# Boxes


quad = st.builds(
    Text,
    text=st.sampled_from(["1", "front veneer", "R 430.6"]),
    position=st.tuples(st.floats(0, 40), st.floats(0, 40)),
    height=st.sampled_from([2.5, 5.0]),
    align=st.sampled_from(Align),
    level=st.sampled_from(Level),
    turn=angle,
)


@given(quad, quad)
def test_overlap_of_texts_against_shapely(first: Text, second: Text) -> None:
    a, b = text_corners(first), text_corners(second)
    shared = Polygon(a).intersection(Polygon(b)).area
    if overlap(a, b):
        assert shared > 0
    else:
        # Up to 0.05 mm deep counts as touching: a strip along a text, at the most.
        assert shared <= 0.05 * 40


def _sheet_of(*items: object, views: tuple[View, ...] = ()) -> Sheet:
    paper = Paper(name="wide", width=2500.0, height=1800.0)
    return Sheet(name="s", paper=paper, title=TitleBlock(title="t"), items=items, views=views)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("items", "said"),
    [
        ([Text(text="one", position=(500, 500)), Text(text="two", position=(503, 501))], "text 'two'"),
        (
            [Text(text="one", position=(500, 500)), Stroke(curve=Line(start=(490, 501), end=(520, 501)))],
            "a line",
        ),
        ([Text(text="out", position=(2485, 500))], "the frame"),
        ([Text(text="low", position=(2400, 30))], "the title block"),
        (
            [
                Balloon(points=((500, 500), (520, 520)), text="1"),
                Balloon(points=((500, 520), (520, 500)), text="2"),
            ],
            "leader '2'",
        ),
        (
            [
                Balloon(points=((500, 500), (520, 520)), text="1"),
                Balloon(points=((500, 530), (520, 527)), text="2"),
            ],
            "balloon '2'",
        ),
        (
            [
                LinearDimension(start=(500, 500), end=(560, 500), through=(0, 520), text="60"),
                LinearDimension(start=(540, 500), end=(640, 500), through=(0, 520), text="100"),
            ],
            "dimension '100'",
        ),
    ],
)
def test_collisions_are_found(items: list[object], said: str) -> None:
    assert said in [collision.second for collision in collisions(_sheet_of(*items))]


def test_neighbours_do_not_collide() -> None:
    """At the limit: texts end to end, a line just under a text, balloons that touch, a chain of dimensions."""
    width = text_width("one", 3.5)
    items = [
        Text(text="one", position=(500, 500)),
        Text(text="two", position=(500 + width, 500)),
        Stroke(curve=Line(start=(490, 499.85), end=(520, 499.85))),
        Balloon(points=((600, 500), (620, 500)), text="1"),
        Balloon(points=((600, 508), (620, 508)), text="2"),
        LinearDimension(start=(700, 500), end=(760, 500), through=(0, 520), text="60"),
        LinearDimension(start=(760, 500), end=(860, 500), through=(0, 520), text="100"),
    ]
    assert collisions(_sheet_of(*items)) == ()


# Dimensions


@given(point, point, angle, point)
def test_a_dimension_measures_its_points(
    start: tuple[float, float], end: tuple[float, float], direction: float, through: tuple[float, float]
) -> None:
    """Three ways to one number: the item, its layout, and the distance of its arrows' tips."""
    dimension = LinearDimension(start=start, end=end, angle=direction, through=through, text="x")
    layout = lay_out(dimension)
    assert layout.span == pytest.approx(dimension.measured, abs=1e-6)
    arrows = [part for part in linear(dimension) if isinstance(part, Hatch)]
    tips = [start_of(arrow.boundary[0]) for arrow in arrows]  # type: ignore[arg-type]
    assert math.dist(*tips) == pytest.approx(dimension.measured, abs=1e-6)
    c, s = math.cos(direction), math.sin(direction)
    levels = [-s * x + c * y for x, y in (*tips, through)]
    assert levels[:2] == pytest.approx([levels[2]] * 2, abs=1e-6)


@given(st.floats(0.1, 40))
def test_arrows_stand_outside_where_space_is_short(span: float) -> None:
    layout = lay_out(LinearDimension(start=(0, 0), end=(span, 0), through=(0, 10), text="1"))
    assert layout.is_tight == (span < 2 * ARROW + 1)
    inside = text_width("1", 3.5) + 2 <= span
    assert (0 < layout.text < span) == inside


number = st.sampled_from(["4", "18.5", "600", "1219.2 [48]", "600 [23 5/8]", "1422.4 [56]"])
foot = st.integers(0, 300).map(float)
wanted = st.lists(st.tuples(foot, foot, number), min_size=1, max_size=9)


@settings(max_examples=60, deadline=None)
@given(wanted, st.sampled_from(Side), st.sampled_from([Scale(1, 5), Scale(1, 1), Scale(5, 1)]), st.data())
def test_stacked_dimensions_never_collide(
    wants: list[tuple[float, float, str]], side: Side, scale: Scale, data: st.DataObject
) -> None:
    """Any distances on any side at any scale, around labels that are in the way."""
    view = View(name="v", scale=scale, origin=(800, 200))
    across = side in (Side.ABOVE, Side.BELOW)
    points = [((a, 0.0), (b, 0.0)) if across else ((0.0, a), (0.0, b)) for a, b, _ in wants]
    order = [Wanted(start=a, end=b, text=text) for (a, b), (_, _, text) in zip(points, wants, strict=True)]
    away = data.draw(st.floats(6, 60)) * (1 if side in (Side.ABOVE, Side.RIGHT) else -1)
    along = data.draw(st.floats(0, 300)) * scale.ratio
    label_place = (800 + along, 200 + away) if across else (800 + away, 200 + along)
    label = Text(text="label", position=label_place)
    stacked = stack_dimensions(view, order, side, 0.0, obstacles=boxes_of([label]))
    assert [d.text for d in stacked] == [w.text for w in order if w.start != w.end]
    found = collisions(_sheet_of(views=(view.with_items(*stacked),)))
    assert found == ()
    # Extension lines may have to pass a label; texts and dimension lines never touch it.
    for box in boxes_of([label]):
        for dimension in stacked:
            parts = linear(placed(dimension, scale.ratio, view.origin))  # type: ignore[arg-type]
            texts_and_lines = [parts[0], *(part for part in parts if isinstance(part, Text))]
            assert not any(other.meets(box) for other in boxes_of(texts_and_lines))


def test_lanes_are_ordered_and_apart() -> None:
    """Shorter dimensions inside longer ones; the first 10 mm from the outline, then twice the lettering height."""
    view = View(name="v", scale=Scale(1, 2), origin=(500, 500))
    ends = [(0.0, 400.0), (100.0, 300.0), (0.0, 500.0)]
    wants = [Wanted(start=(a, 0), end=(b, 0), text=f"{b - a:.0f}") for a, b in ends]
    levels = [view.on_paper(d.through)[1] - 500 for d in stack_dimensions(view, wants, Side.ABOVE, 0.0)]
    assert levels == pytest.approx([17, 10, 24])
    below = [view.on_paper(d.through)[1] - 500 for d in stack_dimensions(view, wants, Side.BELOW, 0.0)]
    assert below == pytest.approx([-17, -10, -24])


@settings(max_examples=50, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 80), st.integers(0, 150)), min_size=1, max_size=15, unique=True))
def test_balloons_keep_apart_and_do_not_cross(tips: list[tuple[int, int]]) -> None:
    view = View(name="v", scale=Scale(2, 1), origin=(500, 500))
    parts = [((float(x), float(y)), str(i)) for i, (x, y) in enumerate(tips)]
    balloons = balloon_column(view, parts, 720.0, 520.0, 700.0)
    assert sorted(b.text for b in balloons) == sorted(text for _, text in parts)
    heights = sorted(view.on_paper(b.points[-1])[1] for b in balloons)
    assert all(b - a >= 8 - 1e-6 for a, b in pairwise(heights))
    assert heights[0] >= 520
    assert heights[-1] <= 700
    assert [
        c for c in collisions(_sheet_of(views=(view.with_items(*balloons),))) if "leader" in c.first
    ] == []


def test_a_column_that_is_too_short_for_its_balloons_is_refused() -> None:
    view = View(name="v", origin=(0, 0))
    parts = [((0.0, float(i)), str(i)) for i in range(5)]
    assert len(balloon_column(view, parts, 50, 0, 40)) == 5
    assert balloon_column(view, [], 50, 0, 40) == ()
    with pytest.raises(ExportError, match="found 5 in 39 mm"):
        balloon_column(view, parts, 50, 0, 39)


# Hatches


@given(st.lists(point, min_size=3, max_size=3), st.sampled_from(sorted(PATTERNS)), angle, st.floats(0.8, 3))
@settings(max_examples=40, deadline=None)
def test_hatching_stays_inside_its_area(
    corners: list[tuple[float, float]], pattern: str, turn: float, spread: float
) -> None:
    area = Polygon([(x / 20, y / 20) for x, y in corners])
    assume(area.area > 20)
    boundary = polygon(list(area.exterior.coords)[:-1])
    lines = hatch_lines(Hatch(boundary=(boundary,), pattern=pattern, turn=turn, spread=spread))
    widened = area.buffer(1e-6)
    assert all(widened.covers(LineString([line[:2], line[2:]])) for line in lines)


@given(st.floats(20, 60), st.floats(20, 60), angle, st.sampled_from(sorted(PATTERNS)))
@settings(max_examples=40, deadline=None)
def test_length_of_hatching_follows_from_the_area(
    width: float, height: float, turn: float, pattern: str
) -> None:
    """Length = area × share of dashes ÷ spacing, for each family; the hole counts as empty."""
    ring = Hatch(
        boundary=(rectangle((0, 0), (width, height)),),
        holes=((Circle(centre=(width / 2, height / 2), radius=5.0),),),
        pattern=pattern,
        turn=turn,
    )
    lines = hatch_lines(ring)
    length = float(np.hypot(lines[:, 2] - lines[:, 0], lines[:, 3] - lines[:, 1]).sum())
    area = width * height - math.pi * 25
    families = PATTERNS[pattern].families
    dashes = [(sum(f.dashes[::2]) / sum(f.dashes) if f.dashes else 1.0) for f in families]
    expected = sum(area * dash / f.spacing for dash, f in zip(dashes, families, strict=True))
    # Rows and dashes begin anywhere: up to half a row of the perimeter is uncertain.
    assert length == pytest.approx(expected, abs=len(families) * (width + height) * 0.75)


def test_dashes_are_shifted_from_row_to_row() -> None:
    """Whole dashes of row k begin k shifts along, up to whole periods."""
    (family,) = PATTERNS["wood along"].families
    lines = hatch_lines(filled((0, 0), (200, 0), (200, 30), (0, 30), pattern="wood along"))
    period = sum(family.dashes)
    long = [line for line in lines if line[2] - line[0] == pytest.approx(family.dashes[0])]
    assert len(long) > 200
    for x0, y, _, _ in long:
        row = round(y / family.spacing)
        assert y == pytest.approx(row * family.spacing)
        assert math.remainder(x0 - row * family.shift, period) == pytest.approx(0, abs=1e-9)


def test_patterns_differ_in_black_and_white() -> None:
    """No two have the same directions and density of lines."""
    looks = {
        tuple(sorted((round(f.angle, 3), f.spacing, f.base, f.shift, f.dashes) for f in pattern.families))
        for pattern in PATTERNS.values()
    }
    assert len(looks) == len(PATTERNS)
    areas = [filled((0, 0), (60, 0), (60, 60), (0, 60), pattern=name) for name in PATTERNS]
    prints = [_print_of(area) for area in areas]
    for i, first in enumerate(prints):
        for second in prints[i + 1 :]:
            # Share of ink by direction and mean length of the strokes, in eighths of a turn.
            assert np.abs(first - second).max() > 0.02


def _print_of(area: Hatch) -> np.ndarray:
    lines = hatch_lines(area)
    steps = lines[:, 2:] - lines[:, :2]
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    directions = np.round((np.arctan2(steps[:, 1], steps[:, 0]) % math.pi) / (math.pi / 12)).astype(int) % 12
    ink = np.bincount(directions, weights=lengths, minlength=12) / 3600
    mean = lengths.mean() / 60 if len(lengths) else 0.0
    return np.array([*ink, mean, float(len(lines) == 0)])


def test_an_unknown_pattern_is_refused() -> None:
    with pytest.raises(ExportError, match=r"found pattern 'marble'; allowed: solid, wood along"):
        hatch_lines(filled((0, 0), (1, 0), (1, 1), pattern="marble"))


# Sheets


@given(st.floats(1, 1e5), st.floats(1, 1e5), st.floats(50, 1000), st.floats(50, 800))
def test_the_largest_scale_that_fits_is_chosen(width: float, height: float, room: float, tall: float) -> None:
    scale = scale_to_fit(width, height, room, tall, at_most=SCALES[0])
    place = SCALES.index(scale)
    assert (width * scale.ratio <= room and height * scale.ratio <= tall) or place == len(SCALES) - 1
    if place:
        larger = SCALES[place - 1].ratio
        assert width * larger > room or height * larger > tall


@given(st.sampled_from(SCALES), point, point)
def test_view_and_paper_are_inverse(
    scale: Scale, origin: tuple[float, float], spot: tuple[float, float]
) -> None:
    view = View(name="v", scale=scale, origin=origin)
    # At 1:10000 the paper's last bit is 1e-9 mm of the thing, times its size.
    assert view.in_view(view.on_paper(spot)) == pytest.approx(spot, abs=1e-6)
    assert FULL_SIZE.ratio == 1


title_words = st.text(st.characters(codec="latin-1", exclude_categories=["C"]), max_size=150)


@settings(max_examples=40, deadline=None)
@given(title_words, title_words, title_words, title_words)
def test_title_blocks_hold_any_text(title: str, subtitle: str, owner: str, status: str) -> None:
    """Long titles are set smaller, wrapped and cut; nothing leaves its field or meets a line."""
    block = TitleBlock(
        title=title, subtitle=subtitle, owner=owner, status=status, number=title, scale=status, creator=owner,
        approval=title, date=title, revision=title, document=subtitle, units=status, sheet=123, sheets=456,
    )  # fmt: skip
    paper = Paper(name="A4", width=210.0, height=297.0)
    assert collisions(Sheet(name="s", paper=paper, title=block)) == ()


@settings(max_examples=30, deadline=None)
@given(st.lists(st.tuples(words, words, words), max_size=6), st.sampled_from([1.8, 2.5, 3.5]))
def test_tables_hold_any_text(rows: list[tuple[str, str, str]], height: float) -> None:
    columns = [
        Column(heading="No", width=12, align=Align.RIGHT),
        Column(heading="Name of the part", width=45),
        Column(heading="Material", width=40, align=Align.CENTRE),
    ]
    drawn = table((600, 1700), columns, rows, height)
    assert drawn.box.width == 97
    assert drawn.box.high == (697, 1700)
    assert collisions(_sheet_of(*drawn.items)) == ()


def test_a_paragraph_keeps_its_line_breaks_and_says_its_depth() -> None:
    items, depth = paragraph((600, 600), "one two three\n\nfour", 20, 3.5)
    assert [item.text for item in items] == ["one two", "three", "four"]
    low = min(text_corners(item)[:, 1].min() for item in items)
    assert depth >= 600 - low


def test_boxes_meet_only_with_more_than_an_edge() -> None:
    box = Box(low=(0, 0), high=(2, 1))
    assert box.meets(Box(low=(1, 0.5), high=(3, 3)))
    assert not box.meets(Box(low=(2, 0), high=(3, 1)))
    assert not box.meets(Box(low=(0, 1.5), high=(2, 2)))


def test_start_and_end_of_curves() -> None:
    curves: list[Curve] = [
        Line(start=(0, 0), end=(3, 4)),
        rectangle((0, 0), (2, 1)),
        Spline(poles=((0, 0), (1, 2), (3, 4)), knots=(0, 0, 0, 1, 1, 1), degree=2),
    ]
    assert [start_of(curve) for curve in curves] == [(0, 0)] * 3  # type: ignore[arg-type]
    assert [end_of(curve) for curve in curves] == [(3, 4), (0, 0), (3, 4)]  # type: ignore[arg-type]
