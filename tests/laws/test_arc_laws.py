"""An arc is the same arc whichever of its sizes it is entered by."""

import math
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from underbag.model.errors import ShapeError
from underbag.model.shape.arc import SIZES, Arc, arc_from

# up to the half round every pair of sizes fixes one arc; past it chord and radius leave two open
ARCS = st.builds(Arc, radius=st.floats(20.0, 5000.0), angle=st.floats(0.05, math.pi - 1e-3))


@given(ARCS)
def test_every_pair_of_sizes_gives_the_same_arc(arc: Arc) -> None:
    for pair in combinations(SIZES, 2):
        again = arc_from({name: getattr(arc, name) for name in pair})
        # near the half round the chord hardly changes with the angle: an error ε in it becomes √ε in the angle
        assert again.radius == pytest.approx(arc.radius, rel=1e-6), pair
        assert again.angle == pytest.approx(arc.angle, rel=1e-6), pair


@given(ARCS)
def test_all_four_sizes_together_agree(arc: Arc) -> None:
    again = arc_from({name: getattr(arc, name) for name in SIZES})
    assert again.radius == pytest.approx(arc.radius, rel=1e-12)


@given(ARCS, st.sampled_from(SIZES), st.floats(1.01, 3.0))
def test_a_third_size_that_disagrees_is_refused_with_the_value_implied(
    arc: Arc, wrong: str, factor: float
) -> None:
    others = [name for name in SIZES if name != wrong]
    sizes = {name: getattr(arc, name) for name in others} | {wrong: getattr(arc, wrong) * factor}
    with pytest.raises(ShapeError, match=r"imply|rises less|spans"):
        arc_from(sizes)


@pytest.mark.parametrize("sizes", [{}, {"radius": 100.0}, {"chord": 3.0}])
def test_fewer_than_two_sizes_are_refused(sizes: dict[str, float]) -> None:
    with pytest.raises(ShapeError, match="two of"):
        arc_from(sizes)


def test_a_chord_longer_than_the_circle_is_wide_is_refused() -> None:
    assert arc_from({"radius": 100.0, "chord": 200.0}).angle == pytest.approx(math.pi)
    with pytest.raises(ShapeError, match="200 mm at the most"):
        arc_from({"radius": 100.0, "chord": 200.1})


def test_a_rise_of_a_whole_circle_is_refused() -> None:
    with pytest.raises(ShapeError, match="rises less than 200 mm"):
        arc_from({"radius": 100.0, "rise": 200.0})
