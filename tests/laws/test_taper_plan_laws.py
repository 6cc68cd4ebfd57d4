"""A tapered job as a whole: its bag, its form, its bends at both ends, and any taper through the whole road.

Held against plane and solid geometry: the girth of what lies within another convex body is no larger (Cauchy), a cone's
radius of curvature square to its surface is its radius over the cosine of its half angle (Euler and Meusnier), and the
volume between two parallel planes joined by straight rulings follows from three sections (prismoidal formula).
"""

import math
from functools import cache
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shapely import MultiPoint, Polygon

from underbag.app.examine import examine
from underbag.app.read.layup_file import read_text
from underbag.model.errors import LayupError
from underbag.model.form.part import FormPart
from underbag.model.form.taper_meshes import block_mesh, taper_meshes
from underbag.model.plan import Plan, plan
from underbag.model.report import Report, report
from underbag.model.shape.mesh import Mesh
from underbag.model.shape.plane_cut import plane_cut

SHADE = "[panel]\nwidth = 260\n[bend]\nradius = 220\nangle = 150\n[taper]\nradius = 150\n"
JOBS = {
    "cone": SHADE,
    "steep lift": SHADE + "lift = 40\n",
    "hollow": SHADE + '[press]\nlay = "concave"\n',
    "ellipse": '[panel]\nwidth = 200\n[bend]\nshape = "ellipse"\nchord = 400\nrise = 90\nangle = 120\n[taper]\nchord = 300\n',
    "points": "[panel]\nwidth = 240\n[bend]\nevery = 110\nordinates = [0, 42, 55, 40, 3]\n[taper]\nrise = 40\n",
    "wave": "[panel]\nwidth = 220\n[bend]\nchain = 'straight 40, crown 300 through 40°, hollow 260 through 30°, straight 30'\n"
    "[taper]\nchain = 'straight 60, crown 220 through 40°, hollow 300 through 30°, straight 20'\n",
}
BUILDS = ("stacked", "ribs", "box")
BUILT = (
    ("cone", "stacked"),
    ("cone", "ribs"),
    ("hollow", "stacked"),
    ("hollow", "ribs"),
    ("wave", "ribs"),
    ("ellipse", "stacked"),
)


@cache
def job(name: str, build: str = "stacked") -> Plan:
    return plan(read_text(f'{JOBS[name]}[form]\nbuild = "{build}"\n'))


def facts(found: Plan) -> dict[str, float]:
    return {value.key: value.number for value in report(found).values}


def volume(mesh: Mesh) -> float:
    """Volume by the divergence theorem."""
    a, b, c = (mesh.points[mesh.triangles[:, corner]] for corner in range(3))
    return float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum()) / 6.0


def bodies(found: Plan) -> list[tuple[str, Mesh]]:
    """Meshes of the form by their keys."""
    assert found.form is not None
    assert found.form.carcase is not None
    if found.form.taper is None:
        return [("form", block_mesh(found.form.carcase, 0.05))]
    return [(body.key, body.mesh) for body in taper_meshes(found.form.taper, 0.05)]


def is_closed(mesh: Mesh) -> bool:
    """Whether every edge is walked once each way."""
    edges = np.concatenate([mesh.triangles[:, pair] for pair in ([0, 1], [1, 2], [2, 0])])
    there = {tuple(edge) for edge in edges.tolist()}
    return len(there) == len(edges) and all((b, a) in there for a, b in there)


# Bends


def test_a_cone_is_bent_by_its_radius_over_the_cosine_of_its_half_angle() -> None:
    found = plan(read_text(SHADE + "[form]\nspringback = 0\n"))
    told = facts(found)
    half_angle = math.atan((220.0 - 150.0) / 260.0)
    sheet, work = found.stack.sheet, found.stack.work
    for ply in found.plies:
        # the far end is the tighter one; its sizes are those of the show face, which lies uppermost
        inside = 150.0 / math.cos(half_angle) - (work[-1].top - ply.height)
        assert told[f"bend.{ply.key}.radius"] == pytest.approx(inside, abs=1e-6)
    assert sheet.reference == pytest.approx(work[-1].top)
    bend = [check for check in report(found).checks if check.key == "bend.strain"]
    assert all("at the far end" in check.message for check in bend)


@pytest.mark.parametrize("name", JOBS)
def test_no_ply_is_bent_harder_anywhere_than_is_told(name: str) -> None:
    found = job(name)
    assert found.taper is not None
    told, sheet = facts(found), found.taper.states.pressed
    u = np.linspace(-0.4999, 0.4999, 301) * sheet.profile.length
    for share in np.linspace(-1.0, 1.0, 11):
        bend = sheet.bend(u, share * sheet.half_width(u))
        bend = bend[np.abs(bend) > 1e-9]
        for ply in found.plies:
            sides = (1.0 / bend + height - sheet.reference for height in (ply.height, ply.top))
            least = np.min([np.abs(side) for side in sides])
            # places are a finite row: a smooth curve may be bent a little harder between two of them
            assert told[f"bend.{ply.key}.radius"] <= least * (1.0 + 2e-4)


# The bag


@pytest.mark.parametrize("name", JOBS)
def test_the_bag_goes_round_every_section_of_form_and_stack(name: str) -> None:
    """Every plane across the width: the film that follows its section, down to the bench, is no longer than that told."""
    found = job(name)
    assert found.taper is not None
    assert found.form is not None
    assert found.form.carcase is not None
    sheet, lift, form = found.taper.states.pressed, found.taper.lift, found.form.carcase
    half = 0.5 * sheet.profile.length
    core = found.stack.of_role("substrate")[-1]
    reach = 0.5 * (core.outline.length - found.layup.panel.length)
    widest = 0.0
    for y in np.linspace(-0.5, 0.5, 9) * form.width:
        edge = form.edge(float(y))
        u = np.linspace(-half - reach, half + reach, 601)
        over = plane_cut(sheet, float(y), found.stack.height, u) + np.array([0.0, lift])
        feet = np.array([[edge[:, 0].min(), 0.0], [edge[:, 0].max(), 0.0]])
        hull = MultiPoint(np.concatenate((edge, over, feet))).convex_hull
        widest = max(widest, hull.length)
    # half of a girth; the film told follows into corners, so that it is never less
    assert found.bag.length_terms[0].amount >= 0.5 * widest - 0.05
    high = max(form.edge(side * 0.5 * form.width)[:, 1].max() for side in (-1.0, 1.0))
    assert found.bag.width_terms[0].amount >= form.width + high - 0.05


@pytest.mark.parametrize("name", ["cone", "ellipse", "hollow"])
def test_the_bag_is_that_of_the_larger_end(name: str) -> None:
    found = job(name)
    assert found.taper is not None
    amount, draped = found.bag.length_terms[0].amount, found.draped.bag.length_terms[0].amount
    if name == "hollow":
        # its other end is the higher one: the film is drawn over the longer one raised, and counted over both as they are
        assert amount < draped
    else:
        assert amount == pytest.approx(draped)
    for _, end in found.taper.ends:
        assert amount >= 0.5 * end.along.girth
    assert "larger end" in found.bag.length_terms[0].name
    for end in (found.taper.near, found.taper.far):
        assert end.bag is found.bag


def test_a_taper_of_two_equal_ends_is_a_straight_bend() -> None:
    straight = plan(read_text(SHADE.partition("[taper]")[0]))
    found = plan(read_text(SHADE.replace("radius = 150", "radius = 220")))
    assert found.bag.needed_length == pytest.approx(straight.bag.needed_length, abs=1e-6)
    assert found.bag.needed_width == pytest.approx(straight.bag.needed_width, abs=1e-6)
    for one, other in zip(found.stack.layers, straight.stack.layers, strict=True):
        assert one.blank.length == pytest.approx(other.blank.length, abs=1e-6)
        assert one.blank.width == pytest.approx(other.blank.width, abs=1e-6)
    told, wanted = facts(found), facts(straight)
    assert told["taper.near.form.radius"] == pytest.approx(wanted["springback.form_radius"])
    for key in ("bend.face.radius", "panel.mass", "press.force", "form.edge"):
        assert told[key] == pytest.approx(wanted[key], rel=1e-6)
    # sides of a board that may be bevelled keep to chords of 0.02 mm
    assert told["handling.mass"] == pytest.approx(wanted["handling.mass"], rel=2e-4)


# The form


@pytest.mark.parametrize(("name", "build"), [*BUILT, ("points", "box"), ("steep lift", "box")])
def test_the_forms_bodies_are_closed_and_hold_what_is_told(name: str, build: str) -> None:
    found = job(name, build)
    parts = bodies(found)
    assert parts
    for key, mesh in parts:
        assert is_closed(mesh), key
        assert volume(mesh) > 0.0, key
    if found.form is None or found.form.taper is None:
        return
    made: dict[str, FormPart] = {part.key: part for part in found.form.parts}
    for key, mesh in parts:
        board = made.get(key.removeprefix("form-"))
        if board is not None:
            # chords of 0.02 mm on the curved edges; sections change evenly, so that the mean of both sides is off by
            # the prismoidal term alone
            assert volume(mesh) == pytest.approx(board.volume, rel=2e-3)


@pytest.mark.parametrize("name", JOBS)
def test_the_block_is_the_prismoid_of_its_three_sections(name: str) -> None:
    """V = B/6 · (A₁ + 4·A + A₂): between two planes a body of straight rulings follows from three sections."""
    found = job(name, "box")
    assert found.form is not None
    form = found.form.carcase
    assert form is not None

    def area(y: float) -> float:
        edge = form.edge(y)
        return float(Polygon([*edge, (edge[-1, 0], 0.0), (edge[0, 0], 0.0)]).area)

    block = block_mesh(form, 0.05)
    half = 0.5 * form.width
    wanted = form.width / 6.0 * (area(-half) + 4.0 * area(0.0) + area(half))
    # the mesh keeps to chords of 0.05 mm; shoulders stand upright and do not taper
    assert volume(block) == pytest.approx(wanted, rel=5e-3 if name == "hollow" else 5e-4)


@pytest.mark.parametrize(("name", "build"), BUILT)
def test_no_board_stands_past_the_face_and_each_touches_it(name: str, build: str) -> None:
    """Both sides of every rib lie on the true offset of the face by the skin, ruling by ruling."""
    found = job(name, build)
    assert found.form is not None
    built, form = found.form.taper, found.form.carcase
    assert built is not None
    assert form is not None
    skin = built.load.skin if found.form.ribbed is not None else 0.0  # type: ignore[union-attr]
    for board, curve in zip(built.boards, built.curves, strict=True):
        assert board.sides is not None
        outline = Polygon(board.outline.flattened(0.002)).buffer(0.02)
        for side, y in zip(board.sides, (board.places[0], board.places[0] + board.thickness), strict=True):
            corners = np.array(side.corners)[:, :2]
            u = form.places(-skin, 0.02)
            top = plane_cut(form.sheet, y, -skin, u) + np.array([0.0, form.lift])
            assert np.allclose(corners[: len(u)], top, atol=1e-9)
            assert outline.contains(MultiPoint(corners))
        # the curve that is told runs from the left end of the board to its right one
        assert curve[0][0] < 0.0 < curve[-1][0]


def test_ribs_are_numbered_from_the_near_end() -> None:
    for name in ("cone", "hollow"):
        found = job(name, "ribs")
        assert found.form is not None
        assert found.form.ribbed is not None
        built = found.form.taper
        assert built is not None
        # the near end is the larger one, in the press as on the bench
        areas = [abs(board.outline.area) for board in built.boards]
        assert (areas == sorted(areas, reverse=True)) == (name == "cone")
        lengths = [board.size[0] for board in built.boards]
        assert name == "hollow" or lengths == sorted(lengths, reverse=True)


# Both ends


@pytest.mark.parametrize("name", JOBS)
def test_off_the_form_both_ends_have_the_sizes_that_were_asked_for(name: str) -> None:
    found = job(name)
    assert found.taper is not None
    assert found.layup.bend is not None
    assert found.layup.taper is not None
    told = facts(found)
    for end, chord, rise in (
        ("near", found.layup.bend.chord, found.layup.bend.rise),
        ("far", found.layup.taper.chord, found.layup.taper.rise),
    ):
        if found.layup.face_is_up == (found.layup.press.lay == "convex"):
            assert told[f"taper.{end}.show_face.chord"] == pytest.approx(chord, abs=1e-3)
            # the rise is told square to the chord, a depth of a wave between its highest and lowest place
            if name != "wave":
                assert told[f"taper.{end}.show_face.rise"] == pytest.approx(rise, abs=0.02)


@pytest.mark.parametrize("name", ["cone", "hollow"])
def test_a_layup_turned_over_is_the_same_panel(name: str) -> None:
    """In a hollow the near end lies on the other side: seen from its show face the panel is the same."""
    over, flat = job("hollow"), job("cone")
    one, other = (
        next(layer for layer in found.stack.layers if layer.key == "face").blank for found in (over, flat)
    )
    # the face is the show face of both: its pattern is the same, seen from its two sides
    assert one.area == pytest.approx(other.area, rel=2e-2)
    assert over.taper is not None
    assert over.taper.states.sides == {"near": 1.0, "far": -1.0}


# Anything


@st.composite
def tapers(draw: Any) -> str:
    """Text of any taper, joinable or not."""
    number = st.floats(30.0, 700.0)
    shape = draw(st.sampled_from(["arc", "ellipse", "parabola", "chain", "points"]))
    lines = {
        "arc": f"radius = {draw(number)}\nangle = {draw(st.floats(5.0, 200.0))}\n",
        "ellipse": f"shape = 'ellipse'\nchord = {draw(number)}\nrise = {draw(st.floats(5.0, 200.0))}\n",
        "parabola": f"shape = 'parabola'\nchord = {draw(number)}\nrise = {draw(st.floats(5.0, 200.0))}\n",
        "chain": f"chain = 'straight {draw(number)}, crown {draw(number)} through {draw(st.floats(5.0, 90.0))}°, "
        f"hollow {draw(number)} through {draw(st.floats(5.0, 60.0))}°'\n",
        "points": f"every = {draw(st.floats(20.0, 150.0))}\n"
        f"ordinates = {[0.0, *draw(st.lists(st.floats(-40.0, 60.0), min_size=3, max_size=6))]}\n",
    }
    near = lines[shape]
    far = draw(
        st.sampled_from(
            [
                f"chord = {draw(number)}\n",
                f"rise = {draw(st.floats(2.0, 120.0))}\n",
                f"radius = {draw(number)}\nangle = {draw(st.floats(5.0, 200.0))}\n",
                near,
            ]
        )
    )
    lift = draw(st.sampled_from(["", f"lift = {draw(st.floats(-150.0, 150.0))}\n"]))
    build, lay = draw(st.sampled_from(BUILDS)), draw(st.sampled_from(["convex", "concave"]))
    core = f"[substrate]\nthickness = {draw(st.sampled_from([0.8, 1.5, 3.0]))}\nlaminations = {draw(st.integers(1, 9))}\n"
    return (
        f"[panel]\nwidth = {draw(st.floats(60.0, 900.0))}\n[bend]\n{near}[taper]\n{far}{lift}{core}"
        f'[form]\nbuild = "{build}"\n[press]\nlay = "{lay}"\n'
    )


def demand_clear(error: LayupError) -> None:
    """What was found, and what is allowed."""
    assert error.found
    assert error.allowed


@given(tapers())
@settings(
    max_examples=12,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much, HealthCheck.data_too_large],
)
def test_any_taper_gives_a_whole_job_or_a_clear_word(text: str) -> None:
    try:
        layup = read_text(text)
    except LayupError as error:
        demand_clear(error)
        return
    examined = examine(layup)
    assert examined.checks
    if examined.planned is None:
        (check,) = examined.checks
        assert check.status == "stop"
        assert check.message.endswith(".")
        assert check.change
        return
    found: Plan = examined.planned.plan
    told: Report = examined.planned.report
    assert all(math.isfinite(value.number) for value in told.values)
    if not found.is_undercut:
        assert found.bag.needed_length > 0.0
        for key, mesh in bodies(found):
            assert np.isfinite(mesh.points).all()
            assert is_closed(mesh), key
