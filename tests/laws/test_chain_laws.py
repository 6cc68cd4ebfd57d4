"""A bend as a chain of tangent arcs and straight runs: from its text to blanks, checks, meshes and section.

Lengths are held against plane geometry: a piece is as long as radius times angle, and a layer at the height d is longer
than the curve by d times the turn, which is nothing where crowns and hollows turn alike (L_d = L + d·Δθ).
"""

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from underbag.app.examine import examine
from underbag.app.page.edit import edited
from underbag.app.phrase import row_text
from underbag.app.read.chain import read_chain
from underbag.app.read.layup_file import read_text
from underbag.model.errors import LayupError
from underbag.model.layup.settle import settle
from underbag.model.plan import Plan, plan
from underbag.model.report import report
from underbag.model.scene import scene
from underbag.model.shape.profile import Profile, Run
from underbag.model.shape.sheet import Sheet

SERPENTINE = "straight 40, crown 180 through 50°, hollow 180 through 100°, crown 180 through 50°, straight 40"
CORNER = "straight 200, crown 60 through 90°, straight 120"

runs = st.one_of(
    st.builds(Run, st.floats(1.0, 300.0), st.just(0.0)),
    st.builds(
        lambda radius, angle, side: Run(radius * angle, side / radius),
        st.floats(40.0, 900.0),
        st.floats(0.05, 2.5),
        st.sampled_from([1.0, -1.0]),
    ),
)


def asked(chain: str, **more: Any) -> dict[str, dict[str, Any]]:
    return {
        "panel": {"width": 140.0},
        "bend": {"chain": read_chain(chain, "mm"), **more},
        "form": {"springback": 0.0},
    }


def made(chain: str, **more: Any) -> Plan:
    return plan(settle(asked(chain, **more)))


# The text of a chain


@given(st.lists(runs, min_size=1, max_size=8))
def test_a_chain_that_is_written_reads_back(pieces: list[Run]) -> None:
    """Twelve digits are written."""
    again = read_chain(row_text(tuple(pieces)), "in")
    assert len(again) == len(pieces)
    for piece, other in zip(pieces, again, strict=True):
        assert (other.length, other.curvature) == pytest.approx((piece.length, piece.curvature), rel=1e-11)


def test_both_systems_give_the_same_chain() -> None:
    metric = read_chain("straight 152.4, crown 254 through 45", "mm")
    assert metric == read_chain("straight 6, crown 10 through 45°", "in")
    assert metric == read_chain("straight 6 in, crown 10 in through 0.7853981633974483 rad", "mm")


@pytest.mark.parametrize(
    ("chain", "told"),
    [
        ("curved 80", "'curved 80'"),
        ("crown 80 through", "'crown 80 through'"),
        ("crown 80 through 0", "above zero"),
        ("straight 40,, crown 80 through 20", "''"),
        ("straight 40 through 20", "40 through 20"),
        ("crown 2 through 20", "piece 1 with the radius 2 mm; allowed: 5 to 1e+06 mm"),
        ("straight 30, crown 80 through 359", "piece 2 with the angle"),
        ("straight 30, straight 20", "straight pieces only"),
        ("straight 1, " * 100 + "crown 80 through 20", "101 pieces; allowed: 1 to 100 pieces"),
    ],
)
def test_a_piece_that_is_none_is_refused_with_its_words(chain: str, told: str) -> None:
    with pytest.raises(LayupError) as caught:
        read_text(f'[panel]\nwidth = 140\n[bend]\nchain = "{chain}"\n')
    assert told in str(caught.value)
    assert caught.value.key == "bend.chain"
    assert caught.value.line == 4


@pytest.mark.parametrize("key", ["chord", "rise", "radius", "angle"])
def test_sizes_of_an_arc_beside_a_chain_are_refused(key: str) -> None:
    with pytest.raises(LayupError, match="beside the shape chain"):
        settle(asked(CORNER, **{key: 1.0 if key == "angle" else 100.0}))


def test_a_length_of_the_panel_beside_a_chain_is_refused() -> None:
    with pytest.raises(LayupError, match="Leave length out"):
        settle(asked(CORNER) | {"panel": {"width": 140.0, "length": 400.0}})


def test_a_chain_keeps_its_size_when_the_unit_of_the_file_changes() -> None:
    text = 'unit = "in"\n[panel]\nwidth = 6\n[bend]\nchain = "straight 2, crown 8 through 40"\n'
    before, after = read_text(text), read_text(edited(text, {"unit": "mm"}))
    assert after.panel.length == pytest.approx(before.panel.length, rel=1e-12)
    assert before.panel.length == pytest.approx(25.4 * (2.0 + 8.0 * math.radians(40.0)))


# Lengths


def test_a_serpentine_has_the_same_length_at_every_height() -> None:
    """Crowns and hollows turn alike: 80 + 180 · 200° in radians, and every blank by its margins more."""
    planned = made(SERPENTINE)
    length = 80.0 + 180.0 * math.radians(200.0)
    assert planned.layup.panel.length == pytest.approx(length, rel=1e-12)
    for layer in planned.stack.layers:
        past = layer.outline.length - planned.outline.length
        assert layer.blank.length == pytest.approx(length + past, rel=1e-12)


def test_around_a_corner_each_layer_gains_a_quarter_round_of_its_height() -> None:
    planned = made(CORNER)
    reference = planned.stack.sheet.reference
    for layer in planned.stack.layers:
        past = layer.outline.length - planned.outline.length
        wanted = 320.0 + past + (60.0 + layer.middle - reference) * math.pi / 2.0
        assert layer.blank.length == pytest.approx(wanted, rel=1e-12)


@given(st.lists(runs, min_size=1, max_size=6).filter(lambda runs: any(run.curvature for run in runs)))
@settings(max_examples=25)
def test_reversed_and_turned_over_a_chain_keeps_its_lengths(pieces: list[Run]) -> None:
    profile, back = Profile(tuple(pieces)), Profile(tuple(reversed(pieces)))
    over = profile.scaled(-1.0)
    for one in (back, over):
        assert one.length == pytest.approx(profile.length, rel=1e-12)
        assert one.swing == pytest.approx(profile.swing, rel=1e-9)
    sheet, other = Sheet(profile=profile, reference=3.0), Sheet(profile=over, reference=-3.0)
    half = 0.5 * profile.length
    assert other.length(-8.0, -half, half) == pytest.approx(sheet.length(8.0, -half, half), rel=1e-12)
    chords = [math.dist(*one.points(np.array([-half, half]))) for one in (profile, back, over)]
    assert chords[1:] == pytest.approx(chords[:1] * 2, rel=1e-9, abs=1e-9)


# How it lies


def test_the_lie_turns_crowns_into_hollows() -> None:
    """Show face outside lies up on a convex form; pressed in a concave one, the work is turned over."""
    outside, inside = made(CORNER), made(CORNER, show_face="inside")
    assert outside.stack.sheet.profile.turn == pytest.approx(math.pi / 2.0)
    assert inside.stack.sheet.profile.turn == pytest.approx(-math.pi / 2.0)
    assert outside.layup.face_is_up
    assert inside.layup.face_is_up


# Checks at the tightest place


def test_checks_name_the_tightest_place() -> None:
    """The tight arc lies between 100 + 300·0.5 and 250 + 60·0.5 of 480 mm: 25 mm right of the middle."""
    chain = "straight 100, crown 300 through 0.5 rad, crown 60 through 0.5 rad, straight 200"
    told = examine(settle(asked(chain)))
    assert told.planned is not None
    checks = {check.key: check for check in told.checks}
    assert checks["bend.depth"].place.t == pytest.approx(25.0)
    assert "25.0 mm right of the middle" in checks["bend.depth"].message
    assert checks["bend.depth"].value == pytest.approx(60.0)
    strained = next(check for check in told.checks if check.key.startswith("bend.strain"))
    assert strained.place.t == pytest.approx(25.0)


def test_the_form_is_told_at_every_arc() -> None:
    """On its form each arc turns further by 1/(1 − s), and the form's face lies the whole work inside the show face."""
    made_of = settle(asked(SERPENTINE) | {"form": {"springback": 5.0}})
    planned = plan(made_of)
    told = report(planned)
    depth = planned.stack.sheet.reference
    for number, angle in ((2, 50.0), (3, 100.0), (4, 50.0)):
        turn = told.value(f"springback.piece-{number}.pressed_turn").number
        assert turn == pytest.approx(math.radians(angle) / 0.95)
        radius = told.value(f"springback.piece-{number}.form_radius").number
        assert radius == pytest.approx(180.0 * 0.95 + (depth if number == 3 else -depth))
    assert told.value("springback.form_radius").number == pytest.approx(180.0 * 0.95 - depth)


def test_layers_that_cusp_are_a_stop_that_names_the_place_and_the_radius() -> None:
    told = examine(settle(asked("straight 100, crown 8 through 90°, straight 100")))
    assert told.planned is None
    assert told.verdict == "stop"
    (check,) = told.checks
    assert check.change == "bend.chain"
    assert "in the middle: the curve has a radius of 8.0 mm" in check.message


def test_a_curve_that_comes_back_upon_itself_is_a_stop_that_names_the_place() -> None:
    """Two crowns of 170° with a straight run between them close to a loop whose ends cross."""
    told = examine(
        settle(asked("straight 400, crown 60 through 170°, straight 40, crown 60 through 170°, straight 400"))
    )
    assert told.planned is None
    (check,) = told.checks
    assert "cross others of their own" in check.message
    assert "60.0 mm" in check.message
    assert "of the middle" in check.message


# Pictures


def test_meshes_of_a_serpentine_are_closed_and_hold_what_the_layers_hold() -> None:
    """Chords of 0.05 mm leave out or add less than a thousandth of a layer."""
    planned = made(SERPENTINE)
    parts = {part.key: part for part in scene(planned).parts}
    for layer in planned.stack.layers:
        mesh = parts[layer.key].mesh
        edges = np.sort(mesh.triangles[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2), axis=1)
        assert (np.unique(edges, axis=0, return_counts=True)[1] == 2).all()
        a, b, c = (mesh.points[mesh.triangles[:, corner]] for corner in range(3))
        volume = float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum()) / 6.0
        # the folds at the corners of a sheet that hangs over an edge are not drawn
        rel = 0.15 if parts[layer.key].hung else 2e-3
        assert volume == pytest.approx(layer.thickness * layer.blank.area, rel=rel)


@given(st.lists(runs, min_size=1, max_size=6).filter(lambda runs: any(run.curvature for run in runs)))
@settings(max_examples=20)
def test_any_chain_is_a_plan_or_a_stop_that_names_the_place(pieces: list[Run]) -> None:
    assume(sum(piece.length for piece in pieces) > 10.0)
    layup = settle({"panel": {"width": 140.0}, "bend": {"chain": tuple(pieces)}})
    told = examine(layup)
    if told.planned is None:
        assert "the middle" in told.checks[0].message
        return
    planned = told.planned.plan
    sheet, height = planned.stack.sheet, planned.stack.height
    t = sheet.profile.places()
    assert min(sheet.stretch(0.0, t).min(), sheet.stretch(height, t).min()) > 0.0
    assert told.checks
