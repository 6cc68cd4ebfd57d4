"""The surface between two joined profiles: its rulings in space, and the same rulings laid flat.

At each u stands a frame: across (in the surface, square to the ruling, toward larger u), along (the ruling, from the
near end to the far one) and the normal (up). With the rates

* g: how far the curve half way between the profiles moves across, per u,
* c: how far it moves along the ruling, per u,
* φ′: turn of the rulings within the surface, per u, positive where they spread toward the far end,
* θ′: turn of the normal, per u, positive over a crown,

the surface at the distance d is measured by (g + w·φ′ + d·θ′)² du² + (c du + dw)² + dd². Laid flat, the rulings turn by
∫φ′, whatever d is, so that the pattern at d follows from two integrals.
"""

import math
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from ..units import Mm, Radian
from .joining import Joining, demand_joined
from .profile import Floats, Profile
from .series import Series, series_of


@dataclass(frozen=True, slots=True)
class Frames:
    """Rulings in space, each ``(n, 3)``: middle points, and unit vectors across, along and normal."""

    middle: Floats
    across: Floats
    along: Floats
    normal: Floats


@dataclass(frozen=True, slots=True)
class Rates:
    """Rates at places, each ``(n,)``; see the head of this file. ``half`` is half the length of the ruling, mm."""

    g: Floats
    c: Floats
    phi: Floats
    theta: Floats
    half: Floats


@dataclass(frozen=True, eq=False)
class Ruled:
    """The surface between two joined profiles.

    Parameters
    ----------
    joining
        Which places are joined.
    width
        Distance between the planes of both profiles, mm.
    lift, shift
        How much higher the middle of the far chord lies, and how far along, mm.
    tilt
        Turn of the far profile that makes its first tangent that of the near one, rad; 0 where it is so already.
    """

    joining: Joining
    width: Mm
    lift: Mm
    tilt: Radian
    shift: Mm

    @property
    def half(self) -> Mm:
        """Largest u of the rulings."""
        return self.joining.half

    def frames(self, u: Floats) -> Frames:
        """Rulings in space; past the ends they go on parallel to the last one, along the tangent plane."""
        within = np.clip(u, -self.half, self.half)
        places = self.joining.places.at(within)
        middle, tangent, along, normal = self._raised(places)
        return Frames(
            middle=middle + (u - within)[:, None] * tangent,
            across=np.cross(along, normal),
            along=along,
            normal=normal,
        )

    def rates(self, u: Floats) -> Rates:
        """Rates; past the ends nothing turns."""
        within = np.clip(u, -self.half, self.half)
        found = self._rates.at(within)
        found[within != u, 2:4] = 0.0
        return Rates(*found.T)

    def slopes(self, u: Floats) -> Rates:
        """Changes of the rates per u; past the ends nothing changes."""
        within = np.clip(u, -self.half, self.half)
        found = self._slopes.at(within)
        found[within != u] = 0.0
        return Rates(*found.T)

    @cached_property
    def _slopes(self) -> Series:
        return self._rates.slope()

    @cached_property
    def _rates(self) -> Series:
        turn = 1.0 / self.half
        return series_of(
            self._rates_of, self.joining.places.breaks, np.array([1.0, 1.0, turn, turn, self.width])
        )

    @cached_property
    def heading(self) -> Series:
        """Turn of the rulings in the flat pattern from the one at u = 0, positive clockwise."""
        turns = Series(self._rates.breaks, self._rates.coefficients[:, :, 2:3])
        return turns.integral().less(0.0)

    @cached_property
    def flat(self) -> Series:
        """Middle points in the flat pattern (x, y), then what they move by per distance d (x, y); zero at u = 0."""

        def move(u: Floats) -> Floats:
            across, along = directions(self.heading.at(u)[:, 0])
            g, c, _, theta, _ = self._rates.at(u).T
            return np.column_stack((g[:, None] * across + c[:, None] * along, theta[:, None] * across))

        scale = np.array([1.0, 1.0, 1.0 / self.half, 1.0 / self.half])
        return series_of(move, self.heading.breaks, scale).integral().less(0.0)

    @cached_property
    def turned(self) -> Series:
        """Turn of the normal from u = 0, rad; signed, as the bends add up."""
        turns = Series(self._rates.breaks, self._rates.coefficients[:, :, 3:4])
        return turns.integral().less(0.0)

    def _raised(self, places: Floats) -> tuple[Floats, Floats, Floats, Floats]:
        """Middle points, tangents of the profiles, rulings and normals, each ``(n, 3)``."""
        near, far = self.joining.near, self.joining.far
        c, s = math.cos(self.tilt), math.sin(self.tilt)
        one = near.points(places[:, 0])
        other = far.points(places[:, 1]) @ np.array([[c, s], [-s, c]]) + np.array([self.shift, self.lift])
        upright = near.normals(places[:, 0])
        none = np.zeros(len(places))
        tangent = np.column_stack((upright[:, 1], none, -upright[:, 0]))
        reach = np.column_stack((other[:, 0] - one[:, 0], none + self.width, other[:, 1] - one[:, 1]))
        along = reach / np.linalg.norm(reach, axis=1, keepdims=True)
        normal = np.cross(tangent, along)
        normal /= np.linalg.norm(normal, axis=1, keepdims=True)
        middle = 0.5 * (one + other)
        return np.column_stack((middle[:, 0], none, middle[:, 1])), tangent, along, normal

    def _rates_of(self, u: Floats) -> Floats:
        """Columns g, c, φ′, θ′ and half the length of the ruling, between the cuts."""
        places = self.joining.places.at(u)
        near = self.joining.near
        one, other = self.joining.growth(u, places[:, 0], places[:, 1])
        _, tangent, along, normal = self._raised(places)
        g = (tangent * np.cross(along, normal)).sum(axis=1)
        c = (tangent * along).sum(axis=1)
        length = self.width / along[:, 1]
        upright = near.normals(places[:, 0])
        leaning = upright[:, 0] * normal[:, 0] + upright[:, 1] * normal[:, 2]
        turn = self.joining.bends.at(u)[:, 0]
        return np.column_stack((g, c, (other - one) / length * g, turn * leaning / g, 0.5 * length))


def directions(heading: Floats) -> tuple[Floats, Floats]:
    """Unit vectors ``(n, 2)`` across and along in the flat pattern, where the rulings have turned clockwise so far."""
    c, s = np.cos(heading), np.sin(heading)
    return np.column_stack((c, -s)), np.column_stack((s, c))


@lru_cache(maxsize=64)
def ruled(near: Profile, far: Profile, width: Mm, lift: Mm, shift: Mm = 0.0) -> Ruled:
    """Surface between two profiles.

    Raises
    ------
    ShapeError
        No flat sheet takes that shape.
    """
    joining = demand_joined(near, far, width, lift)
    return Ruled(joining, width, lift, _tilt(near, far), shift)


def _tilt(near: Profile, far: Profile) -> Radian:
    """Turn of the far profile that makes its first tangent that of the near one."""
    x, z = near.normals(np.array([-0.5 * near.length]))[0]
    far_x, far_z = far.normals(np.array([-0.5 * far.length]))[0]
    turn = math.atan2(far_x * z - far_z * x, far_x * x + far_z * z)
    return turn if abs(turn) > 1e-9 else 0.0
