"""The curve half way between two joined profiles, as a profile of its own."""

from dataclasses import dataclass

import numpy as np

from ..units import Mm, Radian
from .curve import SPANS, TurnedPiece, even_steps
from .joining import Joining
from .profile import Floats, Piece, Profile, Run


@dataclass(frozen=True)
class MeanPiece:
    """A stretch of the curve half way between two joined profiles, from cut ``first`` to cut ``last``."""

    joining: Joining
    first: int
    last: int

    @property
    def length(self) -> Mm:
        """Mean of the lengths of both."""
        return float(self._u[-1] - self._u[0])

    @property
    def turn(self) -> Radian:
        """Turn of the normal from start to end."""
        return float(self.turned(np.array([self.length]))[0])

    @property
    def _u(self) -> Floats:
        return self.joining.cuts[self.first : self.last + 1, 0]

    def bend(self, s: Floats) -> Floats:
        """Turn of the normal per length: between those of both profiles."""
        return self.joining.bends.at(s + self._u[0])[:, 0]

    def rate(self, s: Floats) -> Floats:
        """Change of the bend per length, from its slope over a thousandth of the piece."""
        step = 5e-4 * self.length
        low, high = np.maximum(s - step, 0.0), np.minimum(s + step, self.length)
        return np.asarray((self.bend(high) - self.bend(low)) / (high - low))

    def turned(self, s: Floats) -> Floats:
        """Turn of the normal from the start to ``s``."""
        near = self.joining.near
        places = self.joining.places.at(s + self._u[0])[:, 0]
        return near.turned(places) - near.turned(self.joining.cuts[self.first : self.first + 1, 1])

    def breaks(self) -> Floats:
        """Arc lengths between which both profiles are smooth."""
        return np.asarray(self._u - self._u[0])

    def walk(self, s: Floats) -> Floats:
        """Points at ``s`` from the start at the origin, heading along +x."""
        u = np.append(s, 0.0) + self._u[0]
        places = self.joining.places.at(u)
        near, far = self.joining.near, self.joining.far
        points = 0.5 * (_headed(near, places[:, 0]) + _headed(far, places[:, 1]))
        return np.asarray(points[:-1] - points[-1])

    def steps(self, reach: Mm, tolerance: Mm) -> Floats:
        """Arc lengths whose chords stay within the tolerance at distance ``reach``."""
        marks = np.linspace(0.0, self.length, SPANS + 1)
        return even_steps(self, reach, tolerance, np.union1d(marks, self.breaks()))

    def scaled(self, factor: float) -> TurnedPiece:
        """Give the same length with its bend multiplied."""
        return TurnedPiece(self, factor)


def _headed(profile: Profile, places: Floats) -> Floats:
    """Points at places, turned so that the profile heads along +x at the last of them."""
    points = profile.points(places)
    x, z = profile.normals(places[-1:])[0]
    return np.asarray(points @ np.array([[z, x], [-x, z]]))


def middle_profile(joining: Joining) -> Profile:
    """Curve half way between two joined profiles: an arc between arcs, a straight run between straight runs."""
    pieces: list[Piece] = []
    for number, even in enumerate(joining.even.tolist()):
        first, last = joining.cuts[number : number + 2]
        if even:
            length = float(last[0] - first[0])
            turn = float(np.diff(joining.near.turned(np.array([first[1], last[1]])))[0])
            pieces.append(Run(length, turn / length if joining.turns[number, 0] else 0.0))
        elif (
            pieces
            and isinstance(pieces[-1], MeanPiece)
            and (joining.turns[number] == joining.turns[number - 1]).all()
        ):
            pieces[-1] = MeanPiece(joining, pieces[-1].first, number + 1)
        else:
            pieces.append(MeanPiece(joining, number, number + 1))
    return Profile(tuple(pieces))
