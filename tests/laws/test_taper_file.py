"""A taper as a layup file asks for it: its far end's curve, what is filled in, and what is refused.

Lengths and lifts are held against plane geometry of the arc; the stretch of a dome against the sphere's own.
"""

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from underbag.app.page.edit import edited
from underbag.app.read.layup_file import read_text
from underbag.app.read.starter import starter
from underbag.app.read.write_back import set_key, unset_key
from underbag.model.errors import LayupError
from underbag.model.layup.layup import Layup
from underbag.model.shape.profile import Profile

HEAD = "[panel]\nwidth = 260\n"
SHADE = HEAD + '[bend]\nradius = 180\nangle = "150°"\n[taper]\nradius = 110\n'
CURVES = {
    "arc": 'radius = 180\nangle = "150°"',
    "ellipse": 'shape = "ellipse"\nchord = 400\nrise = 90',
    "parabola": 'shape = "parabola"\nchord = 400\nrise = 90',
    "chain": 'chain = "straight 40, crown 180 through 50°, hollow 90 through 40°, crown 300 through 20°"',
    "points": "every = 100\nordinates = [0, 30, 42, 31, 5]",
}


def far_of(layup: Layup) -> Profile:
    assert layup.far is not None
    return layup.far


def refused(text: str) -> LayupError:
    with pytest.raises(LayupError) as error:
        read_text(text)
    return error.value


@pytest.mark.parametrize("shape", CURVES)
@pytest.mark.parametrize("size", ["chord", "rise"])
def test_one_size_alone_gives_the_curve_in_proportion(shape: str, size: str) -> None:
    """Similar figures: every length has the same ratio, every direction is the same (Euclid VI)."""
    near = read_text(HEAD + "[bend]\n" + CURVES[shape])
    ratio = 0.7
    given_size = ratio * getattr(near.bend, size)
    layup = read_text(f"{HEAD}[bend]\n{CURVES[shape]}\n[taper]\n{size} = {given_size}\n")
    assert layup.curve is not None
    assert layup.taper is not None
    assert layup.taper.shape == shape
    far = far_of(layup)
    # a depth is measured on points whose chords sag by 1e-4 mm; all else is the same sums in another scale
    close = 3e-6 if size == "rise" else 1e-9
    assert far.length == pytest.approx(ratio * layup.curve.length, rel=close)
    ratio = far.length / layup.curve.length
    t = np.linspace(-0.5, 0.5, 41) * layup.curve.length
    assert np.allclose(far.points(ratio * t), ratio * layup.curve.points(t), atol=1e-6)
    assert np.allclose(far.turned(ratio * t), layup.curve.turned(t), atol=1e-9)
    assert layup.taper.chord == pytest.approx(ratio * layup.bend.chord, rel=1e-6)  # type: ignore[union-attr]


@given(st.floats(30.0, 900.0), st.floats(30.0, 900.0), st.floats(0.4, 3.1))
def test_two_arcs_share_their_axis_where_no_lift_is_given(near: float, far: float, angle: float) -> None:
    """A round cone: both middles lie below their chords by R·cos(angle/2), and level with each other."""
    text = f'{HEAD}[bend]\nradius = {near}\nangle = "{angle!r} rad"\n[taper]\nradius = {far}\n'
    taper = read_text(text).taper
    assert taper is not None
    axes = -near * math.cos(0.5 * angle), taper.lift - far * math.cos(0.5 * angle)
    assert axes[0] == pytest.approx(axes[1], abs=1e-9)


def test_the_panel_is_as_long_as_the_curve_half_way() -> None:
    layup = read_text(SHADE)
    # arc length, radius times angle, of the mean radius
    assert layup.panel.length == pytest.approx(145.0 * math.radians(150.0), rel=1e-12)


def test_a_lift_that_is_given_stands_and_other_curves_lie_level() -> None:
    assert read_text(SHADE + "lift = '-8 mm'\n").taper.lift == -8.0  # type: ignore[union-attr]
    level = read_text(f"{HEAD}[bend]\n{CURVES['points']}\n[taper]\nchord = 300\n").taper
    assert level is not None
    assert level.lift == 0.0


@pytest.mark.parametrize("shape", ["arc", "parabola"])
def test_sizes_measured_at_both_ends_turn_alike_but_for_the_last_digits(shape: str) -> None:
    """A chord and a rise measured to a tenth of a millimetre give an angle a little off: that of [bend] stands."""
    kind = f'shape = "{shape}"\n'
    text = f"{HEAD}[bend]\n{kind}chord = 400\nrise = 90\n[taper]\n{kind}chord = 300\nrise = 67.5{{}}\n"
    for end in ("", "2"):
        layup = read_text(text.format(end))
        assert layup.curve is not None
        assert far_of(layup).turn == pytest.approx(layup.curve.turn, abs=1e-12)


@pytest.mark.parametrize(
    ("text", "key", "words"),
    [
        (HEAD + "[taper]\nradius = 110\n", "taper", "without [bend]"),
        ("[panel]\nlength = 500\nwidth = 260\n[taper]\nradius = 110\n", "taper", "without [bend]"),
        (SHADE.replace("radius = 110", ""), "taper.chord", "nothing"),
        (SHADE.replace("radius = 110", "lift = 5"), "taper.chord", "nothing"),
        (SHADE.replace("width = 260", "width = 260\nlength = 379.6"), "panel.length", "beside a taper"),
        (SHADE + "shape = 'file'\n", "taper.shape", "file"),
        (SHADE + "ordinates = [0, 5, 0]\n", "taper.radius", "beside the shape points"),
        (f"{HEAD}[bend]\n{CURVES['points']}\n[taper]\nradius = 110\n", "taper.radius", "points"),
        (
            f"{HEAD}[bend]\n{CURVES['ellipse']}\n[taper]\nshape = 'ellipse'\nchord = 300\nangle = 90\n",
            "taper.rise",
            "nothing",
        ),
    ],
)
def test_what_gives_no_far_end_is_refused_at_its_key(text: str, key: str, words: str) -> None:
    error = refused(text)
    assert error.key == key
    assert words in error.found


@pytest.mark.parametrize("word", ["dome", "sphere", "bowl", "saddle", "doubly curved"])
@pytest.mark.parametrize("table", ["bend", "taper"])
def test_a_doubly_curved_surface_is_refused_with_the_reason(word: str, table: str) -> None:
    head = HEAD + ("[bend]\nchord = 300\nrise = 30\n" if table == "taper" else "")
    error = refused(f"{head}[{table}]\nshape = '{word}'\nchord = 300\nrise = 30\n")
    assert error.key == f"{table}.shape"
    assert error.line == (7 if table == "taper" else 4)
    assert "veneer cannot" in error.hint
    # cap of a sphere: a disc of the arc's length has a rim longer than the cap's by arc over chord
    half = math.asin(150.0 / (0.5 * 30.0 + 150.0**2 / 60.0))
    stretch = 100.0 * (half / math.sin(half) - 1.0)
    assert f"{stretch:.2g} %" in error.hint


def test_of_a_dome_without_sizes_no_stretch_is_told() -> None:
    hint = refused(HEAD + "[bend]\nshape = 'dome'\n").hint
    assert "%" not in hint
    assert "veneer cannot" in hint


def test_a_word_that_is_only_misspelt_is_still_helped() -> None:
    assert "arc" in refused(HEAD + "[bend]\nshape = 'ark'\nchord = 300\nrise = 30\n").hint


def test_keys_are_set_and_taken_out_of_the_text() -> None:
    bent = SHADE.partition("[taper]")[0]
    text = set_key(bent, "taper", "radius", "110 mm")
    assert far_of(read_text(text)).length == pytest.approx(110.0 * math.radians(150.0))
    assert "taper" not in edited(text, {"taper.radius": None})
    assert read_text(unset_key(set_key(SHADE, "taper", "lift", 4), "taper", "lift")) == read_text(SHADE)


def test_settings_tell_every_size_of_the_far_end_and_no_taper_has_none() -> None:
    def told(text: str) -> dict[str, Any]:
        return {one.key: one for one in read_text(text).settled if one.key.startswith("taper.")}

    assert not told(SHADE.partition("[taper]")[0])
    found = told(SHADE)
    assert found["taper.radius"].given
    assert found["taper.angle"].value == pytest.approx(math.radians(150.0))
    assert found["taper.chord"].value == pytest.approx(220.0 * math.sin(math.radians(75.0)))
    assert all(one.reason for one in found.values())


def test_the_starter_files_have_no_taper() -> None:
    assert "[taper]" not in starter("flat")
