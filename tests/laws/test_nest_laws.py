"""Nesting: nothing overlaps, all lies inside, cuts are kept, grain is kept, and a saw can cut every layout."""

from collections import Counter
from itertools import accumulate

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from underbag.app.read.layup_file import read_file, read_text
from underbag.export.cut_page import cut_page
from underbag.export.cuts import cuts
from underbag.export.document.html import write_html
from underbag.model.errors import LayupError
from underbag.model.layup.settle import settle
from underbag.model.nest.leaves import least_strips, strip_width
from underbag.model.nest.nesting import Nesting, nest
from underbag.model.nest.rectangles import Laid, Piece, Place
from underbag.model.nest.rolls import lay_on_roll
from underbag.model.nest.sheets import STEP, lay_on_sheets
from underbag.model.nest.solid_stock import solid_pieces
from underbag.model.nest.splits import split_of
from underbag.model.plan import plan
from underbag.model.report import report

LENGTH, WIDTH = 2440.0, 1220.0
sizes = st.floats(20.0, 1200.0).map(lambda size: round(size, 3))
pieces_of = st.lists(
    st.builds(
        Piece, mark=st.just("1"), name=st.just("part"), length=sizes, width=sizes, may_turn=st.booleans()
    ),
    min_size=1,
    max_size=9,
)


def box(place: Place) -> tuple[float, float, float, float]:
    return place.x, place.y, place.x + place.piece.length, place.y + place.piece.width


def gap(one: Place, other: Place) -> float:
    """Room between two pieces along the direction in which they are farther apart; below zero if they overlap."""
    (a0, b0, a1, b1), (c0, d0, c1, d1) = box(one), box(other)
    return max(c0 - a1, a0 - c1, d0 - b1, b0 - d1)


def can_be_sawn(places: list[Place], kerf: float) -> bool:
    """Whether cuts from edge to edge part all pieces: some straight cut meets none, and so on with both halves."""
    if len(places) <= 1:
        return True
    for axis in (0, 1):
        ordered = sorted(places, key=lambda place: box(place)[axis])
        for count in range(1, len(ordered)):
            first, rest = ordered[:count], ordered[count:]
            end = max(box(place)[axis + 2] for place in first)
            if min(box(place)[axis] for place in rest) - end >= kerf - 1e-6:
                return can_be_sawn(first, kerf) and can_be_sawn(rest, kerf)
    return False


def held(pieces: list[Piece], laid: tuple[Laid, ...], kerf: float, edge: float) -> None:
    """Hold a layout against everything that every layout has to keep."""
    for sheet in laid:
        for place in sheet.places:
            x0, y0, x1, y1 = box(place)
            assert min(x0, y0) >= edge - 1e-6
            assert x1 <= sheet.length - edge + 1e-6
            assert y1 <= sheet.width - edge + 1e-6
        for number, one in enumerate(sheet.places):
            assert all(gap(one, other) >= kerf - 1e-6 for other in sheet.places[:number])
        assert can_be_sawn(list(sheet.places), kerf)
    out = Counter(
        (one.length, one.width) for sheet in laid for one in (place.piece for place in sheet.places)
    )
    grained = Counter((one.length, one.width) for one in pieces if not one.may_turn)
    assert not grained - out, "a piece with grain was turned"
    assert Counter(tuple(sorted(size)) for size in out.elements()) == Counter(
        tuple(sorted((one.length, one.width))) for one in pieces
    )
    assert sum(sheet.used for sheet in laid) == pytest.approx(sum(one.area for one in pieces))
    assert all(sheet.places and 0.0 < sheet.yielded <= 1.0 for sheet in laid)


@settings(max_examples=20)
@given(pieces_of, st.sampled_from([0.0, 2.2, 3.2]), st.sampled_from([0.0, 5.0]))
def test_a_sheet_keeps_every_law(pieces: list[Piece], kerf: float, edge: float) -> None:
    laid = lay_on_sheets(pieces, LENGTH, WIDTH, kerf, edge)
    assert laid is not None
    held(pieces, laid, kerf, edge)
    assert len(laid) <= len(pieces)
    # never fewer than the area asks for
    assert len(laid) * LENGTH * WIDTH >= sum(one.area for one in pieces)


@settings(max_examples=25)
@given(pieces_of, st.sampled_from([1220.0, 1500.0]))
def test_a_roll_keeps_every_law(pieces: list[Piece], width: float) -> None:
    roll = lay_on_roll(pieces, width)
    assert roll is not None
    held(pieces, (roll,), 0.0, 0.0)
    # no longer than all pieces one behind the other
    assert roll.length <= sum(max(one.length, one.width) for one in pieces) + 1e-6


@settings(max_examples=15)
@given(pieces_of, st.integers(2, 3))
def test_more_pieces_take_no_fewer_sheets_than_their_area(pieces: list[Piece], times: int) -> None:
    laid = lay_on_sheets(pieces * times, LENGTH, WIDTH, 0.0, 0.0)
    assert laid is not None
    held(pieces * times, laid, 0.0, 0.0)


def test_what_fits_no_sheet_is_told_and_nothing_is_laid() -> None:
    long = Piece(mark="1", name="strip", length=1300.0, width=100.0)
    assert lay_on_sheets([long], 1220.0, 2440.0, 0.0, 0.0) is None
    turned = Piece(mark="1", name="strip", length=1300.0, width=100.0, may_turn=True)
    (sheet,) = lay_on_sheets([turned], 1220.0, 2440.0, 0.0, 0.0) or ()
    assert sheet.places[0].piece.width == 1300.0
    assert lay_on_sheets([], 1220.0, 2440.0, 0.0, 0.0) == ()
    assert lay_on_roll([Piece(mark="1", name="sheet", length=50.0, width=900.0)], 800.0) is None


def test_a_piece_as_large_as_the_room_within_the_edges_fits_and_a_step_more_does_not() -> None:
    just = Piece(mark="1", name="panel", length=LENGTH - 10.0, width=WIDTH - 10.0)
    assert lay_on_sheets([just], LENGTH, WIDTH, 3.2, 5.0) is not None
    over = Piece(mark="1", name="panel", length=LENGTH - 10.0 + 1.01 * STEP, width=WIDTH - 10.0)
    assert lay_on_sheets([over], LENGTH, WIDTH, 3.2, 5.0) is None


DEMOS = ("shelf", "drawer-front", "apron", "chessboard", "table-top")


@pytest.fixture(scope="module", params=DEMOS)
def nested(request: pytest.FixtureRequest) -> tuple[Nesting, ...]:
    return nest(plan(read_file(f"demos/{request.param}.toml").layup))


def test_every_demo_is_laid(nested: tuple[Nesting, ...]) -> None:
    for one in nested:
        held(list(one.need.pieces), one.sheets, one.need.kerf, one.need.edge)
        assert not one.too_large
        assert one.yielded == pytest.approx(one.used / one.area)


@pytest.mark.parametrize("demo", DEMOS)
def test_every_blank_of_board_veneer_and_roll_is_among_the_pieces(demo: str) -> None:
    job = plan(read_file(f"demos/{demo}.toml").layup)
    pieces = [piece for one in nest(job) for piece in one.need.pieces]
    for number, layer in enumerate(job.stack.layers, 1):
        own = [piece for piece in pieces if piece.mark == str(number)]
        if layer.role == "adhesive":
            assert own == []
        elif layer.role == "veneer":
            # strips side by side make the whole width, and what is planed off their edges
            joint = job.layup.stock.joint if len(own) > 1 else 0.0
            assert sum(piece.width - joint for piece in own) == pytest.approx(layer.blank.width)
            assert {piece.length for piece in own} == {layer.blank.length}
        else:
            assert [(piece.length, piece.width) for piece in own] == [
                (layer.blank.length, layer.blank.width)
            ] * layer.blank.quantity


def test_what_is_wider_than_every_roll_is_laid_of_strips_that_lap() -> None:
    job = plan(settle({"panel": {"length": 3400.0, "width": 1800.0}}))
    nested = nest(job)
    layer = next(one for one in job.stack.layers if one.key == "breather")
    (breather,) = (one for one in nested if one.need.material == "plastic netting")
    strips = breather.need.pieces
    # 1884 mm off rolls of 1500 mm: two strips, 25 mm of each on the other
    assert len(strips) == 2
    assert sum(piece.width for piece in strips) - 25.0 == pytest.approx(layer.blank.width)
    assert breather.need.sizes == ((0.0, 1000.0), (0.0, 1220.0), (0.0, 1500.0))
    # two strips of 954.5 mm go behind each other on the narrowest roll, which they fill best
    assert breather.sheets[0].width == 1000.0
    assert any("2 strips that lap by 25 mm" in note for note in breather.need.notes)


@pytest.mark.parametrize("demo", DEMOS)
def test_film_is_laid_as_the_bag_was_cut(demo: str) -> None:
    job = plan(read_file(f"demos/{demo}.toml").layup)
    film = [one for one in nest(job) for piece in one.need.pieces[:1] if piece.mark == "B"]
    if job.film is None:
        assert film == []
        return
    (laid,) = film[0].sheets
    assert laid.length == pytest.approx(job.film.rows * job.film.row)
    assert laid.width == job.film.roll
    assert job.film.layers * film[0].used == pytest.approx(job.film.film)


def test_grain_across_the_panel_runs_along_the_stock() -> None:
    job = plan(
        settle(
            {
                "panel": {"length": 900.0, "width": 400.0},
                "substrate": {"material": "birch plywood", "thickness": 9.0, "grain": "along width"},
                "face": {"grain": "along width"},
            }
        )
    )
    by_mark = {piece.mark: piece for one in nest(job) for piece in one.need.pieces}
    for number, layer in enumerate(job.stack.layers, 1):
        if layer.grain == "along width":
            assert by_mark[str(number)].length == layer.blank.width
            assert not by_mark[str(number)].may_turn


STOCK = """
[panel]
length = 600
width = 300
[stock]
board_length = 700
board_width = 500
kerf = 0
edge = 0
leaf_width = 330
release_roll = 400
"""


def test_stock_of_ones_own_goes_before_the_usual() -> None:
    nested = nest(plan(read_text(STOCK)))
    boards = [one for one in nested if one.need.kind == "board"]
    assert {(sheet.length, sheet.width) for one in boards for sheet in one.sheets} == {(700.0, 500.0)}
    (leaf,) = (one for one in nested if one.need.kind == "leaf")
    assert len(leaf.need.pieces) == 2
    release = next(one for one in nested if one.need.material == "waxed paper")
    assert release.sheets[0].width == 400.0
    assert {one.need.origin for one in (*boards, leaf, release)} == {"the layup file"}


def test_what_no_stock_takes_is_joined_and_named() -> None:
    job = plan(read_text(STOCK.replace("board_width = 500", "board_width = 350")))
    nested = nest(job)
    assert [piece.name for one in nested for piece in one.need.wholes] == ["platen"]
    assert [piece for one in nested for piece in one.too_large] == []
    (platen,) = (one for one in nested if one.need.wholes)
    outline = job.base.outline
    assert [(piece.length, piece.width) for piece in platen.need.pieces if piece.mark == "P"] == [
        (outline.length, 0.5 * outline.width)
    ] * 2


large = st.floats(300.0, 4000.0)


@given(large, large, st.floats(0.0, 20.0), st.sampled_from([1, 3]))
@settings(max_examples=25, deadline=None)
def test_pieces_make_up_the_sheet_and_come_out_of_the_stock(
    length: float, width: float, edge: float, laminations: int
) -> None:
    """Areas add up, a lap counted once; no joint of a lamination lies over one of its neighbour's."""
    job = plan(
        settle(
            {
                "panel": {"length": length, "width": width},
                "substrate": {"material": "birch plywood", "thickness": 6.0, "laminations": laminations},
                "stock": {"board_length": 900.0, "board_width": 700.0, "edge": edge, "release_roll": 400.0},
            }
        )
    )
    rooms = (900.0 - 2.0 * edge, 700.0 - 2.0 * edge)
    before: tuple[list[float], list[float]] = ([], [])
    for layer in job.stack.layers:
        split, blank = split_of(job, layer), layer.blank
        if layer.role == "release":
            strips = [(blank.length, blank.width)] if split is None else list(split.pieces)
            laps = 25.0 * (len(strips) - 1) * max(strips[0])
            assert sum(a * b for a, b in strips) - laps == pytest.approx(blank.length * blank.width)
            assert all(min(strip) <= 400.0 + 1e-9 for strip in strips)
        if layer.role != "substrate":
            continue
        pieces = [(blank.length, blank.width)] if split is None else list(split.pieces)
        assert sum(a * b for a, b in pieces) == pytest.approx(blank.length * blank.width)
        assert all(a <= rooms[0] + 1e-6 and b <= rooms[1] + 1e-6 for a, b in pieces)
        # column by column, each from edge to edge
        rows = list(accumulate(b for _, b in pieces))
        rows = rows[: 1 + next(n for n, row in enumerate(rows) if row > blank.width - 1e-6)]
        columns = list(accumulate(a for a, _ in pieces[:: len(rows)]))
        for mine, theirs in zip((columns[:-1], rows[:-1]), before, strict=True):
            assert all(abs(a - b) > 1.0 for a in mine for b in theirs)
        before = (columns[:-1], rows[:-1])


def test_leaves_that_are_too_short_butt() -> None:
    job = plan(settle({"panel": {"length": 3000.0, "width": 300.0}, "stock": {"leaf_length": 2500.0}}))
    leaves = [one.need for one in nest(job) if one.need.kind == "leaf"]
    for need in leaves:
        layer = job.stack.layers[int(need.pieces[0].mark) - 1]
        assert {piece.length for piece in need.pieces} == {0.5 * layer.blank.length}
        assert any("2 lengths butt" in note for note in need.notes)
    assert leaves


def test_the_cut_list_tells_the_pieces() -> None:
    job = plan(settle({"panel": {"length": 3200.0, "width": 1700.0}, "caul": {"material": "birch plywood"}}))
    rows = list(cuts(job))
    for number, layer in enumerate(job.stack.layers, 1):
        split, own = split_of(job, layer), [row for row in rows if row.number == str(number)]
        if split is None:
            continue
        told = Counter({(row.length, row.width): row.pieces for row in own})
        assert told == Counter(split.pieces * layer.blank.quantity)
        assert all(split.note in row.note for row in own)
    assert {layer.role for layer in job.stack.layers if split_of(job, layer)} == {
        "release",
        "substrate",
        "absorbent",
        "caul",
        "breather",
    }


def test_lippings_and_solid_cores_are_listed_and_not_laid_out() -> None:
    job = plan(
        settle(
            {
                "panel": {"length": 600.0, "width": 300.0},
                "substrate": {"material": "hard maple", "thickness": 18.0},
                "lipping": {"material": "black walnut", "width": 8.0},
            }
        )
    )
    core = next(layer for layer in job.stack.layers if layer.role == "substrate")
    told = [(one.name, one.pieces, one.length, one.width, one.thickness) for one in solid_pieces(job)]
    assert told == [
        (core.name, 1, core.blank.length, core.blank.width, 18.0),
        ("lipping along the length", 2, core.outline.length, 8.0, 18.0),
        ("lipping along the width", 2, core.blank.width, 8.0, 18.0),
    ]
    assert core.name not in {piece.name for one in nest(job) for piece in one.need.pieces}
    page = write_html(cut_page(job, report(job), nest(job))).decode()
    assert "Cut from solid stock, not nested" in page


@pytest.mark.parametrize(
    ("stock", "key"),
    [
        ({"board_length": 900.0}, "stock.board_width"),
        ({"board_width": 900.0}, "stock.board_length"),
        ({"board_length": 900.0, "board_width": 300.0, "edge": 150.0}, "stock.edge"),
    ],
)
def test_stock_that_cannot_be_is_refused(stock: dict[str, float], key: str) -> None:
    with pytest.raises(LayupError) as error:
        settle({"panel": {"length": 600.0, "width": 300.0}, "stock": stock})
    assert error.value.key == key


@settings(max_examples=25)
@given(st.floats(50.0, 3000.0), st.floats(100.0, 400.0), st.floats(0.0, 10.0))
def test_strips_make_the_sheet_and_fit_their_leaves(b: float, w: float, j: float) -> None:
    n = int(least_strips(b=b, w=w, j=j))
    assert n * (strip_width(b=b, n=n, j=j) - j) == pytest.approx(b)
    assert strip_width(b=b, n=n, j=j) <= w * (1 + 1e-6)
    assert n == 1 or strip_width(b=b, n=n - 1, j=j) > w * (1 - 1e-6)


def test_a_whirl_of_four_cannot_be_sawn() -> None:
    # four strips around a hole: every straight cut from edge to edge meets one of them
    whirl = [(0, 0, 20, 10), (20, 0, 10, 20), (10, 20, 20, 10), (0, 10, 10, 20)]
    places = [Place(piece=Piece(mark="1", name="strip", length=a, width=b), x=x, y=y) for x, y, a, b in whirl]
    assert not can_be_sawn(places, 0.0)
    assert can_be_sawn(places[:3], 0.0)
