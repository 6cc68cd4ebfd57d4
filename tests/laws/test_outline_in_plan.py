"""Outlines given in plan: what is pressed covers the plumb cut at every height, the line to cut along, the limit of 60°.

Sizes of arcs are closed forms (textbook); shapely is the referee of areas.
"""

import math
import re
from typing import Any

import numpy as np
import pytest
from shapely import Polygon, distance, points
from shapely.geometry import LinearRing

from underbag.app.examine import examine
from underbag.model.errors import LayupError, ShapeError
from underbag.model.layup.settle import settle
from underbag.model.plan import Plan, plan
from underbag.model.shape.profile import Floats, Run
from underbag.model.shape.sheet import Sheet
from underbag.model.template import templates

Asked = dict[str, dict[str, Any]]
CLOSE = 0.02
"""Edges keep within 0.005 mm on the sheet; chords and the heights in between that are looked at take the rest, mm."""

CHAIN = (Run(60.0, 0.0), Run(120.0, 1.0 / 150.0), Run(110.0, -1.0 / 140.0), Run(50.0, 0.0))
BENDS: dict[str, dict[str, Any]] = {
    "arc": {"chord": 320.0, "rise": 60.0},
    "hollow": {"chord": 320.0, "rise": 60.0, "show_face": "inside"},
    "chain": {"chain": CHAIN},
    "parabola": {"shape": "parabola", "chord": 320.0, "rise": 70.0},
    "points": {"ordinates": (0.0, 12.0, 21.0, 24.0, 20.0, 12.0, 3.0, -4.0), "every": 45.0},
}
NOTCHED = ((0.0, 0.0), (290.0, 20.0), (230.0, 70.0), (280.0, 160.0), (150.0, 110.0), (10.0, 170.0))
OUTLINES: dict[str, dict[str, Any]] = {
    "rectangle": {"length": 290.0, "width": 140.0},
    "ellipse": {"length": 290.0, "width": 140.0, "outline": "ellipse"},
    "rounded": {"length": 290.0, "width": 140.0, "outline": "rounded rectangle", "corner": 30.0},
    "notched": {"corners": NOTCHED, "fillet": 12.0},
}


def made(bend: dict[str, Any], panel: dict[str, Any], springback: float = 4.0) -> Plan:
    return plan(settle(asked(bend, panel, springback)))


def asked(bend: dict[str, Any], panel: dict[str, Any], springback: float = 4.0) -> Asked:
    return {
        "panel": panel | {"outline_on": "plan"},
        "bend": bend,
        "substrate": {"laminations": 4, "thickness": 2.0},
        "form": {"springback": springback},
    }


def from_above(sheet: Sheet, edge: Floats, height: float) -> Floats:
    """Places x and w of an edge on the sheet as it lies at a height, its chords cut into parts of a millimetre."""
    rows = [
        np.linspace(a, b, max(2, math.ceil(math.dist(a, b))), endpoint=False)
        for a, b in zip(edge, np.roll(edge, -1, axis=0), strict=True)
    ]
    t, w = np.concatenate(rows).T
    return np.column_stack((sheet.place(t, w, height)[:, 0], w))


@pytest.mark.parametrize("outline", OUTLINES)
@pytest.mark.parametrize("bend", BENDS)
def test_what_is_pressed_covers_the_cut_at_every_height_and_no_more(bend: str, outline: str) -> None:
    found = made(BENDS[bend], OUTLINES[outline])
    cut = found.cut
    assert cut is not None
    edge = found.outline.loops[0].flattened(0.001)
    wanted = Polygon(cut.outline.loops[0].flattened(0.001))
    heights = np.linspace(found.stack.work[0].height, found.stack.work[-1].top, 25)
    assert (cut.low, cut.high) == pytest.approx((heights[0], heights[-1]), abs=1e-12)
    seen = [from_above(found.released, edge, float(height)) for height in heights]
    for row in seen:
        assert Polygon(row).buffer(CLOSE).contains(wanted)
    # each place of its edge is on the cut at some height; a rectangle stays one, as long to both sides
    if outline != "rectangle":
        ring = LinearRing(wanted.exterior)
        nearest = np.min([distance(ring, points(row)) for row in seen], axis=0)
        # the sweep of a corner is met between two of the heights, which move it by up to 0.3 mm
        assert float(np.quantile(nearest, 0.99)) < 0.35
        assert float(np.quantile(nearest, 0.9)) < CLOSE


def test_the_line_on_the_upper_face_is_that_of_the_arc() -> None:
    """On an arc a place x of the plan lies at the angle asin(x / R) of each face; the blank is as long as its middle."""
    found = made({"radius": 240.0, "angle": math.radians(100.0)}, OUTLINES["ellipse"])
    face = next(template for template in templates(found) if template.key == "face")
    upper = found.stack.work[-1]
    bend = float(found.released.profile.bend(np.zeros(1))[0])
    top, reference = (
        1.0 / bend + height - found.released.reference for height in (upper.top, found.released.reference)
    )
    pressed = 1.0 / float(found.stack.sheet.profile.bend(np.zeros(1))[0])
    line = face.openings[0].flattened(0.01)
    # what is long on the blank is an angle of the pressed arc, and of the released one by the same length
    t = line[:, 0] * pressed / (pressed + upper.middle - found.stack.sheet.reference)
    x = top * np.sin(t / reference)
    assert float(np.abs(np.hypot(x / 145.0, line[:, 1] / 70.0) - 1.0).max()) * 70.0 < 0.05
    assert float(np.ptp(x)) == pytest.approx(290.0, abs=0.02)
    assert all(
        not template.openings for template in templates(found) if template.key in ("back", "substrate-2")
    )


@pytest.mark.parametrize(("degrees", "holds"), [(119.9, True), (120.0, True), (120.2, False)])
def test_the_ends_of_an_arc_may_stand_at_sixty_degrees(degrees: float, holds: bool) -> None:
    """Half of its angle is what the end of an arc stands at; the whole chord is asked for."""
    bend = {"radius": 240.0, "angle": math.radians(degrees)}
    panel = {"width": 140.0, "outline": "ellipse"}
    if holds:
        assert made(bend, panel, 0.0).cut is not None
        return
    with pytest.raises(
        ShapeError, match=r"steeper than 60° from level \(60\.1° .* (left|right) of the middle\)"
    ):
        made(bend, panel, 0.0)


@pytest.mark.parametrize(("past", "holds"), [(-0.1, True), (0.1, False)])
def test_an_outline_may_reach_to_where_the_inner_face_stands_at_sixty_degrees(
    past: float, holds: bool
) -> None:
    """On a half round that is at the inner radius times sin 60°, on both sides."""
    whole = made({"radius": 240.0, "angle": math.radians(100.0)}, OUTLINES["ellipse"], 0.0)
    depth = whole.stack.work[-1].top - whole.stack.work[0].height
    length = 2.0 * (240.0 - depth) * math.sin(math.radians(60.0)) + 2.0 * past
    bend, panel = (
        {"radius": 240.0, "angle": math.pi},
        {"length": length, "width": 140.0, "outline": "ellipse"},
    )
    if holds:
        assert made(bend, panel, 0.0).cut is not None
        return
    told = examine(settle(asked(bend, panel, 0.0)))
    assert told.planned is None
    (check,) = told.checks
    place = re.search(r"From (\d+\.\d) mm left of the middle on", check.message)
    assert place is not None
    # the curve is told on the outer face, from the middle
    assert float(place[1]) == pytest.approx(240.0 * math.radians(60.0), abs=0.06)
    assert "90.0°" in check.message
    assert "0.1 mm further" in check.message


@pytest.mark.parametrize(
    ("changed", "told"),
    [
        (
            {"panel": {"width": 140.0, "length": 321.0, "outline_on": "plan"}},
            "up to 320 mm, which is the chord",
        ),
        (
            {"panel": {"corners": ((0.0, 0.0), (400.0, 0.0), (0.0, 90.0)), "outline_on": "plan"}},
            "up to 320 mm",
        ),
    ],
)
def test_a_panel_longer_than_its_bend_is_refused(changed: Asked, told: str) -> None:
    with pytest.raises(LayupError, match=told):
        settle({"bend": BENDS["arc"]} | changed)


def test_in_plan_a_panel_is_as_long_as_the_chord_or_as_it_says() -> None:
    whole = settle({"panel": {"width": 140.0, "outline_on": "plan"}, "bend": BENDS["arc"]})
    assert whole.panel.length == pytest.approx(320.0, rel=1e-12)
    part = settle({"panel": {"width": 140.0, "length": 250.0, "outline_on": "plan"}, "bend": BENDS["arc"]})
    assert part.panel.length == 250.0
    flat = {"panel": {"width": 140.0, "length": 250.0}}
    assert (
        plan(settle(flat)).outline == plan(settle({"panel": flat["panel"] | {"outline_on": "plan"}})).outline
    )
