"""What holds for drawing out air whatever the bag and the pump."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from underbag.model.errors import LayupError
from underbag.model.mechanics.evacuation import (
    drawdown_time,
    duty_cycle,
    further_gain,
    hand_floor,
    hand_pressure,
    hand_strokes,
    lowest_pressure,
    pressure_after,
    rest_time,
    run_time,
    slack_strokes,
    slack_time,
)

volume = st.floats(1e4, 1e8)
flow = st.floats(1e4, 1e7)
ambient = st.floats(0.06, 0.105)
part = st.floats(0.01, 0.99)
more = st.floats(1.0, 10.0)
sweep = st.floats(1e4, 1e6)


@given(volume, flow, ambient, part, part, more)
def test_a_bigger_pump_is_never_slower(V, S, p_0, low, high, k):
    p_u = 0.2 * p_0 * low
    p = p_u + (p_0 - p_u) * high
    one = drawdown_time(V=V, S=S, p_0=p_0, p=p, p_u=p_u)
    assert drawdown_time(V=V, S=S * k, p_0=p_0, p=p, p_u=p_u) <= one
    assert drawdown_time(V=V * k, S=S, p_0=p_0, p=p, p_u=p_u) >= one
    assert slack_time(V=V, S=S * k) <= slack_time(V=V, S=S)


@given(volume, flow, ambient, part, part)
def test_a_deeper_target_is_never_quicker(V, S, p_0, one, other):
    shallow, deep = p_0 * max(one, other), p_0 * min(one, other)
    given_ = {"V": V, "S": S, "p_0": p_0, "p_u": 0.0}
    assert drawdown_time(**given_, p=deep) >= drawdown_time(**given_, p=shallow)


@given(volume, flow, ambient, part, st.floats(0, 1e4), more)
def test_a_leak_never_helps(V, S, p_0, high, Q, k):
    tight = lowest_pressure(p_p=0.001, Q=Q, S=S, p_v=0)
    leaky = lowest_pressure(p_p=0.001, Q=Q * k, S=S, p_v=0)
    assert leaky >= tight
    assume(leaky < 0.9 * p_0)
    p = leaky + (p_0 - leaky) * high
    slower = drawdown_time(V=V, S=S, p_0=p_0, p=p, p_u=leaky)
    assert slower >= drawdown_time(V=V, S=S, p_0=p_0, p=p, p_u=tight) * (1 - 1e-12)


@given(volume, flow, ambient, part, part)
def test_time_and_pressure_are_each_others_inverse(V, S, p_0, low, high):
    p_u = 0.2 * p_0 * low
    p = p_u + (p_0 - p_u) * high
    time = drawdown_time(V=V, S=S, p_0=p_0, p=p, p_u=p_u)
    assert pressure_after(t=time, V=V, S=S, p_0=p_0, p_u=p_u) == pytest.approx(p)


@given(volume, flow, ambient, part, part, part)
def test_a_draw_in_two_parts_takes_as_long(V, S, p_0, a, b, low):
    p_u = 0.1 * p_0 * low
    middle, p = p_u + (p_0 - p_u) * max(a, b), p_u + (p_0 - p_u) * min(a, b)
    given_ = {"V": V, "S": S, "p_u": p_u}
    first = drawdown_time(**given_, p_0=p_0, p=middle)
    second = drawdown_time(**given_, p_0=middle, p=p)
    assert drawdown_time(**given_, p_0=p_0, p=p) == pytest.approx(first + second, rel=1e-9, abs=1e-12)


@given(volume, sweep, st.floats(0, 0.2), ambient, part)
def test_strokes_are_the_least_that_do_it(V, V_s, end, p_0, high):
    c = end * V_s
    floor = hand_floor(p_0=p_0, c=c, V_s=V_s)
    p = floor + (p_0 - floor) * high
    given_ = {"p_0": p_0, "p_f": floor, "V": V, "V_s": V_s, "c": c}
    n = hand_strokes(**given_, p=p)
    assert hand_pressure(**given_, k=n) <= p * (1 + 1e-6)
    assert n == 0 or hand_pressure(**given_, k=n - 1) > p


@given(volume, sweep, st.floats(0, 0.2), ambient, st.integers(0, 40), st.integers(0, 40))
def test_strokes_add_up_and_never_pass_the_floor(V, V_s, end, p_0, k, m):
    c = end * V_s
    floor = hand_floor(p_0=p_0, c=c, V_s=V_s)
    assert floor < p_0
    given_ = {"p_f": floor, "V": V, "V_s": V_s, "c": c}
    before = hand_pressure(p_0=p_0, k=k, **given_)
    after = hand_pressure(p_0=p_0, k=k + m, **given_)
    assert before >= after >= floor * (1 - 1e-12)
    assert further_gain(p=before, k=m, **given_) == pytest.approx(before - after, rel=1e-9, abs=1e-12)
    # Later strokes bring less and less.
    assert further_gain(p=after, k=5, **given_) <= further_gain(p=before, k=5, **given_)


@given(volume, sweep, more)
def test_a_longer_pump_needs_no_more_strokes(V, V_s, k):
    assert slack_strokes(V=V, V_s=V_s * k) <= slack_strokes(V=V, V_s=V_s)
    assert (slack_strokes(V=V, V_s=V_s) - 1) * V_s < V <= slack_strokes(V=V, V_s=V_s) * V_s * (1 + 1e-6)


@given(volume, st.floats(1e-5, 0.005), st.floats(1, 1e5), flow, st.floats(0.002, 0.05))
def test_duty_is_the_running_part_of_the_cycle(V, band, Q, S, p):
    if S * p <= Q:
        assert duty_cycle(Q=Q, S=S, p=p) == 1
        with pytest.raises(LayupError):
            run_time(V=V, b=band, S=S, p=p, Q=Q)
        return
    on, off = run_time(V=V, b=band, S=S, p=p, Q=Q), rest_time(V=V, b=band, Q=Q)
    assert on / (on + off) == pytest.approx(duty_cycle(Q=Q, S=S, p=p))
