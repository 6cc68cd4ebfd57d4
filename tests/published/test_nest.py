"""Nesting held against printed bounds and instances, and against layouts that are worked out by hand."""

import numpy as np
import pytest

from underbag.model.nest.rectangles import Piece
from underbag.model.nest.rolls import lay_on_roll
from underbag.model.nest.sheets import lay_on_sheets


def piece(length: float, width: float, may_turn: bool = False) -> Piece:
    return Piece(mark="1", name="part", length=length, width=width, may_turn=may_turn)


# Beasley, "Algorithms for unconstrained two-dimensional guillotine cutting", J. Oper. Res. Soc. 36 (1985), first
# instance, as the OR-Library prints it: a stock of 250 × 250 and ten pieces.
GCUT1 = [
    (167, 184), (114, 118), (167, 152), (83, 140), (70, 86), (143, 166), (120, 160), (66, 148), (87, 141), (69, 165),
]  # fmt: skip


def test_the_first_instance_of_beasley_takes_no_more_sheets_than_in_print() -> None:
    laid = lay_on_sheets([piece(*size) for size in GCUT1], 250.0, 250.0, 0.0, 0.0)
    assert laid is not None
    # four of the pieces go with none of the other three on one sheet: neither side by side nor one above the other
    four = [(167, 184), (167, 152), (143, 166), (120, 160)]
    assert all(a[k] + b[k] > 250 for a in four for b in four if a != b for k in (0, 1))
    # Martello and Vigo, Management Science 44 (1998), 388-399, give 5 sheets for it (from memory)
    assert 4 <= len(laid) <= 5


def test_eight_halves_of_half_a_sheet_by_hand() -> None:
    # a sheet of 2440 × 1220 holds eight squares of 610 with a knife; a saw of 3.2 leaves room for 3 beside each other
    # (2443.2 / 613.2 = 3.98) in one row (1223.2 / 613.2 = 1.99): eight squares take three sheets
    squares = [piece(610.0, 610.0)] * 8
    (whole,) = lay_on_sheets(squares, 2440.0, 1220.0, 0.0, 0.0) or ()
    assert whole.yielded == pytest.approx(1.0)
    sawn = lay_on_sheets(squares, 2440.0, 1220.0, 3.2, 0.0)
    assert sawn is not None
    assert [len(sheet.places) for sheet in sawn] == [3, 3, 2]


def test_a_two_part_case_by_hand_with_and_without_grain() -> None:
    # 800 × 1200 lies across a sheet of 2440 × 1220 three times (2400 of 2440), lengthwise once for each 1200 (twice)
    free = lay_on_sheets([piece(1200.0, 800.0, may_turn=True)] * 3, 2440.0, 1220.0, 0.0, 0.0)
    grained = lay_on_sheets([piece(1200.0, 800.0)] * 3, 2440.0, 1220.0, 0.0, 0.0)
    assert free is not None
    assert grained is not None
    assert (len(free), len(grained)) == (1, 2)


@pytest.mark.parametrize("seed", range(8))
def test_a_roll_keeps_the_printed_bound_of_its_rule(seed: int) -> None:
    # Coffman, Garey, Johnson, Tarjan, SIAM J. Comput. 9 (1980), 808-826: first fit by falling height takes no more
    # than 1.7 times the least length and the height of one piece (from memory). A roll that was cut to pieces at
    # random, edge to edge, is known to take no more than the length that it had.
    chance = np.random.default_rng(seed)
    length, width = 3000.0, 1000.0
    whole = [(length, width)]
    while len(whole) < 14:
        whole.sort(key=lambda size: size[0] * size[1])
        a, b = whole.pop()
        share = chance.uniform(0.2, 0.8)
        whole += [(share * a, b), ((1 - share) * a, b)] if a > b else [(a, share * b), (a, (1 - share) * b)]
    roll = lay_on_roll([piece(*size) for size in whole], width)
    assert roll is not None
    assert length * (1 - 1e-9) <= roll.length <= 1.7 * length + max(a for a, _ in whole)
    assert roll.used == pytest.approx(length * width)


@pytest.mark.parametrize("seed", range(6))
def test_sheets_keep_within_four_times_the_area_bound(seed: int) -> None:
    # Martello and Vigo (1998): the sum of areas over that of a sheet, rounded up, is never less than a quarter of the
    # least number of sheets (from memory); what is found here must not do worse than that either
    chance = np.random.default_rng(seed)
    made = [piece(*chance.uniform(30.0, 240.0, 2)) for _ in range(12)]
    laid = lay_on_sheets(made, 250.0, 250.0, 0.0, 0.0)
    assert laid is not None
    bound = -(-sum(one.area for one in made) // 250.0**2)
    assert bound <= len(laid) <= 4 * bound
