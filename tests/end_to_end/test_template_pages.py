"""Full-size templates as pdfplumber reads them back: the bars measure right, and the pages together are the outline."""

import io
import math
from functools import cache
from itertools import pairwise
from typing import Any

import numpy as np
import pdfplumber
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, MultiLineString, Point, box

from underbag.export.template_pages import template_pages, templates_pdf, window_of
from underbag.export.tiles import OVERLAP, clipped, tiling
from underbag.model.layup.settle import settle
from underbag.model.plan import Plan, plan
from underbag.model.template import Template, templates

MM = 25.4 / 72.0
CUT_WIDTH = 0.5
"""Width of the line that is cut, by which it is told from all others."""

JOBS: dict[str, Any] = {
    "stack": {"panel": {"width": 150.0}, "bend": {"chord": 600.0, "rise": 60.0}},
    "letter": {
        "panel": {"width": 95.0},
        "bend": {"radius": 340.0, "angle": math.pi, "show_face": "inside"},
        "form": {"build": "ribs"},
        "drawing": {"paper": "North American"},
    },
    "oval": {"panel": {"length": 420.0, "width": 300.0, "outline": "ellipse"}},
}


@cache
def planned(name: str) -> Plan:
    return plan(settle(JOBS[name], title="A bow front " * 8))


@cache
def pages(name: str) -> list[Any]:
    return list(pdfplumber.open(io.BytesIO(templates_pdf(planned(name)))).pages)


def curved(name: str) -> list[Template]:
    return [template for template in templates(planned(name)) if not template.is_squared]


def strokes(page: Any) -> list[tuple[float, list[tuple[float, float]]]]:
    """Width, and points from the lower left corner, of every stroked path of a page; mm."""
    found = []
    for item in (*page.lines, *page.curves, *page.rects):
        points = [(x * MM, (float(page.height) - y) * MM) for x, y in item["pts"]]
        found.append((float(item["linewidth"]) * MM, points))
    return found


@pytest.mark.parametrize(("name", "size"), [("stack", (210.0, 297.0)), ("letter", (215.9, 279.4))])
def test_pages_are_those_of_a_house_printer(name: str, size: tuple[float, float]) -> None:
    for page in pages(name):
        assert (float(page.width) * MM, float(page.height) * MM) == pytest.approx(size, abs=0.01)
        inner = box(9.9, 9.9, size[0] - 9.9, size[1] - 9.9)
        for _, points in strokes(page):
            assert inner.contains(LineString(points))
        for word in page.extract_words():
            assert inner.contains(Point(word["x0"] * MM, word["top"] * MM))
            assert inner.contains(Point(word["x1"] * MM, word["bottom"] * MM))


@pytest.mark.parametrize("name", JOBS)
def test_every_page_has_bars_of_100_mm_and_4_in(name: str) -> None:
    for page in pages(name):
        level = [
            abs(points[-1][0] - points[0][0])
            for _, points in strokes(page)
            if len(points) == 2 and abs(points[0][1] - points[1][1]) < 1e-6 and points[0][1] < 32.0
        ]
        assert any(length == pytest.approx(100.0, abs=0.001) for length in level)
        assert any(length == pytest.approx(101.6, abs=0.001) for length in level)
        assert "100 mm" in page.extract_text()
        assert "4 in" in page.extract_text()


@pytest.mark.parametrize("name", JOBS)
def test_the_pages_together_are_the_outline(name: str) -> None:
    """Every line that is cut lies on the outline, and all of the outline lies on some page."""
    window = window_of(template_pages(planned(name))[0].paper)
    left = list(pages(name))
    for template in curved(name):
        found = tiling(template, (window.width, window.height))
        rings = [loop.flattened(1e-3) for loop in (template.outline, *template.holes)]
        true = MultiLineString([np.vstack((ring, ring[:1])) for ring in rings])
        read = []
        for tile, page in zip(found.tiles, left, strict=False):
            for width, points in strokes(page):
                if width == pytest.approx(CUT_WIDTH, abs=1e-3):
                    place = [
                        (x - window.low[0] + tile.low[0], y - window.low[1] + tile.low[1]) for x, y in points
                    ]
                    read.append(LineString([(y, -x) for x, y in place] if found.is_turned else place))
        whole = MultiLineString(read)
        # lines lie within 0.01 mm, and a page tells places to a few thousandths
        assert true.difference(whole.buffer(0.03)).length == 0.0
        assert whole.difference(true.buffer(0.03)).length == 0.0
        left = left[len(found.tiles) :]
    assert left == []


def test_neighbours_share_their_overlap_and_its_crosses() -> None:
    window = window_of(template_pages(planned("stack"))[0].paper)
    (template,) = curved("stack")
    found = tiling(template, (window.width, window.height))
    assert len(found.tiles) > 1
    crosses = []
    for tile, page in zip(found.tiles, pages("stack"), strict=True):
        marks = [
            (
                0.5 * (points[0][0] + points[1][0]) - window.low[0] + tile.low[0],
                0.5 * (points[0][1] + points[1][1]) - window.low[1] + tile.low[1],
            )
            for width, points in strokes(page)
            if width == pytest.approx(0.35, abs=1e-3)
        ]
        crosses.append({(round(x, 2), round(y, 2)) for x, y in marks})
    for a, b, one, other in zip(found.tiles, found.tiles[1:], crosses, crosses[1:], strict=False):
        step = (b.low[0] - a.low[0]) + (b.low[1] - a.low[1])
        assert step in (
            pytest.approx(window.width - OVERLAP),
            pytest.approx(window.height - OVERLAP),
        )
        # two crosses of two lines each, in the same places of the outline
        assert len(one & other) == 2


def test_no_template_is_made_where_a_square_does() -> None:
    assert template_pages(plan(settle({"panel": {"length": 420.0, "width": 300.0}}))) == ()


@given(
    st.lists(st.tuples(st.floats(-20.0, 30.0), st.floats(-20.0, 30.0)), min_size=2, max_size=8, unique=True)
)
@settings(max_examples=25)
def test_clipping_keeps_what_shapely_keeps(corners: list[tuple[float, float]]) -> None:
    pieces = clipped(np.array(corners), np.array([0.0, 0.0]), np.array([10.0, 8.0]))
    kept = sum(LineString(piece).length for piece in pieces)
    lines = [LineString(pair) for pair in pairwise(corners)]
    wanted = sum(line.intersection(box(0.0, 0.0, 10.0, 8.0)).length for line in lines)
    assert kept == pytest.approx(wanted, abs=1e-6)
