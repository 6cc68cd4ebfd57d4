"""The map of the air: what it shows is what was found, and it reads without colour."""

import re
from itertools import pairwise

import numpy as np
import pytest
from shapely import Polygon

from underbag.export.air_map import air_picture, air_view, air_views, levels_for, outline
from underbag.export.air_shapes import band_colours
from underbag.export.document.svg_read import Label, read_svg
from underbag.model.air_answer import AirAnswer, answer_air
from underbag.model.layup.settle import settle
from underbag.model.plan import plan
from underbag.model.report import report


def answered(within: float, **sections: dict[str, object]) -> AirAnswer:
    asked = {"panel": {"length": 700.0, "width": 420.0}, "breather": {"material": "felt"}} | sections
    made = plan(settle(asked, overrides=[("felt", "permeability", 2e-5)]))
    found = answer_air(made, report(made), within, None)
    assert found is not None
    return found


@pytest.fixture(scope="module")
def beside() -> AirAnswer:
    """A poor breather and a valve beside the work."""
    return answered(600.0, caul={"material": "none"})


def test_the_edge_of_the_map_is_that_of_breather_and_tail(beside: AirAnswer) -> None:
    grid = beside.first.grid
    (edge,) = outline(beside.first)
    assert Polygon(edge).area == pytest.approx(grid.breather.inside.sum() * grid.breather.cell**2)
    # eight corners: a rectangle and a tail
    assert len(edge) == 8


def test_lines_carry_their_times_and_the_picture_is_made_of_what_papers_can_print(
    beside: AirAnswer,
) -> None:
    times = beside.first.map.reached
    levels = levels_for(times)
    assert 3 <= len(levels) <= 8
    assert np.nanmin(times) < levels[0]
    assert levels[-1] < np.nanmax(times)
    view = air_view(beside, beside.first)
    said = {mark.text for mark in read_svg(view.svg).marks if isinstance(mark, Label)}
    on_lines = {f"{level:g}" for level in levels} & said
    # next to the valve there may be no room on the lines; the key tells all of them
    assert len(on_lines) >= len(levels) / 2
    for low, high in pairwise(levels):
        assert f"{low:g} to {high:g} s" in said
    assert {"closed end", "open end", "valve", "drawn down last"} <= said


def test_bands_grow_darker_one_by_one() -> None:
    for count in range(2, 9):
        colours = [[int(one[at : at + 2], 16) / 255 for at in (1, 3, 5)] for one in band_colours(count)]
        # relative luminance by the standard for contrast on screens (WCAG 2, from memory)
        linear = [
            [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in one]
            for one in colours
        ]
        light = [0.2126 * r + 0.7152 * g + 0.0722 * b for r, g, b in linear]
        assert all(one + 0.05 > 1.12 * (other + 0.05) for one, other in pairwise(light))


def test_the_valve_stands_where_the_ruler_says(beside: AirAnswer) -> None:
    u, v = beside.on_flat_bag(beside.first.spots[0])
    assert (u, v) == pytest.approx((beside.plan.valve.from_closed_end, beside.plan.valve.from_left_seam))
    svg = air_view(beside, beside.first).svg
    # middle of the ring, in a drawing of 480 units with a margin of 6, four steps a unit
    ring = next(re.finditer(r'<path d="M([^"]*)z" fill="#ffffff" stroke="#111111"', svg)).group(1)
    points = np.array([[float(x) for x in pair.split()] for pair in ring.split("L")]) / 4.0
    scale = 468.0 / beside.plan.bag.length
    assert points[:, 0].mean() == pytest.approx(6.0 + scale * u, abs=0.3)


def test_more_valves_have_a_map_of_their_own() -> None:
    one = answered(600.0)
    fast = answered(0.5 * (one.first.slowest + one.pumping.alone))
    assert fast.enough is not None
    assert fast.strips is not None
    assert [view.name for view in air_views(fast)] == [
        "Air to one valve",
        f"Air to {len(fast.enough.spots)} valves",
        "Air to one valve, with strips of netting",
    ]
    assert air_views(one)[0] == air_view(one, one.first)


def test_the_same_layup_gives_the_same_picture(beside: AirAnswer) -> None:
    assert air_picture(beside) == air_picture(answered(600.0, caul={"material": "none"}))
    assert air_picture(beside).startswith(b"<svg xmlns=")
