"""Drawing the air out, against worked examples, integration of the balance, and the bench."""

from math import log

import pytest
from scipy.integrate import solve_ivp

from underbag.model.errors import LayupError
from underbag.model.mechanics.evacuation import (
    drawdown_time,
    duty_cycle,
    further_gain,
    hand_floor,
    hand_pressure,
    hand_strokes,
    hand_time,
    lowest_pressure,
    pressure_after,
    pumping_time,
    rest_time,
    run_time,
    slack_strokes,
    slack_time,
    slack_volume,
    void_volume,
)

LITRE = 1e6
LITRES_PER_MINUTE = 1e6 / 60
ATMOSPHERE = 0.101325


def test_a_factor_of_ten():
    # Source: textbook, t = (V/S)·ln(p0/p); 10 L, 40 L/min: 34.54 s.
    time = drawdown_time(V=10 * LITRE, S=40 * LITRES_PER_MINUTE, p_0=0.1, p=0.01, p_u=0)
    assert time == pytest.approx(34.54, abs=0.01)


def test_from_atmosphere_to_a_tenth_of_a_bar():
    # Source: textbook; 20 L, 50 L/min, 1013.25 to 100 mbar: 55.58 s.
    time = drawdown_time(V=20 * LITRE, S=50 * LITRES_PER_MINUTE, p_0=ATMOSPHERE, p=0.01, p_u=0)
    assert time == pytest.approx(55.58, abs=0.01)


def test_printed_example_of_a_large_vessel():
    # Source: literature, page on evacuation time of a vacuum-engineering guide: 1000 m³ from 1013 to 200 mbar
    # in 10 min takes 160 m³/min. The page rounds ln(1013/200) to that of 1000/200 and the result to two digits.
    time = drawdown_time(V=1000e9, S=160e9 / 60, p_0=0.1013, p=0.02, p_u=0)
    assert time == pytest.approx(600, rel=0.02)


def test_slack_bag_and_then_its_voids():
    # Source: derived; 30 L come down at ambient, then 3 L of voids to 15 kPa, 50 L/min: 36.0 + 6.88 = 42.9 s.
    first = slack_time(V=30 * LITRE, S=50 * LITRES_PER_MINUTE)
    second = drawdown_time(V=3 * LITRE, S=50 * LITRES_PER_MINUTE, p_0=ATMOSPHERE, p=0.015, p_u=0)
    assert first == pytest.approx(36.0)
    assert second == pytest.approx(6.88, abs=0.01)
    assert pumping_time(t_1=first, t_2=second) == pytest.approx(42.9, abs=0.05)


def test_lowest_pressure_with_a_leak():
    # Source: textbook, p = Q/S; 0.5 mbar·L/s and 50 L/min: 0.6 mbar. 1 mbar·L/s is 100 MPa·mm³/s.
    assert lowest_pressure(p_p=0, Q=50, S=50 * LITRES_PER_MINUTE, p_v=0) == pytest.approx(0.6e-4)
    assert lowest_pressure(p_p=0.003, Q=50, S=50 * LITRES_PER_MINUTE, p_v=0) == pytest.approx(0.00306)
    assert lowest_pressure(p_p=0, Q=50, S=50 * LITRES_PER_MINUTE, p_v=0.002338) == 0.002338


@pytest.mark.parametrize(("strokes", "kilopascal"), [(17, 20.05), (18, 18.22)])
def test_piston_pump(strokes, kilopascal):
    # Source: textbook, p = p0·(V/(V + Vs))^k; 5 L, stroke 0.5 L.
    pressure = hand_pressure(p_0=ATMOSPHERE, p_f=0, V=5 * LITRE, V_s=0.5 * LITRE, c=0, k=strokes)
    assert pressure * 1000 == pytest.approx(kilopascal, abs=0.005)


def test_strokes_to_a_fifth_of_an_atmosphere():
    # Source: textbook; 18 strokes to 20 kPa.
    strokes = hand_strokes(p_0=ATMOSPHERE, p=0.02, p_f=0, V=5 * LITRE, V_s=0.5 * LITRE, c=0)
    assert strokes == 18
    assert isinstance(strokes, int)


def test_strokes_at_the_limit():
    # Exactly what eight strokes reach is eight, a hair less is nine; where it begins is none.
    given = {"p_0": ATMOSPHERE, "p_f": 0.004, "V": 3 * LITRE, "V_s": 0.25 * LITRE, "c": 0.01 * LITRE}
    reached = hand_pressure(**given, k=8)
    assert hand_strokes(**given, p=reached) == 8
    assert hand_strokes(**given, p=reached * (1 - 1e-6)) == 9
    assert hand_strokes(**given, p=ATMOSPHERE) == 0
    with pytest.raises(LayupError, match="lowest that is reached"):
        hand_strokes(**given, p=0.004)


def test_hand_pump_against_air_moved_stroke_by_stroke():
    # Independent: amounts of air. The cylinder's end holds c at ambient; the stroke opens it to the bag, all
    # comes to one pressure, the valve shuts, and the cylinder's air goes out except c at ambient.
    V, V_s, c, p_0 = 2.0, 0.3, 0.02, 101.325
    bag = p_0
    for k in range(1, 60):
        bag = (bag * V + p_0 * c) / (V + V_s + c)
        floor = hand_floor(p_0=p_0, c=c, V_s=V_s)
        assert hand_pressure(p_0=p_0, p_f=floor, V=V, V_s=V_s, c=c, k=k) == pytest.approx(bag, rel=1e-12)
    assert bag == pytest.approx(floor, rel=1e-2)


def test_what_further_strokes_still_bring():
    given = {"p_f": 0.005, "V": 2 * LITRE, "V_s": 0.2 * LITRE, "c": 0.0}
    before = hand_pressure(p_0=ATMOSPHERE, k=10, **given)
    after = hand_pressure(p_0=ATMOSPHERE, k=25, **given)
    assert further_gain(p=before, k=15, **given) == pytest.approx(before - after)
    assert further_gain(p=0.005, k=15, **given) == 0


def test_small_panel_by_hand():
    # Source: common practice: a hand pump brings the film down on a small panel in under a minute, then ten to
    # fifteen more strokes reach the most it can give. Panel 400 × 600, film 10 mm off in the mean, netting 2 mm
    # with 0.8 voids, a pump of 0.2 L swept and 3 % of that at its end, one stroke a second.
    area = 400 * 600
    loose, voids = slack_volume(A=area, h=10), void_volume(A=area, t=2, phi=0.8)
    sweep, end = 0.2 * LITRE, 0.006 * LITRE
    first = slack_strokes(V=loose, V_s=sweep)
    assert hand_time(n=first, t_1=1) < 60
    floor = hand_floor(p_0=ATMOSPHERE, c=end, V_s=sweep)
    # "The most it can give": a gauge on the bench does not show the last hundredth of it.
    most = floor + 0.01 * (ATMOSPHERE - floor)
    assert 10 <= hand_strokes(p_0=ATMOSPHERE, p=most, p_f=floor, V=voids, V_s=sweep, c=end) <= 15


def test_drawing_down_against_integration():
    # Independent: the balance V·p' = −S·p + S·p_pump + Q integrated in time.
    V, S, Q, pump = 4 * LITRE, 30 * LITRES_PER_MINUTE, 200.0, 0.004
    lowest = lowest_pressure(p_p=pump, Q=Q, S=S, p_v=0)
    solved = solve_ivp(lambda t, p: (-S * (p - pump) + Q) / V, (0, 25), [ATMOSPHERE], rtol=1e-10, atol=1e-14)
    reached = solved.y[0, -1]
    assert pressure_after(t=25, V=V, S=S, p_0=ATMOSPHERE, p_u=lowest) == pytest.approx(reached, rel=1e-8)
    assert drawdown_time(V=V, S=S, p_0=ATMOSPHERE, p=reached, p_u=lowest) == pytest.approx(25, rel=1e-8)


def test_targets_out_of_reach_are_refused():
    given = {"V": 4 * LITRE, "S": 30 * LITRES_PER_MINUTE, "p_0": ATMOSPHERE, "p_u": 0.005}
    assert drawdown_time(**given, p=0.0050001) > drawdown_time(**given, p=0.006)
    assert drawdown_time(**given, p=ATMOSPHERE) == 0
    for target in (0.005, 0.004, 0.2):
        with pytest.raises(LayupError, match="a target of"):
            drawdown_time(**given, p=target)


def test_duty_of_a_switched_pump():
    # Independent: the cycle integrated, up and down through the band, at the mean pressure. Leak 30 of the
    # smallest unit, pump 20 L/min, 3 L, at 0.015 MPa.
    V, Q, S, p, band = 3 * LITRE, 30.0, 20 * LITRES_PER_MINUTE, 0.015, 0.0002
    rise = rest_time(V=V, b=band, Q=Q)
    lowest = Q / S
    exact = V / S * log((p + band / 2 - lowest) / (p - band / 2 - lowest))
    # The mean pressure stands for the band: off by its square, (0.0002/0.0132)²/12.
    assert run_time(V=V, b=band, S=S, p=p, Q=Q) == pytest.approx(exact, rel=1e-4)
    assert duty_cycle(Q=Q, S=S, p=p) == pytest.approx(exact / (exact + rise), rel=1e-4)


def test_a_pump_that_only_just_keeps_up_never_stops():
    S = 20 * LITRES_PER_MINUTE
    assert duty_cycle(Q=0.015 * S, S=S, p=0.015) == 1
    assert duty_cycle(Q=0.02 * S, S=S, p=0.015) == 1
    with pytest.raises(LayupError, match="Close the leak"):
        run_time(V=LITRE, b=0.001, S=S, p=0.015, Q=0.015 * S)


def test_volumes():
    # Source: common practice for the numbers: a square metre of 2 mm netting, 0.8 voids, holds 1.6 L.
    assert void_volume(A=1e6, t=2, phi=0.8) == pytest.approx(1.6 * LITRE)
    assert slack_strokes(V=1.6 * LITRE, V_s=0.2 * LITRE) == 8
    assert slack_strokes(V=1.6 * LITRE + 1, V_s=0.2 * LITRE) == 9
