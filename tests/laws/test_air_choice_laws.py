"""The valve's place and the map of the air: against other places, finer cells and the balance of air."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from underbag.model.bag.air import (
    SAME,
    Pumping,
    best_spot,
    block_edges,
    block_times,
    coarse_cell,
    drawn,
    fine_cell,
    long,
    valves_within,
    way_time,
)
from underbag.model.bag.air_strips import Netting, pattern, strips_within
from underbag.model.bag.ground import Ground, ground_of, places
from underbag.model.bag.lay import INSIDE_CAUL
from underbag.model.data.limits import limit
from underbag.model.layup.settle import settle
from underbag.model.plan import Plan, plan
from underbag.model.report import report

PUMPING = Pumping(outside=0.1013, final=0.0213, lowest=0.0113, flow=7e5, voids=1e6)


def planned(length: float, width: float, **sections: dict[str, object]) -> Plan:
    return plan(settle({"panel": {"length": length, "width": width}, **sections}))


def ground(made: Plan, **changed: float) -> Ground:
    layer = made.stack.find("breather")
    assert layer is not None
    assert made.chosen.breather is not None
    return replace(ground_of(made.layup, layer, made.chosen.breather, 0.0), **changed)


def spots_of(made: Plan, land: Ground, pitch: float) -> tuple[tuple[float, float], ...]:
    return places(made.layup, made.stack, made.bag, made.valve, land, pitch)


ON_CAUL = {"length": 900.0, "width": 500.0}
OVAL = {"length": 900.0, "width": 500.0, "panel": {"length": 900.0, "width": 500.0, "outline": "ellipse"}}
WITHOUT = {"length": 700.0, "width": 420.0, "caul": {"material": "none"}}


@pytest.mark.parametrize("case", [ON_CAUL, WITHOUT], ids=["caul", "tail"])
def test_no_place_of_two_hundred_is_better_than_the_one_chosen(case: dict) -> None:
    made = planned(**case)
    land = ground(made)
    cell = land.cell(max(land.length, land.width) / 14)
    spots = spots_of(made, land, cell)
    chosen = best_spot(land, spots, PUMPING, cell)
    patience = long(land, chosen, PUMPING)
    least = way_time(land, (chosen,), PUMPING, cell, patience)
    random = np.random.default_rng(5)
    drawn_lots = {spots[n] for n in random.integers(0, len(spots), 200).tolist()}
    # a place that is not there when the chosen one is done is no better
    worse = [way_time(land, (spot,), PUMPING, cell, least * (1.0 - SAME)) for spot in sorted(drawn_lots)]
    assert len(worse) > len(spots) / 2
    assert all(np.isinf(worse))


def test_the_middle_is_best_and_an_end_is_not() -> None:
    made = planned(**ON_CAUL)
    land = ground(made)
    cell = coarse_cell(land)
    spots = spots_of(made, land, cell)
    assert best_spot(land, spots, PUMPING, cell) == (0.0, 0.0)
    end = max(spots)
    patience = long(land, end, PUMPING)
    assert way_time(land, (end,), PUMPING, cell, patience) > 1.3 * way_time(
        land, ((0.0, 0.0),), PUMPING, cell, patience
    )


@pytest.mark.parametrize("case", [ON_CAUL, WITHOUT], ids=["caul", "tail"])
def test_finer_cells_move_the_time_by_less_than_a_twentieth(case: dict) -> None:
    made = planned(**case)
    land = ground(made)
    cell = fine_cell(land)
    spot = best_spot(land, spots_of(made, land, coarse_cell(land)), PUMPING, coarse_cell(land))
    patience = long(land, spot, PUMPING)
    way, finer = (way_time(land, (spot,), PUMPING, c, patience) for c in (cell, 0.5 * cell))
    assert way == pytest.approx(finer, rel=0.05)
    # with the pump as it is; a breather so poor that its way is most of the time
    poor = replace(land, permeability=land.permeability / 200.0)
    with_pump, finer = (drawn(poor, (spot,), PUMPING, c).slowest for c in (cell, 0.5 * cell))
    assert with_pump > 2.0 * PUMPING.alone
    assert with_pump == pytest.approx(finer, rel=0.05)


@pytest.mark.parametrize("case", [ON_CAUL, OVAL, WITHOUT], ids=["caul", "oval caul", "tail"])
def test_every_place_is_clear_of_edges_seams_and_closure(case: dict) -> None:
    made = planned(**case)
    land = ground(made)
    spots = spots_of(made, land, 20.0)
    assert len(spots) > 5
    caul = made.stack.find("caul")
    clear = made.layup.valve.clearance + land.radius - 1e-6
    for s, w in spots:
        u, v = made.valve.work_from_closed_end + s, made.valve.work_from_left_seam + w
        assert clear <= u <= made.bag.length - made.layup.bag.closure - clear
        assert clear <= v <= made.bag.width - clear
        if caul is None:
            assert s < -0.5 * land.length - land.radius
            assert abs(w) + 0.5 * land.tail <= 0.5 * land.width
        elif case is OVAL:
            # the base and its margin inside of the ellipse, all round; the caul is the core grown by 2 mm
            turn = np.linspace(0.0, 2.0 * np.pi, 73)
            room = INSIDE_CAUL + land.radius - 2.1
            x, y = s + room * np.cos(turn), w + room * np.sin(turn)
            assert ((x / 450.0) ** 2 + (y / 250.0) ** 2 <= 1.0 + 1e-3).all()
        else:
            assert abs(s) <= 0.5 * caul.outline.length - INSIDE_CAUL - land.radius + 1e-6
            assert abs(w) <= 0.5 * caul.outline.width - INSIDE_CAUL - land.radius + 1e-6


def test_a_valve_of_an_owned_bag_stays_where_it_is() -> None:
    made = planned(
        600.0,
        400.0,
        bag={"length": 1500.0, "width": 900.0},
        valve={"from_closed_end": 600.0, "from_left_seam": 400.0},
    )
    (spot,) = spots_of(made, ground(made), 20.0)
    assert made.valve.work_from_closed_end + spot[0] == pytest.approx(600.0)
    assert made.valve.work_from_left_seam + spot[1] == pytest.approx(400.0)


@pytest.mark.parametrize("cell", [15.0, 24.0, 31.0])
def test_cells_hold_the_air_of_breather_and_tail_whatever_their_size(cell: float) -> None:
    made = planned(**WITHOUT)
    land = ground(made)
    spot = (made.valve.from_closed_end - made.valve.work_from_closed_end, 0.0)
    breather = land.grid(cell, (spot,)).breather
    tail = -spot[0] + land.radius - 0.5 * land.length
    held = float(breather.storage[breather.inside].sum()) * cell**2
    # the end of the tail stops at a whole cell
    assert held == pytest.approx(
        land.storage * (land.length * land.width + land.tail * tail), abs=land.storage * land.tail * cell
    )


def test_the_map_loses_no_air_and_starts_at_the_valve() -> None:
    made = planned(**WITHOUT)
    land = ground(made)
    (spot, *_) = spots_of(made, land, 500.0)
    found = drawn(land, (spot,), PUMPING, fine_cell(land))
    assert found.map.imbalance < 0.01
    assert found.slowest >= PUMPING.alone
    assert np.hypot(found.last[0] - spot[0], found.last[1] - spot[1]) > 0.8 * land.length


def test_more_valves_are_asked_for_only_where_they_help() -> None:
    made = planned(2400.0, 900.0)
    poor = ground(made, permeability=2e-5)
    cell = coarse_cell(poor)
    spots = spots_of(made, poor, cell)
    first = drawn(poor, (best_spot(poor, spots, PUMPING, cell),), PUMPING, poor.cell(poor.radius))
    limit = first.slowest
    assert valves_within(poor, spots, PUMPING, cell, first, limit) is first
    more = valves_within(poor, spots, PUMPING, cell, first, 0.9 * limit)
    assert more is not None
    assert len(more.spots) > 1
    assert more.slowest <= 0.9 * limit
    # the pump alone takes longer: no number of valves does it
    assert valves_within(poor, spots, PUMPING, cell, first, 0.9 * PUMPING.alone) is None


def test_a_pump_of_the_flow_told_is_done_in_the_time_told() -> None:
    for time in (0.5, 5.0, 60.0):
        assert replace(PUMPING, flow=PUMPING.flow_within(time)).alone == pytest.approx(time)
    assert PUMPING.curve()(PUMPING.alone) == pytest.approx(PUMPING.target)
    assert PUMPING.curve()(1e6) == PUMPING.final


@pytest.mark.parametrize(("cells", "blocks"), [(7, 5), (40, 6), (3, 5), (11, 4)])
def test_blocks_cover_the_map_and_are_alike_on_both_sides(cells: int, blocks: int) -> None:
    edges = block_edges(cells, blocks)
    assert edges[0] == 0
    assert edges[-1] == cells
    assert all(a < b for a, b in pairwise(edges))
    if cells % 2 == 0 or blocks % 2:
        assert [cells - edge for edge in reversed(edges)] == edges
    times = np.arange(float(cells))[None, :]
    assert block_times(times, [0, 1], edges).ravel().tolist() == [edge - 1 for edge in edges[1:]]


TOP = {"length": 2400.0, "width": 1200.0}


def test_on_an_oversized_top_too_no_place_of_two_hundred_is_better_and_finer_cells_change_little() -> None:
    made = planned(**TOP)
    land = ground(made)
    cell = coarse_cell(land)
    spots = spots_of(made, land, cell)
    chosen = best_spot(land, spots, PUMPING, cell)
    least = way_time(land, (chosen,), PUMPING, cell, long(land, chosen, PUMPING))
    random = np.random.default_rng(11)
    # mirrored places are alike
    lots = {(abs(spots[n][0]), abs(spots[n][1])) for n in random.integers(0, len(spots), 200).tolist()}
    assert len(lots) > 30
    assert all(np.isinf(way_time(land, (spot,), PUMPING, cell, least * (1.0 - SAME))) for spot in lots)
    fine = fine_cell(land)
    patience = long(land, chosen, PUMPING)
    # cells of 24 mm against 36 mm; at 12 mm, which takes half a minute, the time is another 1.2 % shorter
    way, coarser = (way_time(land, (chosen,), PUMPING, c, patience) for c in (fine, 1.25 * fine))
    assert way == pytest.approx(coarser, rel=0.05)


@pytest.mark.parametrize("case", [ON_CAUL, WITHOUT, TOP], ids=["caul", "tail", "top"])
def test_the_quick_look_never_promises_too_much(case: dict) -> None:
    made = planned(**case)
    land = ground(made)
    facts = {value.key: value.number for value in report(made).values}
    spot = (made.valve.from_closed_end - made.valve.work_from_closed_end, 0.0)
    outside = facts["air.pressure"]
    pumping = replace(PUMPING, outside=outside, final=outside - made.layup.vacuum.gauge)
    land = replace(land, storage=land.storage + facts["air.paper"] / (land.length * land.width))
    exact = way_time(land, (spot,), pumping, fine_cell(land), long(land, spot, pumping))
    # it takes the farthest corner for a whole rim
    assert exact < facts["air.way"] < 2.5 * exact


def test_a_breather_is_open_enough_up_to_a_minute() -> None:
    asked = {"panel": {"length": 900.0, "width": 500.0}}
    usual = report(plan(settle(asked)))
    ratio = usual.value("air.way").number / limit("breather.way")
    permeability = 0.003 * ratio
    for factor, status in ((1.001, "ok"), (0.999, "caution")):
        made = plan(settle(asked, overrides=[("netting", "permeability", factor * permeability)]))
        (check,) = (check for check in report(made).checks if check.key == "breather.open")
        assert check.status == status


NETTING = Netting(width=120.0, permeability=3e-3, thickness=1.8, voids=0.8)


def test_strips_of_netting_add_what_they_let_through_and_the_fewest_are_taken() -> None:
    made = planned(1600.0, 700.0)
    poor = ground(made, permeability=1e-5)
    spot, cell = (0.0, 0.0), poor.cell(60.0)
    bare = drawn(poor, (spot,), PUMPING, cell)
    times = []
    for count in (1, 2, 3):
        strips = pattern(poor, spot, NETTING, count)
        assert len(strips) == count
        with_strips = replace(poor, strips=strips)
        grids = [land.grid(cell, (spot,)).breather for land in (poor, with_strips)]
        more = float((grids[1].conductance - grids[0].conductance)[grids[0].inside].sum()) * cell**2
        area = sum(NETTING.width * (poor.length if one.run == "along" else poor.width) for one in strips)
        # whole cells under the strip stand for its width
        assert more == pytest.approx(area * NETTING.permeability * NETTING.thickness, rel=0.02)
        times.append(drawn(with_strips, (spot,), PUMPING, cell).slowest)
    assert bare.slowest > times[0] > times[1] > times[2]
    for count, limit_of in ((1, times[0]), (2, times[1]), (3, times[2])):
        found = strips_within(poor, spot, PUMPING, cell, NETTING, limit_of * 1.0001)
        assert found is not None
        assert len(found.strips) == count
    # nothing is faster than the pump, and a strip of the same is none
    assert strips_within(poor, spot, PUMPING, cell, NETTING, 0.9 * PUMPING.alone) is None
    same = replace(NETTING, permeability=poor.permeability)
    assert strips_within(poor, spot, PUMPING, cell, same, times[0]) is None


def test_a_strip_stays_on_the_breather_with_its_whole_width() -> None:
    made = planned(**WITHOUT)
    land = ground(made)
    spot = (made.valve.from_closed_end - made.valve.work_from_closed_end, 0.0)
    for strip in pattern(land, spot, NETTING, 4):
        extent = land.width if strip.run == "along" else land.length
        assert abs(strip.at) + 0.5 * strip.width <= 0.5 * extent + 1e-9
