"""What holds for leaks whatever the bag."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from underbag.model.mechanics.leak import (
    exponential_fall,
    exponential_hold,
    fall_table,
    free_air,
    hole_diameter,
    leak_rate,
    linear_fall,
    linear_hold,
)

gauge = st.floats(0.03, 0.1)
part = st.floats(0.05, 0.95)
cure = st.floats(1800, 90_000)


@given(gauge, part, part, cure)
def test_the_linear_fall_is_the_safe_one(g, least, when, t_c):
    (row,) = fall_table(g, g * least, t_c, (when * t_c,))
    assert 0 < row.linear <= row.exponential * (1 + 1e-12)
    assert row.exponential < g - g * least + 1e-12


@given(gauge, part, part, part, cure)
def test_a_higher_need_and_a_longer_cure_allow_no_more(g, one, other, when, t_c):
    low, high = g * min(one, other), g * max(one, other)
    for fall in (linear_fall, exponential_fall):
        assert fall(g=g, g_l=high, t=when * t_c, t_c=t_c) <= fall(g=g, g_l=low, t=when * t_c, t_c=t_c) + 1e-15
        assert (
            fall(g=g, g_l=low, t=when * t_c, t_c=2 * t_c) <= fall(g=g, g_l=low, t=when * t_c, t_c=t_c) + 1e-15
        )


@given(gauge, part, part, cure)
def test_allowed_fall_and_time_it_holds_are_each_others_inverse(g, least, when, t_c):
    t = when * t_c
    fall = linear_fall(g=g, g_l=g * least, t=t, t_c=t_c)
    assert linear_hold(g=g, g_l=g * least, d=fall, t=t) == pytest.approx(t_c)
    fall = exponential_fall(g=g, g_l=g * least, t=t, t_c=t_c)
    assert exponential_hold(g=g, g_l=g * least, d=fall, t=t) == pytest.approx(t_c)


@given(gauge, part, cure)
def test_at_the_end_both_have_fallen_all_that_they_may(g, least, t_c):
    assert linear_fall(g=g, g_l=g * least, t=t_c, t_c=t_c) == pytest.approx(g * (1 - least))
    assert exponential_fall(g=g, g_l=g * least, t=t_c, t_c=t_c) == pytest.approx(g * (1 - least))


@given(gauge, st.floats(0.9, 0.9999), part, cure)
def test_small_falls_are_the_same_in_both(g, least, when, t_c):
    # The two differ by half the square of the fall.
    (row,) = fall_table(g, g * least, t_c, (when * t_c,))
    assert row.exponential == pytest.approx(row.linear, rel=(1 - least))


@given(st.floats(1e4, 1e8), st.floats(1e-5, 0.05), st.floats(10, 3600), st.floats(1, 5))
def test_a_faster_fall_is_a_larger_leak_and_a_larger_hole(V, d, t, k):
    one, two = leak_rate(V=V, d=d, t=t), leak_rate(V=V, d=d * k, t=t)
    assert two == pytest.approx(one * k)
    small, large = (
        hole_diameter(q=free_air(Q=Q, p_a=0.1), C=0.7, T=20) for Q in (one, two)
    )  # fmt: skip
    # Area goes with the leak.
    assert large == pytest.approx(small * k**0.5)
