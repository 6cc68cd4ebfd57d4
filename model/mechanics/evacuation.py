"""Drawing the air out of the bag: first the slack film comes down, then the pressure falls in what stays open.

Pressures are absolute. While the film is slack the pressure inside stays that of the room, so a pump only moves
its volume; once the film lies on, the air left is that in the voids of breather, paper, wood and hose, and its
pressure falls. The air keeps the room's temperature. A powered pump moves the volume S per time at the pressure
of its inlet; S falls near its own lowest pressure, which is why times to within a tenth of it are rough.
"""

from math import ceil, exp, log

from ..errors import LayupError
from ..source import Source
from ..units import Count, Mm, Mm2, Mm3, Mm3PerSecond, MPa, MPaMm3PerSecond, Ratio, Second
from ..value import formula

VOLUMES = Source("textbook", "sum of volumes")
PUMPING = Source("textbook", "balance of air in a vessel pumped at constant volume flow")
PISTON = Source("derived", "air shared between bag and cylinder at every stroke (law of Boyle)")


@formula("V", "air in the voids of a layer", "A * t * phi", VOLUMES)
def void_volume(A: Mm2, t: Mm, phi: Ratio) -> Mm3:
    """Air in a layer of area A, thickness t and void part phi."""
    return A * t * phi


@formula("V", "loose air in the bag", "A * h", VOLUMES)
def slack_volume(A: Mm2, h: Mm) -> Mm3:
    """Air between film and work while the film is slack, h being its mean lift over the flat area A."""
    return A * h


@formula("p_u", "lowest pressure that the pump reaches", "max(p_p + Q / S, p_v)", PUMPING)
def lowest_pressure(p_p: MPa, Q: MPaMm3PerSecond, S: Mm3PerSecond, p_v: MPa) -> MPa:
    """Pressure at which a pump of volume flow S, alone down to p_p, just carries off the leak Q.

    Wet glue holds it at the vapour pressure p_v at least (``pressure.vapour_pressure``); give 0 for a dry run.
    """
    return max(p_p + Q / S, p_v)


@formula("t", "time to bring the film down", "V / S", PUMPING)
def slack_time(V: Mm3, S: Mm3PerSecond) -> Second:
    """Time in which a pump of volume flow S takes the loose air V, while the pressure stays the room's."""
    return V / S


@formula("t", "time to draw down to the target", "V / S * log((p_0 - p_u) / (p - p_u))", PUMPING)
def drawdown_time(V: Mm3, S: Mm3PerSecond, p_0: MPa, p: MPa, p_u: MPa) -> Second:
    """Time in which a pump of volume flow S draws the voids V from p_0 to p, its lowest pressure being p_u.

    Raises
    ------
    LayupError
        The target is not between the two: at or below the lowest pressure it is never reached.
    """
    _check_target(p_0, p, p_u)
    return V / S * log((p_0 - p_u) / (p - p_u))


@formula("p", "pressure after pumping", "p_u + (p_0 - p_u) * exp(-S * t / V)", PUMPING)
def pressure_after(t: Second, V: Mm3, S: Mm3PerSecond, p_0: MPa, p_u: MPa) -> MPa:
    """Pressure in the voids V after the time t of pumping from p_0; see ``drawdown_time``."""
    return p_u + (p_0 - p_u) * exp(-S * t / V)


@formula("t", "time a pump needs in all", "t_1 + t_2", PUMPING)
def pumping_time(t_1: Second, t_2: Second) -> Second:
    """Time to bring the film down and then draw down."""
    return t_1 + t_2


@formula("n", "strokes to bring the film down", "ceil(V / V_s - 1e-9)", PISTON)
def slack_strokes(V: Mm3, V_s: Mm3) -> Count:
    """Strokes of a hand pump that sweeps V_s to take the loose air V, at the pressure of the room."""
    # A billionth is taken off, here and below, so that rounding does not add a stroke to a whole number.
    return ceil(V / V_s - 1e-9)


@formula("p_f", "lowest pressure that the hand pump reaches", "p_0 * c / (c + V_s)", PISTON)
def hand_floor(p_0: MPa, c: Mm3, V_s: Mm3) -> MPa:
    """Pressure at which the air left in the pump's end, c, only fills the swept volume V_s again.

    Springs of valves add to it; take the pump's own stated limit where there is one.
    """
    return p_0 * c / (c + V_s)


@formula(
    "p", "pressure after strokes of the hand pump", "p_f + (p_0 - p_f) * (V / (V + V_s + c)) ** k", PISTON
)
def hand_pressure(p_0: MPa, p_f: MPa, V: Mm3, V_s: Mm3, c: Mm3, k: Count) -> MPa:
    """Pressure in the voids V after k strokes from p_0, V_s swept, c left in the pump's end, p_f its floor."""
    return p_f + (p_0 - p_f) * (V / (V + V_s + c)) ** k


@formula(
    "n", "strokes to draw down", "ceil(log((p - p_f) / (p_0 - p_f)) / log(V / (V + V_s + c)) - 1e-9)", PISTON
)
def hand_strokes(p_0: MPa, p: MPa, p_f: MPa, V: Mm3, V_s: Mm3, c: Mm3) -> Count:
    """Strokes to draw the voids V from p_0 to p or lower; see ``hand_pressure`` for the letters.

    Raises
    ------
    LayupError
        The target is not between p_0 and the pump's floor: at or below the floor no number of strokes does it.
    """
    _check_target(p_0, p, p_f)
    return ceil(log((p - p_f) / (p_0 - p_f)) / log(V / (V + V_s + c)) - 1e-9)


@formula("Δp", "what further strokes still bring", "(p - p_f) * (1 - (V / (V + V_s + c)) ** k)", PISTON)
def further_gain(p: MPa, p_f: MPa, V: Mm3, V_s: Mm3, c: Mm3, k: Count) -> MPa:
    """Fall of pressure that k more strokes bring from p on; see ``hand_pressure`` for the letters."""
    return (p - p_f) * (1 - (V / (V + V_s + c)) ** k)


@formula("t", "time at the hand pump", "n * t_1", VOLUMES)
def hand_time(n: Count, t_1: Second) -> Second:
    """Time for n strokes of t_1 each."""
    return n * t_1


@formula("t_off", "time the pump rests", "V * b / Q", PUMPING)
def rest_time(V: Mm3, b: MPa, Q: MPaMm3PerSecond) -> Second:
    """Time in which the leak Q lifts the pressure in the voids V by the switch's band b."""
    return V * b / Q


@formula("t_on", "time the pump runs", "V * b / (S * p - Q)", PUMPING)
def run_time(V: Mm3, b: MPa, S: Mm3PerSecond, p: MPa, Q: MPaMm3PerSecond) -> Second:
    """Time in which a pump takes the voids V down again by the band b at about p, while Q leaks in.

    p is counted from the pump's own lowest pressure without a leak.

    Raises
    ------
    LayupError
        The pump carries off no more than leaks in: it never stops.
    """
    if S * p <= Q:
        raise LayupError(
            "",
            f"a leak of {Q:.4g} MPa·mm³/s",
            f"less than the {S * p:.4g} that the pump moves",
            "Close the leak.",
        )
    return V * b / (S * p - Q)


@formula("D", "part of the time that the pump runs", "min(Q / (S * p), 1)", PUMPING)
def duty_cycle(Q: MPaMm3PerSecond, S: Mm3PerSecond, p: MPa) -> Ratio:
    """Part of the time that a switched pump runs: what leaks in over what it moves at about p; 1 is always."""
    return min(Q / (S * p), 1)


def _check_target(p_0: MPa, p: MPa, p_u: MPa) -> None:
    if not p_u < p <= p_0:
        raise LayupError(
            "",
            f"a target of {p:.5g} MPa absolute",
            f"more than {p_u:.5g}, the lowest that is reached, and no more than {p_0:.5g}, where pumping begins",
            "Ask for less, stop leaks, or take a better pump.",
        )
