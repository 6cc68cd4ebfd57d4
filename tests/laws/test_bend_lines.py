"""Lines at which bends begin and end, on every blank: a piece is as long there as L + d·Δθ (textbook), and drawn so."""

import math
from itertools import groupby
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from underbag.app.read.chain import read_chain
from underbag.export.drawing.boxes import collisions
from underbag.export.drawing.curves import Line
from underbag.export.drawing.primitives import Stroke, Text
from underbag.export.drawing.sheet import View
from underbag.export.outline_dxf import outline_dxf
from underbag.export.sheets.blank_sheet import blank_sheets
from underbag.model.bend_lines import bend_lines, stretches
from underbag.model.errors import ShapeError
from underbag.model.layup.settle import settle
from underbag.model.plan import Plan, plan
from underbag.model.report import report
from underbag.model.shape.profile import Profile, Run
from underbag.model.template import templates

runs = st.one_of(
    st.builds(Run, st.floats(20.0, 200.0), st.just(0.0)),
    st.builds(
        lambda radius, angle, side: Run(radius * angle, side / radius),
        st.floats(80.0, 600.0),
        st.floats(0.2, 1.2),
        st.sampled_from([1.0, -1.0]),
    ),
)
CORNERS = "straight 200, crown 80 through 90°, hollow 120 through 30°, straight 60"


def made(pieces: tuple[Run, ...], **drawing: Any) -> Plan:
    return plan(
        settle(
            {
                "panel": {"width": 140.0},
                "bend": {"chain": pieces, "curve": "form face"},
                "form": {"springback": 0.0},
                "drawing": drawing,
            }
        )
    )


@given(st.lists(runs, min_size=1, max_size=5).map(tuple))
@settings(max_examples=30)
def test_every_piece_has_its_developed_length_on_every_blank(pieces: tuple[Run, ...]) -> None:
    assume(any(piece.curvature for piece in pieces))
    try:
        found = made(pieces)
    except ShapeError:
        return
    # pieces that bend alike are one to the eye
    alike = [tuple(group) for _, group in groupby(pieces, key=lambda piece: piece.curvature)]
    bent = [group for group in alike if group[0].curvature]
    sheet = found.stack.sheet
    cut = {template.key: template for template in templates(found)}
    for layer in found.stack.layers:
        # laminations that are cut alike are one template; overhanging layers carry every line
        if layer.key not in cut or layer.outline.length < sheet.profile.length + 1.0:
            continue
        places = [mark.start[0] for mark in cut[layer.key].marks if "bend" in mark.name]
        assert places == sorted(places)
        told = {mark.name: mark.start[0] for mark in cut[layer.key].marks}
        for number, group in enumerate(bent, 1):
            name = f"bend {number}" if len(bent) > 1 else "bend"
            (first,) = [x for said, x in told.items() if f"{name} begins" in said]
            (last,) = [x for said, x in told.items() if f"{name} ends" in said]
            length = math.fsum(piece.length for piece in group)
            turn = math.fsum(piece.turn for piece in group)
            height = layer.middle - sheet.reference
            assert last - first == pytest.approx(length + height * turn, abs=1e-6)


def test_lines_stand_where_one_kind_of_bend_ends_and_say_so() -> None:
    profile = Profile(pieces=tuple(read_chain(CORNERS, "mm")))
    assert [line.name for line in bend_lines(profile)] == [
        "bend 1 begins",
        "bend 1 ends, bend 2 begins",
        "bend 2 ends",
    ]
    assert [part.name for part in stretches(profile)] == ["", "bend 1", "bend 2", ""]
    (one, other) = bend_lines(Profile(pieces=(Run(40.0, 0.01), Run(30.0, 0.01))))
    assert (one.name, other.name) == ("bend begins", "bend ends")
    assert bend_lines(Profile(pieces=(Run(40.0, 0.0),))) == ()


@pytest.mark.parametrize("units", ["metric", "inch", "both"])
def test_the_drawing_tells_them_from_the_left_end_of_the_blank(units: str) -> None:
    found = made(tuple(read_chain(CORNERS, "mm")), units=units)
    views = {view.name: view for sheet in blank_sheets(found, report(found)) for view in sheet.views}
    for number, layer in enumerate(found.stack.layers, 1):
        view = views.get(f"blank {number}")
        if view is None:
            continue
        (left, _), _ = layer.blank.edge.box
        lines = sorted(
            item.curve.start[0]
            for item in view.items
            if isinstance(item, Stroke) and item.part == "bend" and isinstance(item.curve, Line)
        )
        template = next(one for one in templates(found) if one.key == layer.key)
        assert lines == pytest.approx(sorted(m.start[0] for m in template.marks if "bend" in m.name))
        if units == "metric":
            told = {text for text in upright_texts(view) if not text.endswith("middle")}
            assert told == {f"{round(x - left, 1):g}" for x in lines}


def upright_texts(view: View) -> list[str]:
    return [item.text for item in view.items if isinstance(item, Text) and item.turn > 1.0]


@pytest.mark.parametrize("units", ["metric", "inch", "both"])
def test_nothing_collides_on_blanks_of_several_bends(units: str) -> None:
    found = made(tuple(read_chain(CORNERS, "mm")), units=units)
    for sheet in blank_sheets(found, report(found)):
        assert collisions(sheet) == ()


def test_the_outline_for_machines_names_its_lines() -> None:
    found = made(tuple(read_chain(CORNERS, "mm")))
    template = next(one for one in templates(found) if one.key == "face")
    content = outline_dxf(template).decode()
    for mark in template.marks:
        assert mark.name in content
