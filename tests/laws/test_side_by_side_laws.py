"""Several panels in one bag: against every way to lay them, and against the bag of one."""

from itertools import combinations, pairwise, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import box

from underbag.model.bag.fit import fit
from underbag.model.bag.needs import make_of
from underbag.model.bag.side_by_side import MOST, Arrangement, arrangements
from underbag.model.data.bench import usual
from underbag.model.errors import LayupError
from underbag.model.layup.settle import settle
from underbag.model.plan import Plan, plan
from underbag.model.report import report
from underbag.model.together import Together, together

SIDES = st.tuples(st.integers(1, 12), st.integers(1, 12)).map(lambda pair: (100.0 * pair[0], 100.0 * pair[1]))
GAP = 50.0


def longest_path(sides: list[float], before: list[tuple[int, int]], gap: float) -> float:
    """Length of panels of which some have to lie before others."""
    start = [0.0] * len(sides)
    for _ in sides:
        for one, other in before:
            start[other] = max(start[other], start[one] + sides[one] + gap)
    if any(start[other] < start[one] + sides[one] + gap for one, other in before):
        return float("inf")
    return max(at + side for at, side in zip(start, sides, strict=True))


def brute_area(panels: list[tuple[float, float]], gap: float) -> float:
    """Least area of all layouts: each pair lies before, behind, left or right of the other."""
    pairs = list(combinations(range(len(panels)), 2))
    least = float("inf")
    for turns in product((False, True), repeat=len(panels)):
        laid = [(b, a) if turn else (a, b) for (a, b), turn in zip(panels, turns, strict=True)]
        for relation in product(range(4), repeat=len(pairs)):
            along = [
                (pair if r == 0 else pair[::-1]) for pair, r in zip(pairs, relation, strict=True) if r < 2
            ]
            across = [
                (pair if r == 2 else pair[::-1]) for pair, r in zip(pairs, relation, strict=True) if r >= 2
            ]
            length = longest_path([a for a, _ in laid], along, gap)
            if length < least:
                least = min(least, length * longest_path([b for _, b in laid], across, gap))
    return least


def demand_apart(one: Arrangement, panels: list[tuple[float, float]], gap: float) -> None:
    whole = box(0.0, 0.0, one.length, one.width).buffer(1e-6)
    laid = [
        box(spot.along, spot.across, spot.along + spot.length, spot.across + spot.width) for spot in one.spots
    ]
    assert [spot.panel for spot in one.spots] == list(range(len(panels)))
    for spot, (a, b) in zip(one.spots, panels, strict=True):
        assert (spot.length, spot.width) == ((b, a) if spot.turned else (a, b))
    assert all(whole.contains(rectangle) for rectangle in laid)
    for first, second in combinations(one.spots, 2):
        aside = max(
            second.along - first.along - first.length,
            first.along - second.along - second.length,
            second.across - first.across - first.width,
            first.across - second.across - second.width,
        )
        assert aside >= gap - 1e-6


@settings(max_examples=12, deadline=None)
@given(st.lists(SIDES, min_size=1, max_size=3))
def test_no_layout_of_three_takes_less(panels: list[tuple[float, float]]) -> None:
    found = arrangements(tuple(panels), GAP)
    assert min(one.length * one.width for one in found) == pytest.approx(brute_area(panels, GAP))


@settings(max_examples=15, deadline=None)
@given(st.lists(SIDES, min_size=1, max_size=4), st.sampled_from([0.0, 75.0]))
def test_panels_keep_apart_and_within(panels: list[tuple[float, float]], gap: float) -> None:
    found = arrangements(tuple(panels), gap)
    for one in found:
        demand_apart(one, panels, gap)
    # none beats another, and every layout turned by a right angle is there too
    for one, other in pairwise(found):
        assert one.length < other.length
        assert one.width > other.width
    assert [one.length for one in found] == pytest.approx([one.width for one in reversed(found)])


def test_more_panels_than_can_be_laid_are_refused() -> None:
    with pytest.raises(LayupError, match="8 at the most"):
        arrangements(((500.0, 300.0),) * (MOST + 1), GAP)


def planned(length: float, width: float, **bag: object) -> Plan:
    return plan(settle({"panel": {"length": length, "width": width}, "bag": {"kind": "joined sheets"} | bag}))


def laid(plans: list[Plan], owned: tuple[float, float] | None = None) -> Together:
    return together(tuple(plans), tuple(report(made) for made in plans), owned)


def test_one_panel_alone_has_its_own_bag() -> None:
    made = planned(600.0, 300.0)
    alone = laid([made])
    sides = sorted((alone.size.length_terms[0].amount, alone.size.width_terms[0].amount))
    assert sides == sorted((made.bag.length_terms[0].amount, made.bag.width_terms[0].amount))
    film = make_of(made.bag, "f").film_area
    assert film(alone.size.length, alone.size.width) <= film(made.bag.length, made.bag.width) + 1e-6
    wet = {value.key: value.number for value in alone.values}["together.wet"]
    own = report(made).value("time.wet").number
    # the bag alone may lie the other way round, and so be closed along its other side
    assert wet == pytest.approx(own, rel=0.05)


def test_every_panel_of_three_is_clear_of_seams_closure_and_of_each_other() -> None:
    plans = [planned(600.0, 300.0), planned(500.0, 400.0), planned(350.0, 350.0)]
    found = laid(plans)
    gap = next(value.number for value in found.values if value.key == "together.gap")
    assert gap == max(usual("panels.between"), *(made.along.height for made in plans))
    films = []
    for made, one in zip(plans, found.laid, strict=True):
        a, b = made.bag.length_terms[0].amount, made.bag.width_terms[0].amount
        a, b = (b, a) if one.turned else (a, b)
        u, v = one.from_closed_end, one.from_left_seam
        assert u - 0.5 * a >= 90.0 - 1e-6
        assert u + 0.5 * a <= found.size.length - 200.0 - 90.0 + 1e-6
        assert 90.0 - 1e-6 <= v - 0.5 * b
        assert v + 0.5 * b <= found.size.width - 90.0 + 1e-6
        films.append(box(u - 0.5 * a, v - 0.5 * b, u + 0.5 * a, v + 0.5 * b))
    assert all(one.distance(other) >= gap - 1e-6 for one, other in combinations(films, 2))
    # the valve sits on the middle of one of them
    assert (found.valve.from_closed_end, found.valve.from_left_seam) in {
        (one.from_closed_end, one.from_left_seam) for one in found.laid
    }


def test_a_bag_that_is_just_large_enough_holds_them_and_a_smaller_one_does_not() -> None:
    plans = [planned(600.0, 300.0), planned(600.0, 300.0)]
    size = laid(plans).size
    assert laid(plans, (size.needed_length, size.needed_width)).fits
    assert not laid(plans, (size.needed_length - 1.0, size.needed_width - 1.0)).fits
    # each alone fits that bag too
    held = fit(plans[0].layup, plans[0].bag, 0.0, size.needed_width, size.needed_length)
    assert held.best is not None


def test_work_with_wet_glue_adds_up() -> None:
    one, two = (
        {value.key: value.number for value in laid([planned(600.0, 300.0)] * n).values} for n in (1, 2)
    )
    own = report(planned(600.0, 300.0)).by_key()
    work = own["time.spreading"].number + own["time.laying"].number
    assert two["together.wet"] - one["together.wet"] > work
    assert two["together.spare"] == pytest.approx(own["time.open"].number - two["together.wet"])


def test_bags_of_two_kinds_are_refused() -> None:
    with pytest.raises(LayupError, match="one kind of bag"):
        laid([planned(600.0, 300.0), planned(600.0, 300.0, kind="tube")])
