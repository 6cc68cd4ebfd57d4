"""A ruled surface bent more or less than its two profiles say: what springback makes of it, and what makes up for it.

Springback changes the turn of the normal θ′ and nothing else: lengths, and the turn of the rulings within the surface,
stay. The rulings' frame then follows from its own rates::

    across′ = −φ′·along − θ′·normal,   along′ = φ′·across,   normal′ = θ′·across
    middle′ = g·across + c·along

Source: moving frame of a surface along a curve (textbook, differential geometry).
"""

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from numpy.polynomial import legendre

from ..units import Mm, Ratio
from .profile import Floats, Profile
from .ruled import Frames, Ruled, ruled
from .series import DEGREE, FIT, NODES, Series, series_of

RUNNING = legendre.legval(
    np.append(NODES, 1.0), legendre.legint(np.eye(DEGREE + 1), lbnd=-1) @ FIT, tensor=True
).T
"""Integrals from −1 to each node, and to 1, of what has given values at the nodes."""

ROUNDS = 40
"""Rounds of solving at the most; each gains more than the last, and most surfaces need a dozen."""

PLACED = 200
"""Steps at which the ends are held against a plane."""


@dataclass(frozen=True, eq=False)
class Sprung:
    """A ruled surface whose normal turns ``factor`` times as far.

    It is placed as its pressed state is: the middle of the near chord at the height of the origin, that chord level, and
    both ends as nearly in planes across the width as they can be.
    """

    ruled: Ruled
    factor: Ratio

    def frames(self, u: Floats) -> Frames:
        """Rulings in space; past the ends they go on parallel to the last one, along the tangent plane."""
        rotation, origin = self._placing
        found = self._loose(u)
        return Frames(
            middle=found.middle @ rotation + origin,
            across=found.across @ rotation,
            along=found.along @ rotation,
            normal=found.normal @ rotation,
        )

    def _loose(self, u: Floats) -> Frames:
        """Rulings with the frame of the first one as axes."""
        half = self.ruled.half
        within = np.clip(u, -half, half)
        across, along, normal = np.split(self._turned.at(within), 3, axis=1)
        rates = self.ruled.rates(within)
        past = (u - within)[:, None] * (rates.g[:, None] * across + rates.c[:, None] * along)
        return Frames(self._middle.at(within) + past, across, along, normal)

    @cached_property
    def _turned(self) -> Series:
        """Frames by u, nine columns: across, along, normal."""
        breaks = self.ruled.heading.breaks
        half = 0.5 * np.diff(breaks)
        u = (0.5 * (breaks[1:] + breaks[:-1]))[:, None] + half[:, None] * NODES
        rates = self.ruled.rates(u.ravel())
        phi, theta = rates.phi.reshape(u.shape), self.factor * rates.theta.reshape(u.shape)
        turning = np.zeros((*u.shape, 3, 3))
        turning[..., 0, 1], turning[..., 0, 2] = -phi, -theta
        turning[..., 1, 0], turning[..., 2, 0] = phi, theta
        solved, ends = _solved(turning, half)
        start = np.eye(3)
        frames = []
        for values, end in zip(solved, ends, strict=True):
            frames.append(values @ start)
            start = end @ start
        values = np.array(frames).reshape(*u.shape, 9)
        return Series(breaks, np.einsum("tn,snk->tsk", FIT, values))

    @cached_property
    def _middle(self) -> Series:
        """Middle points by u."""

        def move(u: Floats) -> Floats:
            across, along, _ = np.split(self._turned.at(u), 3, axis=1)
            rates = self.ruled.rates(u)
            return rates.g[:, None] * across + rates.c[:, None] * along

        return series_of(move, self._turned.breaks, np.ones(3)).integral()

    @cached_property
    def _placing(self) -> tuple[Floats, Floats]:
        """Rotation of row vectors and origin that place the surface."""
        u = np.linspace(-self.ruled.half, self.ruled.half, PLACED + 1)
        loose, half = self._loose(u), self.ruled.rates(u).half[:, None]
        near, far = loose.middle - half * loose.along, loose.middle + half * loose.along
        scatter = sum((edge - edge.mean(axis=0)).T @ (edge - edge.mean(axis=0)) for edge in (near, far))
        y = np.linalg.eigh(scatter)[1][:, 0]
        y *= np.sign(y @ loose.along.sum(axis=0))
        x = near[-1] - near[0]
        x -= (x @ y) * y
        if np.linalg.norm(x) < 1e-9 * self.ruled.half:
            # a full round closes upon itself: then the middle lies level
            x = loose.across[PLACED // 2] - (loose.across[PLACED // 2] @ y) * y
        x /= np.linalg.norm(x)
        rotation = np.column_stack((x, y, np.cross(x, y)))
        ends = [0.5 * (edge[0] + edge[-1]) @ rotation for edge in (near, far)]
        return rotation, -np.array([ends[0][0], 0.5 * (ends[0][1] + ends[1][1]), ends[0][2]])


def _solved(turning: Floats, half: Floats) -> tuple[Floats, Floats]:
    """Frames at the nodes of each span and at its end, from the unit frame at its start.

    Values at the nodes are put into the integral of the rates until they no longer change.
    """
    frames = np.broadcast_to(np.eye(3), turning.shape).copy()
    for _ in range(ROUNDS):
        moves = np.einsum("mn,snij->smij", RUNNING, turning @ frames) * half[:, None, None, None]
        found = np.eye(3) + moves
        change = float(np.abs(found[:, :-1] - frames).max())
        frames = found[:, :-1]
        if change < 1e-15:
            break
    return frames, found[:, -1]


@lru_cache(maxsize=64)
def sprung(near: Profile, far: Profile, width: Mm, lift: Mm, factor: Ratio, shift: Mm = 0.0) -> Sprung:
    """Surface between two profiles, its normal turning ``factor`` times as far."""
    return Sprung(ruled(near, far, width, lift, shift), factor)
