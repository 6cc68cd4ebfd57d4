"""A circular arc from the sizes that a woodworker can measure: chord, rise, radius and angle.

Any two fix it. Chord and radius alone leave two arcs open; the flatter one is taken, up to the half round.
More than two must agree.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from ..errors import ShapeError
from ..units import Mm, Radian

AGREEMENT = 1e-3
"""How far a further size may be off what the others imply, relative: a millimetre in a metre of measuring."""

SIZES = ("radius", "angle", "rise", "chord")
"""The four sizes; the pair that comes first in this order fixes the arc."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc:
    """A circular arc with all of its sizes; the angle is the turn from end to end, above 0."""

    radius: Mm
    angle: Radian

    @property
    def chord(self) -> Mm:
        """Straight distance between the ends."""
        return 2.0 * self.radius * math.sin(0.5 * self.angle)

    @property
    def rise(self) -> Mm:
        """Height of the middle above the chord."""
        return self.radius * (1.0 - math.cos(0.5 * self.angle))

    @property
    def length(self) -> Mm:
        """Length along the arc."""
        return self.radius * self.angle


def arc_from(sizes: Mapping[str, float]) -> Arc:
    """Make the arc that fits the given sizes: two or more of chord, rise, radius (mm) and angle (rad).

    Raises
    ------
    ShapeError
        Fewer than two sizes, sizes that no arc has, or a further size that disagrees; the text names the size,
        the value found and the value that the others imply.
    """
    given = [name for name in SIZES if name in sizes]
    if len(given) < 2:
        raise ShapeError(f"a bend needs two of {', '.join(SIZES)}; found {given[0] if given else 'none'}")
    # radius with chord is the one pair with two answers: use it only where nothing else is given
    first, second = given[:2] if len(given) == 2 or given[:2] != ["radius", "chord"] else given[1:3]
    arc = _MAKERS[first, second](sizes[first], sizes[second])
    for name in given:
        implied = getattr(arc, name)
        if abs(implied - sizes[name]) > AGREEMENT * max(abs(implied), 1e-9):
            shown = (math.degrees(implied), "°") if name == "angle" else (implied, " mm")
            found = math.degrees(sizes[name]) if name == "angle" else sizes[name]
            raise ShapeError(
                f"{name} is {found:.6g}{shown[1]}, but {first} and {second} imply {shown[0]:.6g}{shown[1]}; "
                f"correct one of them or leave {name} out"
            )
    return arc


def _radius_angle(radius: float, angle: float) -> Arc:
    return Arc(radius=radius, angle=angle)


def _radius_rise(radius: float, rise: float) -> Arc:
    if rise >= 2.0 * radius:
        raise ShapeError(
            f"rise is {rise:g} mm, but an arc of radius {radius:g} mm rises less than {2.0 * radius:g} mm"
        )
    return Arc(radius=radius, angle=2.0 * math.acos(1.0 - rise / radius))


def _radius_chord(radius: float, chord: float) -> Arc:
    if chord > 2.0 * radius:
        raise ShapeError(
            f"chord is {chord:g} mm, but an arc of radius {radius:g} mm spans {2.0 * radius:g} mm at the most"
        )
    return Arc(radius=radius, angle=2.0 * math.asin(chord / (2.0 * radius)))


def _angle_rise(angle: float, rise: float) -> Arc:
    return Arc(radius=rise / (1.0 - math.cos(0.5 * angle)), angle=angle)


def _angle_chord(angle: float, chord: float) -> Arc:
    return Arc(radius=chord / (2.0 * math.sin(0.5 * angle)), angle=angle)


def _rise_chord(rise: float, chord: float) -> Arc:
    radius = 0.5 * rise + 0.125 * chord * chord / rise
    return Arc(radius=radius, angle=4.0 * math.atan2(rise, 0.5 * chord))


_MAKERS = {
    ("radius", "angle"): _radius_angle,
    ("radius", "rise"): _radius_rise,
    ("radius", "chord"): _radius_chord,
    ("angle", "rise"): _angle_rise,
    ("angle", "chord"): _angle_chord,
    ("rise", "chord"): _rise_chord,
}
