"""Film off the roll: pieces that make the sheets, seams clear of the valve, and no film from nowhere."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import box, union_all

from underbag.export.drawing import Stroke
from underbag.export.sheets.bag_sheet import bag_sheet
from underbag.model.bag.film_cut import FilmCut
from underbag.model.bag.strips import rows_on_roll, seam_places, strip_count, strips
from underbag.model.layup.settle import settle
from underbag.model.plan import Plan, plan
from underbag.model.report import report

KINDS = ("tube", "joined sheets", "taped sheets", "sheet on board")
few = settings(max_examples=20, deadline=None)


def planned(length: float, width: float, **bag: object) -> Plan:
    return plan(settle({"panel": {"length": length, "width": width}, "bag": bag}))


def cut_of(made: Plan) -> FilmCut:
    assert made.film is not None
    return made.film


@given(st.floats(300.0, 9000.0), st.floats(400.0, 2000.0), st.floats(5.0, 40.0), st.floats(0.0, 1.0))
def test_strips_make_the_sheet_and_fit_the_roll(extent: float, roll: float, seam: float, at: float) -> None:
    made = strips(extent, roll, seam, at * extent, 100.0)
    assert len(made) == strip_count(b=extent, s=seam, R=roll)
    assert all(wide <= roll + 1e-6 for _, wide in made)
    assert all(wide >= min(100.0, extent) - 1e-6 for _, wide in made)
    assert made[0][0] == 0.0
    assert sum(wide for _, wide in made) == pytest.approx(extent + (len(made) - 1) * seam)
    for (start, wide), (after, _) in pairwise(made):
        assert start + wide - after == pytest.approx(seam)
    # one strip fewer does not reach
    assert (len(made) - 1) * (roll - seam) + seam < extent or len(made) == 1


@given(st.floats(1500.0, 6000.0), st.floats(400.0, 1400.0), st.floats(0.3, 0.7))
def test_no_other_first_strip_keeps_its_seams_farther_from_the_valve(
    extent: float, roll: float, at: float
) -> None:
    seam, least, valve = 12.0, 100.0, at * extent
    made = strips(extent, roll, seam, valve, least)
    clear = min(abs(place - valve) for place in seam_places(made, seam))
    count, pace = len(made), roll - seam
    shared = extent - (count - 1) * pace + roll
    for step in range(201):
        first = shared - roll + step / 200.0 * (2.0 * roll - shared)
        if min(first, shared - first) >= least:
            assert clear >= min(abs(first - 0.5 * seam + k * pace - valve) for k in range(count - 1)) - 1e-6


@given(st.lists(st.sampled_from([300.0, 500.0, 700.0, 1000.0]), min_size=1, max_size=6))
def test_pieces_side_by_side_take_no_less_than_their_width(widths: list[float]) -> None:
    rows = rows_on_roll(widths, 1000.0)
    assert sum(widths) / 1000.0 <= rows <= len(widths)


@few
@given(
    st.floats(150.0, 3000.0),
    st.floats(100.0, 1500.0),
    st.sampled_from(KINDS),
    st.sampled_from([None, 900.0, 1370.0]),
)
def test_pieces_cover_their_sheet_and_lap_by_a_seam(
    length: float, width: float, kind: str, roll: float | None
) -> None:
    made = planned(length, width, kind=kind, **({} if roll is None else {"roll": roll}))
    cut = cut_of(made)
    assert cut.taken >= cut.film - 1e-3
    for sheet in cut.sheets:
        # shapely is the outside referee
        laid = [
            box(p.from_closed_end, p.from_left, p.from_closed_end + p.length, p.from_left + p.width)
            for p in sheet.pieces
        ]
        whole = union_all(laid)
        assert whole.area == pytest.approx(sheet.length * sheet.width)
        assert whole.bounds == pytest.approx((0.0, 0.0, sheet.length, sheet.width))
        lap = sum(piece.area for piece in laid) - whole.area
        assert lap == pytest.approx(cut.seam * cut.row * len(sheet.joints), abs=1e-3)
    values = report(made).by_key()
    assert values["bag.film"].number == pytest.approx(cut.film)
    assert values["bag.taken"].number == pytest.approx(cut.taken)
    if not cut.is_tube:
        assert values["bag.strips"].number == cut.count


def test_a_tube_is_the_next_that_is_sold_and_what_is_left_is_told() -> None:
    made = planned(600.0, 300.0, kind="tube")
    needed = made.bag.needed_width
    assert made.bag.width == made.bag.tube == min(t for t in made.chosen.film.stock_tubes if t >= needed)
    assert planned(600.0, 300.0, kind="tube", roll=830.0).bag.width == 830.0
    # the valve keeps to the middle of the bag that is made
    assert 2.0 * made.valve.from_left_seam == made.bag.width


def test_where_no_tube_is_wide_enough_sheets_are_joined() -> None:
    made = planned(2000.0, 1500.0, kind="tube")
    cut = cut_of(made)
    assert not cut.is_tube
    assert len(cut.sheets) == 2
    assert cut.sheets[0].width == pytest.approx(made.bag.needed_width + 2.0 * made.bag.seam)


def test_film_and_tape_of_each_kind_by_hand() -> None:
    # derived: closed kinds have a seam at one end, and joined sheets at both sides; sheets taped or sealed down are
    # taped all round, anew for each pressing
    for kind, count, seams, tape in (
        ("tube", 2, lambda a, b: b, lambda a, b: b),
        ("joined sheets", 2, lambda a, b: 2 * a + b, lambda a, b: b),
        ("taped sheets", 2, lambda a, b: 0.0, lambda a, b: 2 * (a + b)),
        ("sheet on board", 1, lambda a, b: 0.0, lambda a, b: 2 * (a + b)),
    ):
        made = planned(500.0, 200.0, kind=kind, seam=20.0, closed_by="tape")
        a, b = made.bag.length, made.bag.width
        long = a + (20.0 if kind in ("tube", "joined sheets") else 40.0)
        wide = b if kind == "tube" else b + 40.0
        values = report(made).by_key()
        assert values["bag.film"].number == pytest.approx(count * long * wide)
        assert values["bag.seams"].number == pytest.approx(seams(a, b))
        assert values["bag.tape"].number == pytest.approx(1.1 * tape(a, b))
        # PVC of 1.25 g/cm³, half a millimetre: 625 g a square metre
        assert values["bag.mass"].number == pytest.approx(625.0 * count * long * wide / 1e6)


def test_what_each_closure_takes_off_the_length() -> None:
    lengths = {
        way: planned(600.0, 300.0, closed_by=way) for way in ("tape", "fold and clamp", "bar in a channel")
    }
    # common practice: 150 to 300 mm for fold and clamp; tape and a bar take less
    assert lengths["fold and clamp"].layup.bag.closure == 200.0
    assert lengths["tape"].layup.bag.closure < lengths["bar in a channel"].layup.bag.closure < 150.0
    for made in lengths.values():
        assert made.bag.length_terms[-1].amount == made.layup.bag.closure
        assert report(made).value("bag.closure").number == made.layup.bag.closure
    given_one = planned(600.0, 300.0, closure=170.0)
    assert given_one.bag.length_terms[-1].amount == 170.0
    assert "bag.closure" not in report(given_one).by_key()


def test_the_board_reaches_past_clearance_and_seam() -> None:
    made = planned(600.0, 300.0, kind="sheet on board", side_clearance=80.0, seam=15.0)
    values = report(made).by_key()
    # platen 40 mm past the panel on every side
    assert values["bag.board_length"].number == pytest.approx(600.0 + 80.0 + 2 * 95.0)
    assert values["bag.board_width"].number == pytest.approx(300.0 + 80.0 + 2 * 95.0)


def test_a_bag_that_is_owned_is_not_cut() -> None:
    owned = {"width": 900.0, "length": 1500.0}
    made = plan(settle({"panel": {"length": 600.0, "width": 300.0}, "bag": owned}))
    assert made.film is None
    # two thicknesses of 900 × 1500 with a seam at the closed end
    assert report(made).value("bag.mass").number == pytest.approx(625.0 * 2 * 0.9 * 1.512)


def test_the_sheet_of_the_bag_shows_every_lap_inside_of_its_film() -> None:
    made = planned(2400.0, 1200.0, kind="taped sheets", roll=900.0)
    cut = cut_of(made)
    (view,) = bag_sheet(made, report(made)).views
    laps = [item.curve for item in view.items if isinstance(item, Stroke) and item.part == "lap"]
    assert len(laps) == 2 * len(cut.sheets[0].joints) > 0
    # the view begins inside of the seams
    places = sorted(lap.start[1] + cut.seam for lap in laps)
    assert places == pytest.approx(
        sorted(joint + half for joint in cut.sheets[0].joints for half in (-6.0, 6.0))
    )


def test_an_owned_tube_has_no_side_seams() -> None:
    owned = {"width": 900.0, "length": 1500.0}
    made = plan(settle({"panel": {"length": 600.0, "width": 300.0}, "bag": owned}))
    assert (made.bag.film_width, made.bag.film_length) == (900.0, 1512.0)
