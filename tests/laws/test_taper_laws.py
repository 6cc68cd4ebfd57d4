"""What holds for every tapered sheet: lengths and angles kept when it is laid flat, two ways to one number, limits."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from underbag.model.errors import ShapeError
from underbag.model.shape.cone import shared_lift
from underbag.model.shape.curve import CurvePiece, ParabolaCourse, ellipse_over
from underbag.model.shape.profile import Profile, Run, arc_profile, flat_profile
from underbag.model.shape.sheet import Sheet
from underbag.model.shape.taper import TaperedSheet


def arc(radius: float, degrees: float) -> Run:
    turn = math.radians(degrees)
    return Run(radius * abs(turn), math.copysign(1.0 / radius, turn))


def straight(length: float) -> Run:
    return Run(length, 0.0)


def chain(*runs: Run) -> Profile:
    return Profile(runs)


ELLIPSE = Profile((CurvePiece(ellipse_over(600.0, 120.0, math.radians(100.0))),))
PARABOLA = Profile((CurvePiece(ParabolaCourse(chord=500.0, rise=60.0)),))

TAPERS = {
    "round cone": (arc_profile(350.0, 1.7), arc_profile(560.0, 1.7), 400.0, None),
    "hollow cone": (arc_profile(350.0, -1.7), arc_profile(560.0, -1.7), 400.0, None),
    "leaning cone": (arc_profile(350.0, 1.7), arc_profile(560.0, 1.7), 400.0, 150.0),
    "leaning cylinder": (arc_profile(300.0, 1.0), arc_profile(300.0, 1.0), 200.0, 100.0),
    "three arcs and one": (
        chain(arc(500, 30), arc(200, 40), arc(500, 30)),
        chain(arc(300, 100)),
        400.0,
        20.0,
    ),
    "ellipse and arc": (ELLIPSE, chain(arc(300, 100)), 400.0, 0.0),
    "crown and hollow": (
        chain(arc(300, 40), straight(50), arc(200, -50)),
        chain(arc(500, 40), straight(150), arc(250, -50)),
        500.0,
        30.0,
    ),
    "tray": (
        chain(straight(100), arc(60, 90), straight(300), arc(60, 90), straight(100)),
        chain(straight(150), arc(90, 90), straight(350), arc(90, 90), straight(120)),
        300.0,
        0.0,
    ),
}


def taper(name: str, bent: float = 1.0) -> TaperedSheet:
    near, far, width, lift = TAPERS[name]
    return TaperedSheet(
        near=near,
        far=far,
        width=width,
        lift=shared_lift(near, far) if lift is None else lift,
        reference=2.0,
        bent=bent,
    )


def spread(sheet: TaperedSheet, seed: int, count: int = 120) -> tuple[np.ndarray, np.ndarray]:
    """Places all over a sheet and a tenth beyond its edges."""
    random = np.random.default_rng(seed)
    u = random.uniform(-0.55, 0.55, count) * sheet.profile.length
    return u, random.uniform(-1.1, 1.1, count) * sheet.half_width(u)


@pytest.mark.parametrize("bent", [1.0, 1.15])
@pytest.mark.parametrize("height", [2.0, 14.0])
@pytest.mark.parametrize("name", TAPERS)
def test_short_ways_keep_their_length_when_laid_flat(name: str, height: float, bent: float) -> None:
    # a step of 2 µm each way: rounding of coordinates near 1 m is 1e-13 of 2e-3, and the step's own cube is less
    sheet, step = taper(name, bent), 1e-3
    u, w = spread(sheet, 1)
    smooth = np.abs(u[:, None] - sheet.profile.joints()).min(axis=1) > 2.0 * step
    u, w = u[smooth], w[smooth]
    for du, dw in ((1.0, 0.0), (0.0, 1.0), (0.7, 0.7), (0.7, -0.7)):
        ends = [(u + side * step * du, w + side * step * dw) for side in (-1.0, 1.0)]
        raised = [sheet.place(a, b, height) for a, b in ends]
        flat = [sheet.unroll(a, b, height) for a, b in ends]
        way = np.linalg.norm(raised[1] - raised[0], axis=1)
        assert np.linalg.norm(flat[1] - flat[0], axis=1) == pytest.approx(way, rel=1e-8)


@pytest.mark.parametrize("name", TAPERS)
def test_rulings_are_straight_in_space_and_in_the_flat_pattern(name: str) -> None:
    sheet = taper(name)
    u, w = spread(sheet, 2)
    for here in (sheet.place, sheet.unroll):
        low, middle, high = (here(u, w + shift, 9.0) for shift in (-100.0, 0.0, 100.0))
        assert 0.5 * (low + high) == pytest.approx(middle, abs=1e-9)
        assert np.linalg.norm(high - low, axis=1) == pytest.approx(np.full(u.size, 200.0), abs=1e-9)


@pytest.mark.parametrize("name", TAPERS)
def test_both_edges_are_the_two_profiles(name: str) -> None:
    sheet = taper(name)
    u = np.linspace(-0.5, 0.5, 60) * sheet.profile.length
    half = sheet.half_width(u)
    near = sheet.place(u, -half, sheet.reference)
    assert near[:, 1] == pytest.approx(np.full(u.size, -0.5 * sheet.width), abs=1e-9)
    far = sheet.place(u, half, sheet.reference)
    assert far[:, 1] == pytest.approx(np.full(u.size, 0.5 * sheet.width), abs=1e-9)
    ends = sheet.near.points(np.array([-0.5, 0.5]) * sheet.near.length)
    assert near[[0, -1]][:, [0, 2]] == pytest.approx(ends, abs=1e-9)
    ends = far[-1] - far[0]
    assert np.linalg.norm(ends) == pytest.approx(
        float(np.linalg.norm(np.diff(sheet.far.points(np.array([-0.5, 0.5]) * sheet.far.length), axis=0))),
        abs=1e-9,
    )


@pytest.mark.parametrize("bent", [1.0, 0.9])
@pytest.mark.parametrize("name", TAPERS)
def test_the_normal_stays_square_to_the_sheet(name: str, bent: float) -> None:
    sheet, step = taper(name, bent), 1e-4
    u, w = spread(sheet, 3)
    frames = sheet.frames(u)
    across = sheet.place(u + step, w, 30.0) - sheet.place(u - step, w, 30.0)
    # a step over a joint leaves the plane by its square over the radius: below 1e-9 mm
    assert (across * frames.normal).sum(axis=1) == pytest.approx(np.zeros(u.size), abs=1e-9)
    assert (frames.along * frames.normal).sum(axis=1) == pytest.approx(np.zeros(u.size), abs=1e-12)
    assert frames.normal[:, 2] @ np.ones(u.size) > 0.0


@pytest.mark.parametrize("height", [2.0, -4.0, 25.0])
@pytest.mark.parametrize("name", TAPERS)
def test_a_place_is_found_again(name: str, height: float) -> None:
    sheet = taper(name)
    u, w = spread(sheet, 4)
    x, y = sheet.unroll(u, w, height).T
    again = sheet.locate(x, y, height)
    assert again[0] == pytest.approx(u, abs=1e-8)
    assert again[1] == pytest.approx(w, abs=1e-8)


def test_a_place_past_the_point_of_a_cone_is_refused() -> None:
    sheet = taper("round cone")
    assert sheet.cone is not None
    past = -sheet.cone.sector(0.0).near - 0.5 * (sheet.cone.far - sheet.cone.near) - 400.0
    with pytest.raises(ShapeError, match="no ruling"):
        sheet.locate(np.array([0.0]), np.array([past]), sheet.reference)


@pytest.mark.parametrize("profile", [arc_profile(400.0, 1.2), ELLIPSE, chain(arc(300, 40), arc(200, -50))])
def test_equal_ends_are_the_sheet_that_runs_straight_across(profile: Profile) -> None:
    tapered = TaperedSheet(near=profile, far=profile, width=300.0, lift=0.0, reference=4.0)
    sheet = Sheet(profile=profile, reference=4.0)
    t = np.linspace(-0.6, 0.6, 90) * profile.length
    w = np.linspace(-150.0, 150.0, 90)
    for height in (0.0, 4.0, 12.0):
        assert tapered.place(t, w, height) == pytest.approx(sheet.place(t, w, height), abs=1e-8)
        assert tapered.unroll(t, w, height) == pytest.approx(
            np.column_stack((sheet.developed(height, t), w)), abs=1e-8
        )
        assert tapered.developed(height, t) == pytest.approx(sheet.developed(height, t), abs=1e-8)
        assert tapered.stretch(height, t) == pytest.approx(sheet.stretch(height, t), abs=1e-9)
    assert tapered.least_radius == pytest.approx(sheet.least_radius, rel=1e-9)
    assert tapered.tightest(0.0, 12.0)[1:] == pytest.approx(sheet.tightest(0.0, 12.0)[1:], rel=1e-9)
    assert tapered.turn == pytest.approx(profile.turn, abs=1e-12)


def test_two_flat_curves_make_a_flat_sheet() -> None:
    sheet = TaperedSheet(
        near=flat_profile(300.0), far=flat_profile(500.0), width=200.0, lift=0.0, reference=0.0
    )
    u, w = spread(sheet, 5)
    assert sheet.place(u, w, 6.0)[:, 2] == pytest.approx(np.full(u.size, 6.0), abs=1e-12)
    assert sheet.place(u, w, 6.0)[:, :2] == pytest.approx(sheet.unroll(u, w, 6.0), abs=1e-9)
    assert sheet.least_radius == math.inf


@pytest.mark.parametrize("name", [name for name in TAPERS if name not in ("crown and hollow", "tray")])
def test_seen_from_the_other_end_it_is_the_same_sheet(name: str) -> None:
    # where the ends head different ways the near chord lies level, and the other end comes out turned
    sheet = taper(name)
    assert sheet.tilt == 0.0
    back = TaperedSheet(
        near=sheet.far, far=sheet.near, width=sheet.width, lift=-sheet.lift, reference=sheet.reference
    )
    u, w = spread(sheet, 6)
    moved = sheet.place(u, w, 8.0) * [1.0, -1.0, 1.0] - [0.0, 0.0, sheet.lift]
    assert back.place(u, -w, 8.0) == pytest.approx(moved, abs=1e-8)
    assert back.unroll(u, -w, 8.0) == pytest.approx(sheet.unroll(u, w, 8.0) * [1.0, -1.0], abs=1e-8)


@settings(max_examples=25, deadline=None)
@given(factor=st.floats(0.01, 50.0))
def test_everything_grows_in_proportion(factor: float) -> None:
    near, far = chain(arc(500, 30), arc(200, 40)), chain(arc(300, 70))
    small = TaperedSheet(near=near, far=far, width=250.0, lift=10.0, reference=1.0)
    large = TaperedSheet(
        near=Profile(tuple(Run(run.length * factor, run.curvature / factor) for run in near.pieces)),
        far=Profile(tuple(Run(run.length * factor, run.curvature / factor) for run in far.pieces)),
        width=250.0 * factor,
        lift=10.0 * factor,
        reference=factor,
    )
    u, w = spread(small, 7, 20)
    assert large.place(u * factor, w * factor, 5.0 * factor) == pytest.approx(
        small.place(u, w, 5.0) * factor, abs=1e-9 * factor
    )
    assert large.unroll(u * factor, w * factor, 5.0 * factor) == pytest.approx(
        small.unroll(u, w, 5.0) * factor, abs=1e-9 * factor
    )


@pytest.mark.parametrize("name", ["round cone", "hollow cone"])
@pytest.mark.parametrize("kept", [0.8, 0.97, 1.2])
def test_a_sprung_cone_is_a_cone_by_both_ways(name: str, kept: float) -> None:
    # the frame followed ruling by ruling against the cone of the other half angle
    followed, closed = taper(name, kept), taper(name).sprung(1.0 - kept)
    u, w = spread(closed, 8)
    assert followed.place(u, w, 11.0) == pytest.approx(closed.place(u, w, 11.0), abs=1e-7)
    assert followed.unroll(u, w, 11.0) == pytest.approx(closed.unroll(u, w, 11.0), abs=1e-8)
    assert closed.turn == pytest.approx(kept * taper(name).turn, rel=1e-12)


@pytest.mark.parametrize("name", TAPERS)
def test_springback_keeps_the_flat_pattern_and_can_be_undone(name: str) -> None:
    sheet = taper(name)
    sprung = sheet.sprung(0.1)
    u, w = spread(sheet, 9)
    reference = sheet.reference
    assert sprung.unroll(u, w, reference) == pytest.approx(sheet.unroll(u, w, reference), abs=1e-8)
    assert sprung.turn == pytest.approx(0.9 * sheet.turn, rel=1e-9)
    again = sprung.sprung(-0.1 / 0.9)
    assert again.place(u, w, 8.0) == pytest.approx(sheet.place(u, w, 8.0), abs=1e-8)


def test_a_little_spring_moves_a_sheet_a_little() -> None:
    for name in TAPERS:
        sheet = taper(name)
        u, w = spread(sheet, 10)
        # a millionth of the turn over less than 2 m, and no jump in how it is placed
        assert taper(name, 1.0 + 1e-6).place(u, w, 8.0) == pytest.approx(sheet.place(u, w, 8.0), abs=1e-2)


def test_layers_that_would_cross_themselves_are_refused_where_it_is_tightest() -> None:
    sheet = taper("round cone")
    near, _ = sheet.least_radii
    sheet.demand_room(2.0 - near + 0.01, 2.0)
    with pytest.raises(ShapeError, match=r"near end.*radius of"):
        sheet.demand_room(2.0 - near - 0.01, 2.0)
    # past the near curve the radius falls off evenly, along the slant
    assert sheet.cone is not None
    nearer = near - 50.0 * math.tan(sheet.cone.half_angle)
    sheet.demand_room(2.0 - nearer + 0.01, 2.0, past=50.0)
    with pytest.raises(ShapeError, match=r"near end.*radius of"):
        sheet.demand_room(2.0 - nearer - 0.01, 2.0, past=50.0)


def test_rulings_that_would_meet_are_refused() -> None:
    sheet = taper("round cone")
    assert sheet.cone is not None
    point = sheet.cone.sector(0.0).near
    sheet.demand_room(2.0, 2.0, past=point - 0.01)
    with pytest.raises(ShapeError, match=f"rulings would meet {point:.1f} mm past the near curve"):
        sheet.demand_room(2.0, 2.0, past=point + 0.01)


@pytest.mark.parametrize(
    ("near", "far", "words"),
    [
        (
            arc_profile(400.0, 1.0),
            arc_profile(400.0, 0.8),
            "crown of 57.2958° where the far one has a crown of 45.8366°",
        ),
        (
            arc_profile(400.0, 1.0),
            flat_profile(400.0),
            "a crown of 57.2958° where the far one has a straight run",
        ),
        (arc_profile(400.0, 1.0), arc_profile(400.0, -1.0), "where the far one has a hollow"),
        (chain(arc(300, 40), arc(300, -40)), chain(arc(300, 40)), "hollow of 40° after the far one ends"),
        (
            chain(arc(300, 40), straight(90.0)),
            chain(straight(90.0), arc(300, 40)),
            "counted from the left stretch 1",
        ),
    ],
)
def test_curves_that_part_are_refused_with_the_stretch(near: Profile, far: Profile, words: str) -> None:
    with pytest.raises(ShapeError, match=words) as raised:
        TaperedSheet(near=near, far=far, width=300.0, lift=0.0, reference=0.0)
    percent = float(str(raised.value).split("stretch by ")[1].split(" %")[0])
    assert 0.01 < percent < 100.0


def test_a_turn_is_the_same_or_it_is_not() -> None:
    near = arc_profile(400.0, 1.0)
    TaperedSheet(near=near, far=arc_profile(600.0, 1.0 + 9e-7), width=300.0, lift=0.0, reference=0.0)
    with pytest.raises(ShapeError, match="stretch"):
        TaperedSheet(near=near, far=arc_profile(600.0, 1.0 + 1.1e-6), width=300.0, lift=0.0, reference=0.0)


@pytest.mark.parametrize("width", [0.0, -5.0, math.nan, math.inf])
def test_a_taper_needs_a_width(width: float) -> None:
    profile = arc_profile(400.0, 1.0)
    with pytest.raises(ShapeError, match="width"):
        TaperedSheet(near=profile, far=profile, width=width, lift=0.0, reference=0.0)


runs = st.tuples(
    st.sampled_from([-1.0, 0.0, 1.0]), st.floats(5.0, 80.0), st.floats(80.0, 600.0), st.floats(0.7, 1.6)
)


@settings(max_examples=40, deadline=None)
@given(
    parts=st.lists(runs, min_size=1, max_size=4), width=st.floats(50.0, 900.0), lift=st.floats(-100.0, 100.0)
)
def test_any_two_chains_of_equal_turns_make_a_sheet_or_a_clear_stop(
    parts: list[tuple[float, float, float, float]], width: float, lift: float
) -> None:
    near = chain(*(arc(r, way * angle) if way else straight(r) for way, angle, r, _ in parts))
    far = chain(*(arc(r * f, way * angle) if way else straight(r * f) for way, angle, r, f in parts))
    sheet = TaperedSheet(near=near, far=far, width=width, lift=lift, reference=0.0)
    try:
        sheet.demand_room(0.0, 10.0, past=5.0)
    except ShapeError:
        # what the stops say has tests of its own
        return
    u, w = spread(sheet, 11, 30)
    w = np.clip(w, -sheet.half_width(u) - 5.0, sheet.half_width(u) + 5.0)
    x, y = sheet.unroll(u, w, 10.0).T
    again = sheet.locate(x, y, 10.0)
    assert again[0] == pytest.approx(u, abs=1e-6)
    assert again[1] == pytest.approx(w, abs=1e-6)


@pytest.mark.parametrize("name", TAPERS)
@pytest.mark.parametrize("bent", [1.0, 1.05])
def test_turned_over_it_is_the_same_sheet(name: str, bent: float) -> None:
    """A rigid motion keeps every distance (Euclid): also where one end is turned against the other and lies higher."""
    sheet = taper(name, bent)
    over = sheet.turned_over
    u = np.linspace(-0.5, 0.5, 9) * sheet.profile.length
    shares = np.linspace(-1.0, 1.0, 9)[::-1]
    w = shares * sheet.half_width(u)
    deep = 7.0
    points = sheet.place(u, w, sheet.reference + deep)
    others = over.place(u, -w, over.reference - deep)
    apart, apart_over = (np.linalg.norm(row[:, None] - row[None], axis=2) for row in (points, others))
    # curves are integrated from end to end and back
    assert np.allclose(apart, apart_over, atol=1e-6)
    assert over.turned_over.lift == pytest.approx(sheet.lift, abs=1e-9)
    assert over.turned_over.shift == pytest.approx(0.0, abs=1e-9)
