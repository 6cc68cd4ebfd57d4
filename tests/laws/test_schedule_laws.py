"""What holds for the clock whatever the work."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from underbag.model.mechanics.schedule import (
    ReleaseTimes,
    Work,
    bench_schedule,
    closed_by,
    governing_temperature,
    open_time_spare,
    release_times,
    spreading_time,
    time_at,
    wet_time,
)

seconds = st.floats(0, 1e5)
positive = st.floats(1, 1e5)
temperature = st.floats(5, 45)
works = st.builds(
    Work, dry_run=seconds, spreading=seconds, laying=seconds, closing=seconds, pumping=seconds, rest=seconds
)
releases = st.builds(
    lambda least, more: ReleaseTimes(least=least, safe=least + more), positive, seconds
)  # fmt: skip


@given(positive, temperature, st.floats(0, 20))
def test_warmer_is_never_slower(t, T, warmer):
    assert time_at(t_0=t, T=T + warmer, T_0=20, d=10) <= time_at(t_0=t, T=T, T_0=20, d=10)
    assert time_at(t_0=t, T=T + 10, T_0=20, d=10) == pytest.approx(time_at(t_0=t, T=T, T_0=20, d=10) / 2)


@given(positive, temperature, temperature)
def test_there_and_back_is_the_same_time(t, T_1, T_2):
    moved = time_at(t_0=t, T=T_2, T_0=T_1, d=10)
    assert time_at(t_0=moved, T=T_1, T_0=T_2, d=10) == pytest.approx(t)


@given(positive, seconds, temperature, st.floats(1, 3))
def test_safe_is_never_before_least(least, more, T, slow):
    times = release_times(least, least + more, T=T, T_0=20, d=10, within=(5, 45), slow=slow)
    assert 0 < times.least <= times.safe
    assert times.least >= release_times(least, least + more, T=T, T_0=20, d=10, within=(5, 45), slow=1).least


@given(temperature, temperature, temperature)
def test_the_coldest_governs(a, b, c):
    assert governing_temperature(T_g=a, T_s=b, T_p=c) <= min(a, b, c)
    assert governing_temperature(T_g=a, T_s=b, T_p=c) in (a, b, c)


@given(works, positive, releases, st.lists(positive, max_size=4))
def test_the_clock_runs_forward(work, open_time, release, looks):
    steps = bench_schedule(work, open_time, release, tuple(looks))
    assert len(steps) == 8 + len(looks)
    assert all(a.start <= b.start for a, b in pairwise(steps))
    assert all(step.start <= step.end for step in steps)
    ends = {step.key: step for step in steps}
    # Nothing is left out between the first glue and full pressure.
    assert ends["dry run"].end == 0 == ends["spreading"].start
    for before, after in (("spreading", "laying"), ("laying", "closing"), ("closing", "pumping")):
        assert ends[before].end == ends[after].start
    pressed = ends["pumping"].end
    used = wet_time(t_s=work.spreading, t_l=work.laying, t_c=work.closing, t_p=work.pumping)
    assert pressed == pytest.approx(used)
    assert ends["least release"].start == pytest.approx(pressed + release.least)
    assert ends["rest"].start == ends["safe release"].end


@given(works, positive, releases)
def test_all_is_in_time_just_where_open_time_is_to_spare(work, open_time, release):
    steps = bench_schedule(work, open_time, release, ())
    used = wet_time(t_s=work.spreading, t_l=work.laying, t_c=work.closing, t_p=work.pumping)
    spare = open_time_spare(t_o=open_time, t_w=used)
    # Sums in another order: nearer than a millisecond to the limit either answer is right.
    if spare > 1e-3:
        assert all(step.in_time for step in steps)
    if spare < -1e-3:
        assert not any(step.in_time for step in steps if step.latest is not None)
    closing = next(step for step in steps if step.key == "closing")
    assert closing.latest == closed_by(t_o=open_time, t_p=work.pumping)


@given(st.integers(1, 12), st.floats(1e3, 5e6), positive, st.integers(1, 4))
def test_more_hands_are_never_slower_and_more_layers_never_quicker(n, A, t_1, m):
    one = spreading_time(n=n, A=A, A_1=1e6, t_1=t_1, m=m)
    assert spreading_time(n=n, A=A, A_1=1e6, t_1=t_1, m=m + 1) <= one
    assert spreading_time(n=n + 1, A=A, A_1=1e6, t_1=t_1, m=m) >= one
