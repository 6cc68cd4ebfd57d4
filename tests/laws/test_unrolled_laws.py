"""Edges laid flat: areas against the sheet's own integral, and every kind of outline as loops."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon

from underbag.model.shape.curve import CurvePiece, ParabolaCourse
from underbag.model.shape.loop import FINE, Loop, circle, rectangle
from underbag.model.shape.outline import Outline, Oval, Rectangle, RoundedRectangle
from underbag.model.shape.profile import Profile, Run, arc_profile, flat_profile
from underbag.model.shape.sheet import Sheet
from underbag.model.shape.unrolled import unrolled

OUTLINES: dict[str, Outline] = {
    "rectangle": Rectangle(600.0, 400.0),
    "rounded": RoundedRectangle(600.0, 400.0, 80.0),
    "half round ends": RoundedRectangle(600.0, 400.0, 200.0),
    "oval": Oval(600.0, 400.0),
    "grown oval": Oval(600.0, 400.0, 30.0),
    "tall oval": Oval(200.0, 500.0),
}


@pytest.mark.parametrize("name", OUTLINES)
def test_the_edge_of_an_outline_encloses_its_area(name: str) -> None:
    outline = OUTLINES[name]
    (edge,) = outline.loops
    # lines and arcs are exact; chords of an oval leave out less than their tolerance along the whole edge
    assert edge.area == pytest.approx(outline.area, abs=FINE * outline.perimeter)
    assert edge.area > 0.0, "anticlockwise"
    assert edge.length == pytest.approx(outline.perimeter, rel=1e-4)
    low, high = edge.box
    assert (*low, *high) == pytest.approx(
        (-0.5 * outline.length, -0.5 * outline.width, 0.5 * outline.length, 0.5 * outline.width), abs=0.011
    )


def test_corners_of_a_rounded_rectangle_are_true_arcs() -> None:
    (edge,) = RoundedRectangle(600.0, 400.0, 80.0).loops
    assert edge.area == pytest.approx(600.0 * 400.0 - (4.0 - math.pi) * 80.0**2, rel=1e-14)
    assert sum(bulge > 0.0 for _, _, bulge in edge.corners) == 4


def test_a_flat_sheet_leaves_every_edge_as_it_is() -> None:
    edge = circle((30.0, 20.0), 100.0)
    assert unrolled(edge, Sheet(profile=flat_profile(500.0), reference=3.0), 20.0) == edge


def test_a_rectangle_stays_one_on_every_bend() -> None:
    sheet = Sheet(profile=arc_profile(600.0, 2.0), reference=0.0)
    # past its ends the sheet goes on straight: 650 mm along, 2 rad of turn at 25 mm
    flat = unrolled(rectangle((-325.0, -100.0), (325.0, 100.0)), sheet, 25.0)
    assert np.array(flat.corners) == pytest.approx(
        np.array(rectangle((-350.0, -100.0), (350.0, 100.0)).corners)
    )


PROFILES = {
    "arc": arc_profile(600.0, 2.0),
    "chain": Profile((Run(200.0, 0.0), Run(200.0, 1 / 150.0), Run(250.0, -1 / 200.0))),
    "parabola": Profile((CurvePiece(ParabolaCourse(500.0, 120.0)),)),
}


@pytest.mark.parametrize("name", PROFILES)
@given(
    height=st.floats(-20.0, 20.0),
    bulges=st.lists(st.sampled_from([-0.4, 0.0, 0.3, 1.0]), min_size=6, max_size=6),
)
@settings(max_examples=5)
def test_the_blank_has_the_area_of_the_layer(name: str, height: float, bulges: list[float]) -> None:
    """Area by the integral of the sheet's stretch over the outline, cut into thin strips across."""
    sheet = Sheet(profile=PROFILES[name], reference=0.0)
    angles = np.linspace(0.0, 2.0 * np.pi, 7)[:-1] + 0.1
    loop = Loop(
        tuple((250.0 * math.cos(a), 120.0 * math.sin(a), b) for a, b in zip(angles, bulges, strict=True))
    )
    points = loop.flattened(1e-3)
    # Green: the area on the unrolled sheet is the integral of −w over the developed places along the edge
    share = np.linspace(0.0, 1.0, 9)[:-1, None, None]
    dense = (points + share * (np.roll(points, -1, axis=0) - points)).transpose(1, 0, 2).reshape(-1, 2)
    x, w = sheet.developed(height, dense[:, 0]), dense[:, 1]
    area = float(np.sum(0.5 * (w + np.roll(w, -1)) * (x - np.roll(x, -1))))
    flat = unrolled(loop, sheet, height)
    assert flat.area == pytest.approx(area, abs=3.0 * FINE * loop.length)
    # chords stay within the tolerance of the edge, here within three times as much for what the sheet stretches
    here = Polygon(np.column_stack((x, w))).boundary
    there = Polygon(flat.flattened(1e-3)).boundary
    assert here.hausdorff_distance(there) < 3.0 * FINE
