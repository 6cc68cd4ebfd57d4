"""Profiles: the planar curve that a sheet follows along its length.

A profile is a chain of pieces that meet with a common tangent. t is the arc length along it, zero at
mid-length. A piece bends by ``bend`` = turn of the normal per length, positive where the work is convex
upward (a crown), negative in a hollow. Past its ends a profile goes on along the tangent.

A profile is placed with its chord level and the chord's middle at the origin: x along the chord, z up.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from ..errors import ShapeError
from ..units import Mm, PerMm, Radian

Floats = NDArray[np.float64]


class Piece(Protocol):
    """One piece of a profile, described from its own start, where it heads along +x."""

    @property
    def length(self) -> Mm:
        """Arc length."""

    @property
    def turn(self) -> Radian:
        """Turn of the normal from start to end, positive over a crown."""

    def bend(self, s: Floats) -> Floats:
        """Turn of the normal per length at arc lengths ``s``, 1/mm."""

    def rate(self, s: Floats) -> Floats:
        """Change of the bend per length at arc lengths ``s``, 1/mm²."""

    def turned(self, s: Floats) -> Floats:
        """Turn of the normal from the start to arc lengths ``s``, rad."""

    def breaks(self) -> Floats:
        """Arc lengths, start and end included, between which the piece is smooth."""

    def walk(self, s: Floats) -> Floats:
        """Points ``(n, 2)`` at arc lengths ``s``, mm, from the start at the origin heading along +x."""

    def steps(self, reach: Mm, tolerance: Mm) -> Floats:
        """Arc lengths, start and end included, whose chords stay within the tolerance at distance ``reach``."""

    def scaled(self, factor: float) -> "Piece":
        """Give the same length with its bend multiplied: the state after springback."""


@dataclass(frozen=True, slots=True)
class Run:
    """A piece of constant bend: a straight run (``curvature`` 0) or a circular arc.

    Parameters
    ----------
    length
        Arc length, mm.
    curvature
        Turn of the normal per length, 1/mm; positive over a crown.
    """

    length: Mm
    curvature: PerMm

    @property
    def turn(self) -> Radian:
        """Turn of the normal from start to end."""
        return self.length * self.curvature

    def bend(self, s: Floats) -> Floats:
        """Turn of the normal per length at ``s``: the same everywhere."""
        return np.full_like(s, self.curvature)

    def rate(self, s: Floats) -> Floats:
        """Change of the bend per length at ``s``: none."""
        return np.zeros_like(s)

    def turned(self, s: Floats) -> Floats:
        """Turn of the normal from the start to ``s``."""
        return s * self.curvature

    def breaks(self) -> Floats:
        """Both ends: an arc is smooth."""
        return np.array([0.0, self.length])

    def walk(self, s: Floats) -> Floats:
        """Points at arc lengths ``s``; exact for arcs and straight runs alike."""
        half = 0.5 * s * self.curvature
        # chord of an arc: s · sin(half)/half, at half the turn below the heading; sinc keeps half = 0 exact
        chord = s * np.sinc(half / math.pi)
        return np.column_stack((chord * np.cos(half), -chord * np.sin(half)))

    def steps(self, reach: Mm, tolerance: Mm) -> Floats:
        """Equal steps; the sagitta of each chord at the outermost layer stays within the tolerance."""
        if self.curvature == 0.0:
            return np.array([0.0, self.length])
        radius = 1.0 / abs(self.curvature) + reach
        # acos(1 − x) written so that a very flat arc keeps its digits
        step = 4.0 * math.asin(math.sqrt(min(1.0, 0.5 * tolerance / radius)))
        count = max(1, math.ceil(abs(self.turn) / step))
        return np.linspace(0.0, self.length, count + 1)

    def scaled(self, factor: float) -> "Run":
        """Give the same length with its curvature multiplied."""
        return Run(self.length, self.curvature * factor)


@dataclass(frozen=True, slots=True)
class Profile:
    """A chain of pieces with common tangents.

    Raises
    ------
    ShapeError
        There is no piece, or a piece has no length.
    """

    pieces: tuple[Piece, ...]

    def __post_init__(self) -> None:
        if not self.pieces:
            raise ShapeError("a profile needs at least one piece")
        for number, piece in enumerate(self.pieces, 1):
            if not (math.isfinite(piece.length) and piece.length > 0.0):
                raise ShapeError(
                    f"piece {number} of the profile is {piece.length} mm long; a length above 0 is needed"
                )

    @property
    def length(self) -> Mm:
        """Arc length of the whole profile."""
        return math.fsum(piece.length for piece in self.pieces)

    @property
    def turn(self) -> Radian:
        """Net turn of the normal from the first end to the last."""
        return math.fsum(piece.turn for piece in self.pieces)

    @property
    def swing(self) -> Radian:
        """Largest turn of the normal between any two places: the net turn of an arc, more where a curve turns back."""
        return float(np.ptp(self.turned(self.places())))

    @property
    def has_hollow(self) -> bool:
        """Whether any part of it is hollow."""
        return bool((self.bend(self.places()) < 0.0).any())

    def places(self) -> Floats:
        """Places t in rising order, so close that nothing of the curve's bend is missed between them."""
        t = self.stations(1.0, 0.1)
        return np.sort(np.concatenate((t, 0.5 * (t[1:] + t[:-1]))))

    def tightest(self) -> Mm:
        """Place t where it is bent most; the middle of an arc."""
        t = self.places()
        return self.middled(float(t[int(np.abs(self.bend(t)).argmax())]))

    @property
    def is_flat(self) -> bool:
        """Whether the profile is one straight line."""
        return all(piece.turn == 0.0 and isinstance(piece, Run) for piece in self.pieces)

    @property
    def is_even(self) -> bool:
        """Whether one radius holds all along: a single arc, or no bend at all."""
        return len(self.pieces) == 1 and isinstance(self.pieces[0], Run)

    def middled(self, t: Mm) -> Mm:
        """Give the middle of the arc that a place t lies on; the place itself on any other piece, or past the ends."""
        joints, number = self.joints(), self._number_at(t)
        if not 0 <= number < len(self.pieces) or not isinstance(self.pieces[number], Run):
            return t
        return float(0.5 * (joints[number] + joints[number + 1]))

    def is_arc_at(self, t: Mm) -> bool:
        """Whether a place t lies on an arc or a straight run, not on another curve; past the ends it is straight."""
        number = self._number_at(t)
        return not 0 <= number < len(self.pieces) or isinstance(self.pieces[number], Run)

    def _number_at(self, t: Mm) -> int:
        """Number of the piece that a place t lies on, from 0; -1 or one too many past the ends."""
        return int(np.searchsorted(self.joints(), t, side="right")) - 1

    def joints(self) -> Floats:
        """Places t where pieces begin and end, both ends included; ``(pieces + 1,)``, mm, read-only."""
        return _joints(self)

    def bend(self, t: Floats) -> Floats:
        """Turn of the normal per length at ``t``, 1/mm; zero past the ends."""
        bend = np.zeros_like(t)
        within = self._within(t)
        for piece, start, inside in self._pieces_at(within):
            bend[inside] = piece.bend(within[inside] - start)
        bend[within != t] = 0.0
        return bend

    def turned(self, t: Floats) -> Floats:
        """Turn of the normal from the first end to ``t``, rad; constant past the ends."""
        turned = np.zeros_like(t)
        within = self._within(t)
        before = 0.0
        for piece, start, inside in self._pieces_at(within):
            turned[inside] = before + piece.turned(within[inside] - start)
            before += piece.turn
        return turned

    def points(self, t: Floats) -> Floats:
        """Points ``(n, 2)`` of the placed profile, mm; along the tangent past the ends."""
        first, last, starts, headings = _placing(self)
        points = np.zeros((t.size, 2))
        within = self._within(t)
        for number, (piece, start, inside) in enumerate(self._pieces_at(within)):
            points[inside] = starts[number] + piece.walk(within[inside] - start) @ _rotation(headings[number])
        past = t - within
        if past.any():
            points += np.minimum(past, 0.0)[:, None] * _direction(first)
            points += np.maximum(past, 0.0)[:, None] * _direction(last)
        return points

    def normals(self, t: Floats) -> Floats:
        """Unit normals ``(n, 2)``, pointing to the upper side of the work."""
        heading = _placing(self)[0] - self.turned(t)
        normals = np.zeros((t.size, 2))
        np.sin(-heading, out=normals[:, 0])
        np.cos(heading, out=normals[:, 1])
        return normals

    def stations(self, reach: Mm, tolerance: Mm) -> Floats:
        """Places t, ends included, whose chords stay within the tolerance at every distance up to ``reach``."""
        joints = self.joints()
        steps = [
            start + piece.steps(reach, tolerance)[:-1]
            for piece, start in zip(self.pieces, joints, strict=False)
        ]
        return np.concatenate([*steps, joints[-1:]])

    def scaled(self, factor: float) -> "Profile":
        """Give the same lengths with every bend multiplied: how springback opens a profile."""
        return Profile(tuple(piece.scaled(factor) for piece in self.pieces))

    def _within(self, t: Floats) -> Floats:
        """Places brought back to the nearer end where they lie past it."""
        half = 0.5 * self.length
        within: Floats = np.minimum(np.maximum(t, -half), half)
        return within

    def _pieces_at(self, t: Floats) -> Iterator[tuple[Piece, float, "NDArray[np.bool_] | slice"]]:
        """Each piece with its start and which of the places, all of them within the ends, lie on it."""
        joints = self.joints()
        if len(self.pieces) == 1:
            yield self.pieces[0], float(joints[0]), slice(None)
            return
        number = np.searchsorted(joints[1:-1], t, side="right")
        for index, piece in enumerate(self.pieces):
            yield piece, float(joints[index]), number == index


def flat_profile(length: Mm) -> Profile:
    """Profile of a flat panel of the given length."""
    return Profile((Run(length, 0.0),))


def arc_profile(length: Mm, turn: Radian) -> Profile:
    """Profile of one circular arc of the given arc length and turn (positive over a crown)."""
    return Profile((Run(length, turn / length),))


def _direction(heading: float) -> Floats:
    return np.array([math.cos(heading), math.sin(heading)])


def _rotation(heading: float) -> Floats:
    """Matrix that turns row vectors from a piece's own frame to the placed one."""
    c, s = math.cos(heading), math.sin(heading)
    return np.array([[c, s], [-s, c]])


@lru_cache(maxsize=256)
def _joints(profile: Profile) -> Floats:
    """Places where pieces begin and end."""
    half = 0.5 * profile.length
    joints: Floats = np.cumsum([-half] + [piece.length for piece in profile.pieces])
    # summed in another order than the length: the last end must be the same number
    joints[-1] = half
    joints.flags.writeable = False
    return joints


@lru_cache(maxsize=256)
def _placing(profile: Profile) -> tuple[float, float, Floats, tuple[float, ...]]:
    """Headings at both ends, start points of the pieces with the last end, and their headings; chord level."""
    point, heading = np.zeros(2), 0.0
    starts, headings = [point], [heading]
    for piece in profile.pieces:
        point = point + (piece.walk(np.array([piece.length])) @ _rotation(heading))[0]
        heading -= piece.turn
        starts.append(point)
        headings.append(heading)
    chord = math.atan2(point[1], point[0]) if np.hypot(*point) > 1e-9 * profile.length else 0.5 * heading
    # a chord is only known up to whole turns of the headings: take the one nearest to the middle heading
    chord += 2.0 * math.pi * round((0.5 * heading - chord) / (2.0 * math.pi))
    levelled = (np.array(starts) - 0.5 * point) @ _rotation(-chord)
    turned = tuple(value - chord for value in headings)
    return turned[0], turned[-1], levelled, turned[:-1]
