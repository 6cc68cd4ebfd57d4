"""The flat pattern of a round cone, as sheet-metal layout teaches it.

Source: the development of a right circular cone is a sector of the slant height as radius and the angle 360°·r/s; the
lateral surface of a frustum is π·(R + r)·s (textbook, in every handbook of mensuration; from memory). A cone whose
radius, height and slant are 3, 4 and 5 develops into a sector of 360°·3/5 = 216°.
"""

import math

import numpy as np
import pytest

from underbag.model.shape.cone import Cone, shared_lift
from underbag.model.shape.profile import arc_profile
from underbag.model.shape.taper import TaperedSheet


def three_four_five(degrees: float, way: float = 1.0) -> TaperedSheet:
    """Frustum of the 3-4-5 cone, radii 150 and 300 over a height of 200 mm, slants 250 and 500 mm."""
    turn = math.radians(degrees)
    near, far = arc_profile(150.0 * turn, way * turn), arc_profile(300.0 * turn, way * turn)
    return TaperedSheet(near=near, far=far, width=200.0, lift=shared_lift(near, far), reference=0.0)


def cone(sheet: TaperedSheet) -> Cone:
    assert sheet.cone is not None
    return sheet.cone


@pytest.mark.parametrize(("turn", "sector"), [(90.0, 54.0), (180.0, 108.0), (300.0, 180.0), (330.0, 198.0)])
def test_the_sector_angle_is_three_fifths_of_the_turn(turn: float, sector: float) -> None:
    flat = cone(three_four_five(turn)).sector(0.0)
    assert math.degrees(flat.angle) == pytest.approx(sector, rel=1e-12)
    assert (flat.near, flat.far) == pytest.approx((250.0, 500.0), rel=1e-12)
    assert flat.area == pytest.approx(math.radians(turn) / 2.0 * (150.0 + 300.0) * 250.0, rel=1e-12)


@pytest.mark.parametrize("turn", [90.0, 330.0])
@pytest.mark.parametrize("way", [1.0, -1.0])
@pytest.mark.parametrize("d", [-20.0, 0.0, 35.0])
def test_every_layer_has_the_same_angle_and_its_own_radii(turn: float, way: float, d: float) -> None:
    # a layer at d over the surface is a cone of the same slope whose radii are larger by d·cos α = 0.8·d, so that its
    # slants are larger by 0.8·d / 0.6; below a hollow they are smaller
    sheet = three_four_five(turn, way)
    flat = cone(sheet).sector(d)
    assert math.degrees(flat.angle) == pytest.approx(0.6 * turn, rel=1e-12)
    assert (flat.near, flat.far) == pytest.approx((250.0 + way * d / 0.75, 500.0 + way * d / 0.75), rel=1e-12)
    # and so the unrolled sheet lies on two circles of one middle, between two straight sides
    u = np.linspace(-0.5, 0.5, 31) * sheet.profile.length
    near = sheet.unroll(u, np.full(u.size, -125.0), d)
    far = sheet.unroll(u, np.full(u.size, 125.0), d)
    point = np.array([0.0, far[15, 1] - flat.far])
    for edge, radius in ((near, flat.near), (far, flat.far)):
        assert np.hypot(*(edge - point).T) == pytest.approx(np.full(u.size, radius), rel=1e-12)
        heading = np.arctan2(*(edge - point).T)
        assert heading == pytest.approx(math.radians(0.6 * turn) * np.linspace(-0.5, 0.5, 31), abs=1e-12)


@pytest.mark.parametrize("way", [1.0, -1.0])
def test_a_layer_is_longer_by_its_distance_times_the_turn_of_the_normal(way: float) -> None:
    # L_d = L + d·Δθ; the normal of this cone turns by cos α = 0.8 of the turn around its axis
    sheet = three_four_five(120.0, way)
    turn = way * 0.8 * math.radians(120.0)
    assert sheet.turn == pytest.approx(turn, rel=1e-12)
    half = 0.5 * sheet.profile.length
    for d in (-10.0, 0.0, 20.0):
        assert sheet.length(d, -half, half) == pytest.approx(2.0 * half + d * turn, rel=1e-12)
        flat = cone(sheet).sector(d)
        assert flat.angle * flat.near == pytest.approx(math.radians(120.0) * 150.0 + d * turn, rel=1e-12)
        assert flat.angle * flat.far == pytest.approx(math.radians(120.0) * 300.0 + d * turn, rel=1e-12)


def test_past_half_a_round_the_pattern_is_longer_than_its_chord() -> None:
    # sectors of 500 mm with 108°, 180° and 198°: 2·500·sin of half the angle, and the whole circle's width past 180°
    for turn, chord, box in (
        (180.0, 809.01699, (809.01699, 500.0 - 250.0 * 0.58778525)),
        (300.0, 1000.0, (1000.0, 500.0)),
        (330.0, 987.68834, (1000.0, 500.0 + 500.0 * 0.15643447)),
    ):
        flat = cone(three_four_five(turn)).sector(0.0)
        assert flat.chord == pytest.approx(chord, abs=1e-4)
        assert flat.box == pytest.approx(box, abs=1e-4)


def test_the_radius_of_the_sheet_lies_along_its_normal() -> None:
    # Euler and Meusnier: square to the rulings the cone is bent at the radius over cos α, 150/0.8 and 300/0.8
    assert three_four_five(90.0).least_radii == pytest.approx((187.5, 375.0), rel=1e-12)
