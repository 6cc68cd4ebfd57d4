"""Leaks: how much comes in, and how far a gauge may fall in the first minutes if pressure is to last for hours.

With the pump shut off, a gauge falls as air leaks into the voids of the bag. Two simple courses of the fall are
given. *Linear*: the leak stays the same, as it does through a hole while the bag is below about half the
pressure of the room (the flow is choked); the fall in the first minutes is the same part of the whole as their
time. *Exponential*: the leak weakens with the gauge, as it does through fine pores and long seams; more may
fall at first. Linear allows less, so it is the safe one.

In the first ten to twenty minutes water vapour and air out of the wood look like a leak, and 3 °C of warming
like one of a hundredth; test again before looking for a hole.
"""

from dataclasses import dataclass
from math import isfinite, log, pi, sqrt

from ..errors import LayupError
from ..source import Source
from ..units import Celsius, Mm, Mm3, Mm3PerSecond, MPa, MPaMm3PerSecond, Ratio, Second
from ..value import formula

RISE = Source("textbook", "rate of pressure rise in a closed volume")
LINEAR = Source("derived", "a leak that stays the same")
EXPONENTIAL = Source("derived", "a leak in proportion to the gauge reading")
CHOKED = Source("textbook", "choked flow of a perfect gas through an orifice", "ratio of specific heats 1.4")


@dataclass(frozen=True, slots=True, kw_only=True)
class AllowedFall:
    """How far the gauge may have fallen at one look, by the two courses of the fall.

    Parameters
    ----------
    after
        Time since the pump was shut off.
    linear
        Allowed fall if the leak stays the same: the safe one.
    exponential
        Allowed fall if the leak weakens with the gauge.
    """

    after: Second
    linear: MPa
    exponential: MPa


@formula("Q", "leak", "V * d / t", RISE)
def leak_rate(V: Mm3, d: MPa, t: Second) -> MPaMm3PerSecond:
    """Leak into the voids V from the fall d of the gauge in the time t, pump shut off, temperature the same."""
    return V * d / t


@formula("q", "leak as air of the room", "Q / p_a", RISE)
def free_air(Q: MPaMm3PerSecond, p_a: MPa) -> Mm3PerSecond:
    """Volume of the room's air, of pressure p_a, that leaks in per time."""
    return Q / p_a


@formula("d", "fall of the gauge that may be seen, leak staying the same", "(g - g_l) * t / t_c", LINEAR)
def linear_fall(g: MPa, g_l: MPa, t: Second, t_c: Second) -> MPa:
    """Fall allowed after the time t so that a reading g is still g_l after t_c, falling evenly."""
    return (g - g_l) * t / t_c


@formula(
    "d", "fall of the gauge that may be seen, leak weakening", "g * (1 - (g_l / g) ** (t / t_c))", EXPONENTIAL
)
def exponential_fall(g: MPa, g_l: MPa, t: Second, t_c: Second) -> MPa:
    """Fall allowed after the time t so that a reading g is still g_l after t_c, the leak falling with the gauge."""
    return float(g * (1 - (g_l / g) ** (t / t_c)))


@formula("t", "time that the pressure holds, leak staying the same", "t * (g - g_l) / d", LINEAR)
def linear_hold(g: MPa, g_l: MPa, d: MPa, t: Second) -> Second:
    """Time until a reading g has fallen to g_l where it fell by d in the time t, if it goes on evenly."""
    return t * (g - g_l) / d


@formula(
    "t", "time that the pressure holds, leak weakening", "t * log(g / g_l) / log(g / (g - d))", EXPONENTIAL
)
def exponential_hold(g: MPa, g_l: MPa, d: MPa, t: Second) -> Second:
    """Time until a reading g has fallen to g_l where it fell by d in the time t, the leak falling with the gauge.

    Raises
    ------
    LayupError
        The fall is as much as the reading was, or nothing.
    """
    if not 0 < d < g:
        raise LayupError("", f"a fall of {d:.5g} MPa", f"more than 0 and less than the reading, {g:.5g} MPa")
    return t * log(g / g_l) / log(g / (g - d))


@formula(
    "d",
    "width of one round hole that leaks as much",
    "sqrt(4 * q / (pi * C * 1000 * sqrt(1.4 * 287.05 * (T + 273.15)) * (2 / 2.4) ** 3))",
    CHOKED,
)
def hole_diameter(q: Mm3PerSecond, C: Ratio, T: Celsius) -> Mm:
    """Diameter of the hole through which the flow q of the room's air at temperature T comes in, choked.

    C is the hole's discharge coefficient, 0.6 to 0.9. It holds while the pressure in the bag is below 0.53 of
    the room's; real leaks are seldom one round hole, so this says how small a thing to look for.
    """
    return sqrt(4 * q / (pi * C * 1000 * sqrt(1.4 * 287.05 * (T + 273.15)) * (2 / 2.4) ** 3))


def fall_table(g: MPa, g_l: MPa, t_c: Second, looks: tuple[Second, ...]) -> tuple[AllowedFall, ...]:
    """Give the falls allowed at each look, such as 5 and 30 minutes, for a reading g that must be g_l after t_c.

    Parameters
    ----------
    g
        Reading when the pump is shut off.
    g_l
        Least reading at the end of the cure.
    t_c
        Time of the cure.
    looks
        Times of the looks; one after the end of the cure counts as one at the end.

    Raises
    ------
    LayupError
        The least reading is not between 0 and the reading, or a time is not positive.
    """
    if not 0 < g_l < g:
        raise LayupError(
            "", f"a least reading of {g_l:.5g} MPa", f"more than 0 and less than {g:.5g}, the first"
        )
    if not t_c > 0 or not isfinite(t_c):
        raise LayupError("", f"a cure of {t_c:g} s", "a time greater than 0")
    if any(not look > 0 for look in looks):
        raise LayupError(
            "", f"looks after {', '.join(f'{look:g}' for look in looks)} s", "times greater than 0"
        )
    return tuple(
        AllowedFall(
            after=look,
            linear=linear_fall(g=g, g_l=g_l, t=min(look, t_c), t_c=t_c),
            exponential=exponential_fall(g=g, g_l=g_l, t=min(look, t_c), t_c=t_c),
        )
        for look in looks
    )
