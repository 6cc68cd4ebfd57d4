"""What holds for glue and its water whatever the numbers."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from underbag.model.mechanics.glue import (
    bleed_ratio,
    dry_line,
    glue_mass,
    moisture_gain,
    paper_capacity,
    paper_sheets,
    uptake_capacity,
    veneer_share,
    void_fraction,
    water_load,
    water_through,
    wet_line,
)

spread = st.floats(20e-6, 600e-6)
area = st.floats(1e3, 5e6)
part = st.floats(0.0, 0.99)
density = st.floats(0.2e-3, 1.4e-3)
thickness = st.floats(0.2, 40.0)
more = st.floats(1.0, 4.0)


@given(spread, area, st.integers(1, 12), part, more)
def test_glue_goes_with_each_of_its_terms(s, A, n, w, k):
    one = glue_mass(s=s, A=A, n=n, w=w)
    assert glue_mass(s=s * k, A=A, n=n, w=w) == pytest.approx(one * k)
    assert glue_mass(s=s, A=A, n=2 * n, w=w) == pytest.approx(2 * one)
    assert glue_mass(s=s, A=A, n=n, w=0) <= one
    assert water_load(m=one, w=w) <= one


@given(spread, part, density, more)
def test_drying_never_thickens_a_line(s, w, rho, k):
    assert dry_line(s=s, w=w, rho=rho) <= wet_line(s=s, rho=rho)
    assert dry_line(s=s, w=0, rho=rho) == wet_line(s=s, rho=rho)
    assert wet_line(s=s, rho=rho * k) <= wet_line(s=s, rho=rho)


@given(spread, density, thickness, density, thickness, st.floats(0, 27))
def test_no_water_is_lost(water, rho_v, t_v, rho_s, t_s, moisture):
    q_v = uptake_capacity(rho=rho_v, t=t_v, M=moisture, M_s=28)
    q_s = uptake_capacity(rho=rho_s, t=t_s, M=moisture, M_s=28)
    k = veneer_share(q_v=q_v, q_s=q_s)
    assert 0 <= k <= 1
    assert k + veneer_share(q_v=q_s, q_s=q_v) == pytest.approx(1)
    through = water_through(q_w=water, k=k, q_v=q_v)
    stays = water * k - through
    assert 0 <= through <= water
    assert stays <= q_v * (1 + 1e-9)
    # What stays lifts the veneer's moisture to the limit at the most.
    assert moisture + moisture_gain(q=stays, rho=rho_v, t=t_v) <= 28 * (1 + 1e-9)


@given(
    st.floats(0, 2000),
    st.floats(20e-6, 400e-6),
    area,
    st.floats(0.5, 10),
    st.floats(0.1, 1),
    st.floats(0, 500),
)
def test_paper_holds_the_water_and_one_sheet_less_does_not(water, b, A, a, u, extra):
    n = paper_sheets(m_w=water, b=b, A=A, a=a, u=u)
    assert paper_capacity(n=n, b=b, A=A, a=a, u=u) >= water * (1 - 1e-6) - 1e-6
    if n:
        assert paper_capacity(n=n - 1, b=b, A=A, a=a, u=u) < water
    assert paper_sheets(m_w=water + extra, b=b, A=A, a=a, u=u) >= n
    assert paper_sheets(m_w=water, b=b, A=A, a=a * 1.5, u=u) <= n


@given(spread, thickness, density, st.floats(0.05, 1), more)
def test_thin_open_faces_with_much_glue_bleed_first(s, t, rho, c, k):
    line = wet_line(s=s, rho=1.1e-3)
    phi = void_fraction(rho=rho, rho_w=1.5e-3)
    assert 0 < phi < 1
    risk = bleed_ratio(h=line, t=t, phi=phi, c=c)
    assert bleed_ratio(h=line * k, t=t, phi=phi, c=c) >= risk
    assert bleed_ratio(h=line, t=t * k, phi=phi, c=c) <= risk
    assert bleed_ratio(h=line, t=t, phi=phi, c=c / k) >= risk
    assert void_fraction(rho=rho / k, rho_w=1.5e-3) >= phi
