"""Film over whole layups against closed forms: half cylinder, valley form, serpentine (textbook plane geometry)."""

import math
from typing import Any

import pytest

from underbag.model.bag.section import FilmSection
from underbag.model.layup.settle import settle
from underbag.model.plan import Plan, plan
from underbag.model.shape.profile import Run

BARE: dict[str, Any] = {
    "panel": {"width": 150.0},
    "substrate": {"laminations": 2, "thickness": 3.0, "trim": 10.0},
    "form": {"springback": 0.0, "margin": 25.0, "build": "box", "base": 40.0},
}
STRAIGHT = 10.0 + 6.0
"""Trim and overhang: how far the work goes on straight past its bend."""
FACE = 0.08
"""The lowest point of a form's drawn face lies up to its chordal tolerance, 0.02 mm, off; a film passes it twice."""
GUTTER = 25.0 - 6.0
"""What the form reaches past the work."""


def pressed(bend: dict[str, Any]) -> Plan:
    return plan(settle(BARE | {"bend": bend, "face": {"overhang": 6.0}, "back": {"overhang": 6.0}}))


def over(section: FilmSection) -> float:
    return section.over


def test_half_cylinder() -> None:
    # textbook: a half circle of radius r is π·r long; its ends run straight down
    made = pressed({"radius": 200.0, "angle": math.pi, "show_face": "outside"})
    face = 200.0 - made.stack.sheet.reference
    height = made.stack.height
    beside = 40.0 + GUTTER + height + STRAIGHT
    # chords are shorter than their arc by 2/3 of their sagitta over half their length: 0.1 mm on some 40 chords
    assert over(made.along) == pytest.approx(2.0 * beside + math.pi * (face + height), abs=0.2)
    assert made.along.standing == pytest.approx(2.0 * face, abs=1e-6)
    assert made.along.place == 0.0
    # across: the crown, in the middle
    crown = 40.0 + 25.0 + 10.0 + face + height
    assert over(made.across) == pytest.approx(150.0 + 2.0 * 35.0 + 2.0 * crown, abs=FACE)
    assert made.across.place == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("angle", [1.5, 2.5])
def test_valley_form(angle: float) -> None:
    """A hollow of less than two radians takes most film over the work, a deeper one over the bare form beside it."""
    made = pressed({"radius": 200.0, "angle": angle, "show_face": "inside"})
    height = made.stack.height
    face = 200.0 + made.stack.sheet.reference
    straight = 10.0 + 25.0
    rim = 40.0 + face * (1.0 - math.cos(0.5 * angle)) + straight * math.sin(0.5 * angle)
    walls = 2.0 * (rim + made.base.shoulder)
    work = 2.0 * (GUTTER + height + STRAIGHT) + angle * (face - height)
    bare = 2.0 * straight + angle * face
    assert over(made.along) == pytest.approx(walls + max(work, bare), abs=0.2)
    assert made.along.place == pytest.approx(0.0 if angle < 2.0 else 110.0, abs=1e-3)
    # across: over the rims of the form, or the ends of the work where these stand higher
    end = 200.0 * (1.0 - math.cos(0.5 * angle)) + STRAIGHT * math.sin(0.5 * angle)
    work_end = 40.0 + end + (face - 200.0) * (1.0 - math.cos(0.5 * angle)) + height * math.cos(0.5 * angle)
    assert over(made.across) == pytest.approx(220.0 + 2.0 * max(rim, work_end), abs=FACE)
    assert abs(made.across.place) > 0.5 * 200.0 * angle


def test_serpentine() -> None:
    # textbook: over crowns and hollows that turn alike every layer is as long as the form's face
    chain = (
        Run(60.0, 0.0),
        Run(140.0, 1 / 200.0),
        Run(280.0, -1 / 200.0),
        Run(140.0, 1 / 200.0),
        Run(60.0, 0.0),
    )
    made = pressed({"chain": chain, "show_face": "outside"})
    length = 680.0 + 2.0 * STRAIGHT
    height = made.stack.height
    level = 40.0 + 2.0 * 200.0 * (1.0 - math.cos(0.7))
    # the hollow turns about a radius smaller by the stack, the crowns about a larger one: the depth stays
    assert over(made.along) == pytest.approx(2.0 * (level + GUTTER + height) + length, abs=0.2)
    assert made.along.foot == pytest.approx(2.0 * (95.0 + 2.0 * 200.0 * math.sin(0.7)), abs=1e-6)
    # taut: straight from crown to crown, and over each gutter
    half = 95.0 + 2.0 * 200.0 * math.sin(0.7)
    across_top = 2.0 * (half - GUTTER)
    assert made.along.taut == pytest.approx(
        2.0 * half + 2.0 * (level + math.hypot(GUTTER, height)) + across_top, abs=0.2
    )
    # across: at the level ends, over which the work stands highest
    assert over(made.across) == pytest.approx(220.0 + 2.0 * (level + height), abs=FACE)
