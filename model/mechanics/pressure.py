"""Pressure: what the air of the place can give, and what presses on the work.

``p`` is always the pressure that a gauge on the bag reads: how far the bag lies below the air outside. A gauge
reads against the air of the place, so the altitude limits how deep it can read and never changes what a reading
means.
"""

import math

from ..source import Source
from ..units import Celsius, Mm, Mm2, MPa, Newton, NewtonPerMm, PerMm, Ratio
from ..value import formula

STANDARD_ATMOSPHERE = Source(
    "standard", "U.S. Standard Atmosphere 1976 (the model of ISO 2533)", "the layer below 11 km"
)
ALTIMETER = Source(
    "derived", "ISO 2533, Standard atmosphere", "shifted until the sea level reads as reported"
)
VAPOUR = Source(
    "from memory",
    "IAPWS SR1-86 (1992), saturation properties of water",
    "agrees with printed steam tables to 0.1 %",
)
FORCE = Source("textbook", "statics", "force = pressure × area")
BALANCE = Source(
    "textbook", "gas mixtures", "the bag's pressure is that of water vapour plus that of what air remains"
)
MEMBRANE = Source("textbook", "boiler formula", "a stretched film on a bend presses with tension × curvature")


@formula(
    "p_air",
    "air pressure at the altitude (standard atmosphere, altitude above sea level as surveyed)",
    "0.101325 * (1 - 6.5e-6 * (6356766000 * z / (6356766000 + z)) / 288.15) ** 5.25588",
    STANDARD_ATMOSPHERE,
)
def air_pressure(z: Mm) -> MPa:
    """Pressure of the standard atmosphere at a geometric altitude.

    The altitude in mm is first turned into the geopotential one, by which the standard is written.

    Source: U.S. Standard Atmosphere 1976, which is that of ISO 2533.
    """
    geopotential = 6356766000 * z / (6356766000 + z)
    return float(0.101325 * (1 - 6.5e-6 * geopotential / 288.15) ** 5.25588)


@formula(
    "p_air",
    "air pressure at the place, from a weather report that is given for sea level",
    "(q ** (1 / 5.25588) - 0.101325 ** (1 / 5.25588) * 6.5e-6 * (6356766000 * z / (6356766000 + z)) / 288.15)"
    " ** 5.25588",
    ALTIMETER,
)
def air_pressure_from_report(q: MPa, z: Mm) -> MPa:
    """Pressure at altitude ``z`` when the weather report says ``q`` for sea level.

    Weather services print pressures reduced to sea level; the air of the place is thinner by the same column of
    standard atmosphere. A barometer standing beside the bag needs no such step.

    Source: the standard atmosphere, moved in height until it gives ``q`` at sea level.
    """
    geopotential = 6356766000 * z / (6356766000 + z)
    root = 1 / 5.25588
    return float((q**root - 0.101325**root * 6.5e-6 * geopotential / 288.15) ** 5.25588)


@formula(
    "p_w",
    "vapour pressure of water at the temperature",
    "22.064 * exp(647.096 / (T + 273.15) * (-7.85951783 * (1 - (T + 273.15) / 647.096)"
    " + 1.84408259 * (1 - (T + 273.15) / 647.096) ** 1.5 - 11.7866497 * (1 - (T + 273.15) / 647.096) ** 3"
    " + 22.6807411 * (1 - (T + 273.15) / 647.096) ** 3.5 - 15.9618719 * (1 - (T + 273.15) / 647.096) ** 4"
    " + 1.80122502 * (1 - (T + 273.15) / 647.096) ** 7.5))",
    VAPOUR,
)
def vapour_pressure(T: Celsius) -> MPa:
    """Pressure of the vapour over wet glue, below which a bag can't stay while water is left; 0 to 374 °C.

    Source: IAPWS SR1-86 (1992).
    """
    absolute = T + 273.15
    v = 1 - absolute / 647.096
    powers = (
        (-7.85951783, 1.0),
        (1.84408259, 1.5),
        (-11.7866497, 3.0),
        (22.6807411, 3.5),
        (-15.9618719, 4.0),
        (1.80122502, 7.5),
    )
    return 22.064 * math.exp(647.096 / absolute * sum(a * v**power for a, power in powers))


@formula("p_max", "deepest gauge reading that the air of the place can give", "p_air - p_w - p_u", BALANCE)
def deepest_gauge(p_air: MPa, p_w: MPa, p_u: MPa) -> MPa:
    """Deepest reading below ambient: the air, less the vapour of water and what air the pump leaves.

    Parameters
    ----------
    p_air
        Pressure of the air of the place.
    p_w
        Vapour pressure of the glue's water; 0 for a glue without water.
    p_u
        Lowest pressure that the pump reaches on dry air; 0 for an ideal one.
    """
    return p_air - p_w - p_u


@formula("p_bag", "absolute pressure in the bag", "p_air - p", BALANCE)
def bag_pressure(p_air: MPa, p: MPa) -> MPa:
    """Pressure that remains in the bag at the gauge reading ``p``; negative where no bag can be so empty."""
    return p_air - p


@formula("F", "force of the air on the area", "p * A", FORCE)
def force(p: MPa, A: Mm2) -> Newton:
    """Force of the pressure ``p`` on the area ``A``: what presses the work, or what a platen carries."""
    return p * A


@formula(
    "p_c",
    "contact pressure on the bend (curvature positive on a crown, negative in a hollow)",
    "p + T * k",
    MEMBRANE,
)
def contact_pressure(p: MPa, T: NewtonPerMm, k: PerMm) -> MPa:
    """Pressure between film and work where the film, stretched by ``T`` per width, follows the curvature ``k``.

    On a crown the film's tension adds to the pressure, in a hollow it takes from it; at or below 0 the film has
    left the work.
    """
    return p + T * k


@formula("u", "pressure over what the core bears through its thickness", "p / f_c", FORCE)
def crush_ratio(p: MPa, f_c: MPa) -> Ratio:
    """Share of the core's compressive strength through its thickness that the pressure uses; crushed above 1."""
    return p / f_c


@formula("q", "line load on the rib", "r * p * s", FORCE)
def rib_load(p: MPa, s: Mm, r: Ratio) -> NewtonPerMm:
    """Force per length of a rib that stands ``s`` from its neighbours and carries the share ``r`` of a bay."""
    return r * p * s
