"""Which places of two profiles are joined by a ruling: those with the same direction of the tangent.

Only then the tangent plane stays the same all along the ruling, and the surface between the profiles lies flat without
a stretch. Both profiles are walked stretch by stretch: a stretch turns one way all along, or is straight. Places of two
crowns or two hollows are joined at equal shares of their turn, those of two straight runs at equal shares of their
length.

Source: a ruled surface is developable where the tangent plane is constant along each ruling (textbook, differential
geometry of surfaces).
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from ..errors import ShapeError
from ..units import Mm, Radian
from .profile import Floats, Profile, Run
from .series import Series, series_of
from .twist import stretch_needed

Numbers = NDArray[np.intp]

STRAIGHT: Radian = 1e-9
"""A stretch that turns by less is straight."""

SAME_TURN: Radian = 1e-6
"""Turns that differ by less are the same: over a metre the two sides would part by a thousandth of a millimetre."""

SAME: float = 1e-12
"""Shares of a stretch closer than this are one."""

SEARCHED = 60
"""Steps of the search for a place, of which each at least halves what is left."""

LOOKED = np.linspace(0.0, 1.0, 9)
"""Shares of each smooth part of a curve at which its way of bending is looked at."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """Part of a profile that turns one way all along, or not at all.

    Parameters
    ----------
    start, end
        Places t on the profile, mm.
    turn
        Turn of the normal, positive over a crown; 0 for a straight run.
    """

    start: Mm
    end: Mm
    turn: Radian

    @property
    def way(self) -> int:
        """1 for a crown, −1 for a hollow, 0 for a straight run."""
        return (self.turn > 0.0) - (self.turn < 0.0)


def stretches(profile: Profile) -> tuple[Stretch, ...]:
    """Stretches of a profile, from its first end on."""
    found: list[Stretch] = []
    for part in _parts(profile):
        if found and found[-1].way == part.way:
            found[-1] = Stretch(found[-1].start, part.end, found[-1].turn + part.turn)
        else:
            found.append(part)
    return tuple(found)


def _parts(profile: Profile) -> Iterator[Stretch]:
    """Pieces of a profile, cut where they turn from crown to hollow."""
    joints = profile.joints().tolist()
    for piece, first, last in zip(profile.pieces, joints[:-1], joints[1:], strict=True):
        inside = [] if isinstance(piece, Run) else _inflections(profile, first + piece.breaks())
        marks = np.array([first, *inside, last])
        turns = np.diff(profile.turned(marks)) if inside else np.array([piece.turn])
        for start, end, turn in zip(marks[:-1].tolist(), marks[1:].tolist(), turns.tolist(), strict=True):
            yield Stretch(start, end, turn if abs(turn) > STRAIGHT else 0.0)


def _inflections(profile: Profile, breaks: Floats) -> list[float]:
    """Places between smooth breaks where a curve changes from crown to hollow."""
    t = np.unique((breaks[:-1, None] + LOOKED * np.diff(breaks)[:, None]).ravel())[1:-1]
    bend = profile.bend(t)
    t, bend = t[bend != 0.0], bend[bend != 0.0]
    change = np.flatnonzero(bend[1:] * bend[:-1] < 0.0)
    low, high, sign = t[change], t[change + 1], np.sign(bend[change])
    for _ in range(SEARCHED):
        middle = 0.5 * (low + high)
        before = profile.bend(middle) * sign > 0.0
        low, high = np.where(before, middle, low), np.where(before, high, middle)
    places: list[float] = (0.5 * (low + high)).tolist()
    return places


@dataclass(frozen=True, eq=False)
class Joining:
    """Two profiles joined by rulings.

    u is the length along the curve half way between both, zero in its middle: it grows by the mean of what both
    profiles grow by.

    Parameters
    ----------
    near, far
        The two profiles.
    cuts
        ``(cuts, 3)``: u and the places on both profiles, between which both are smooth.
    turns
        ``(cuts − 1, 2)``: turns of the two stretches that each part belongs to; 0 for a straight run.
    """

    near: Profile
    far: Profile
    cuts: Floats
    turns: Floats

    @property
    def half(self) -> Mm:
        """Largest u; the smallest is its opposite."""
        return float(self.cuts[-1, 0])

    @cached_property
    def places(self) -> Series:
        """Places on both profiles by u, two columns."""
        return series_of(self._solved, self.cuts[:, 0], np.array([self.half, self.half]))

    @cached_property
    def bends(self) -> Series:
        """Turn of the normal per u, one column."""

        def bend(u: Floats) -> Floats:
            places = self.places.at(u)
            one, other = self.growth(u, places[:, 0], places[:, 1])
            near, far = self.near.bend(places[:, 0]), self.far.bend(places[:, 1])
            return np.asarray(0.5 * (near * one + far * other))[:, None]

        return series_of(bend, self.places.breaks, np.array([1.0 / self.half]))

    def growth(self, u: Floats, near: Floats, far: Floats) -> tuple[Floats, Floats]:
        """How fast the places on both profiles grow with u; their sum is 2. Not at an inflection itself."""
        number = self._number(u)
        width = np.diff(self.cuts[:, 1:], axis=0)[number]
        even = 2.0 * width / width.sum(axis=1, keepdims=True)
        turns = self.turns[number]
        bent = turns[:, 0] != 0.0
        safe = np.where(bent[:, None], turns, 1.0)
        one, other = self.near.bend(near) / safe[:, 0], self.far.bend(far) / safe[:, 1]
        total = one + other
        bent &= total > 0.0
        share = np.where(bent, other / np.where(bent, total, 1.0), 0.5 * even[:, 0])
        return 2.0 * share, 2.0 - 2.0 * share

    def _number(self, u: Floats) -> Numbers:
        return np.clip(np.searchsorted(self.cuts[:, 0], u, side="right") - 1, 0, len(self.cuts) - 2)

    def _solved(self, u: Floats) -> Floats:
        """Places on both profiles whose lengths add up and whose shares of turn are equal."""
        number = self._number(u)
        start, end = self.cuts[number], self.cuts[number + 1]
        share = (u - start[:, 0]) / (end[:, 0] - start[:, 0])
        near = start[:, 1] + share * (end[:, 1] - start[:, 1])
        curved = ~self.even[number]
        if curved.any():
            near = near.copy()
            near[curved] = self._searched(u[curved], number[curved], near[curved])
        # both parts add up to twice the way along u
        far = start[:, 2] + 2.0 * (u - start[:, 0]) - (near - start[:, 1])
        return np.column_stack((near, far))

    @cached_property
    def even(self) -> NDArray[np.bool_]:
        """Parts in which both profiles are straight or arcs, so that both places grow evenly."""
        middles = 0.5 * (self.cuts[1:] + self.cuts[:-1])
        return np.array(
            [
                turn == 0.0 or (self.near.is_arc_at(near) and self.far.is_arc_at(far))
                for turn, near, far in zip(self.turns[:, 0], middles[:, 1], middles[:, 2], strict=True)
            ]
        )

    def _searched(self, u: Floats, number: Numbers, near: Floats) -> Floats:
        """Places on the near profile, by Newton's method within bounds that close in."""
        start, turns = self.cuts[number], self.turns[number]
        low, high = start[:, 1].copy(), self.cuts[number + 1, 1].copy()
        near_start, far_start = self.near.turned(start[:, 1]), self.far.turned(start[:, 2])
        for _ in range(SEARCHED):
            far = start[:, 2] + 2.0 * (u - start[:, 0]) - (near - start[:, 1])
            ahead = (self.near.turned(near) - near_start) / turns[:, 0] - (
                self.far.turned(far) - far_start
            ) / turns[:, 1]
            slope = self.near.bend(near) / turns[:, 0] + self.far.bend(far) / turns[:, 1]
            high, low = np.where(ahead > 0.0, near, high), np.where(ahead > 0.0, low, near)
            step = near - ahead / np.where(slope > 0.0, slope, 1.0)
            tried = np.where((slope > 0.0) & (step >= low) & (step <= high), step, 0.5 * (low + high))
            if np.abs(tried - near).max() <= 1e-13 * self.near.length:
                break
            near = tried
        return near


def joined(near: Profile, far: Profile) -> Joining | None:
    """Join two profiles, or give None where their stretches do not answer each other."""
    pairs = list(zip(stretches(near), stretches(far), strict=False))
    if len(stretches(near)) != len(stretches(far)):
        return None
    if any(a.way != b.way or abs(a.turn - b.turn) > SAME_TURN for a, b in pairs):
        return None
    rows, turns = [(pairs[0][0].start, pairs[0][1].start)], []
    for one, other in pairs:
        cut = _cuts(near, far, one, other)
        rows += cut
        turns += [(one.turn, other.turn)] * len(cut)
    places = np.array(rows)
    grown = np.concatenate(([0.0], np.cumsum(0.5 * np.diff(places, axis=0).sum(axis=1))))
    u = grown - 0.5 * grown[-1]
    return Joining(near, far, np.column_stack((u, places)), np.array(turns))


def _cuts(near: Profile, far: Profile, one: Stretch, other: Stretch) -> list[tuple[Mm, Mm]]:
    """Joined places within two stretches between which both profiles are smooth, and their ends."""
    rows: dict[float, tuple[Mm, Mm]] = {1.0: (one.end, other.end)}
    if one.turn == 0.0:
        return list(rows.values())
    marks = [(share, t, None) for share, t in _marks(near, one)]
    marks += [(share, None, t) for share, t in _marks(far, other)]  # type: ignore[misc]
    kept = 0.0
    for share, t_near, t_far in sorted(marks, key=lambda mark: mark[0]):
        if share - kept <= SAME or 1.0 - share <= SAME:
            continue
        kept = share
        rows[share] = (
            _at_share(near, one, share) if t_near is None else t_near,
            _at_share(far, other, share) if t_far is None else t_far,
        )
    return [rows[share] for share in sorted(rows)]


def _marks(profile: Profile, stretch: Stretch) -> list[tuple[float, Mm]]:
    """Breaks of a profile within a stretch: their share of its turn, and place."""
    joints = profile.joints().tolist()
    breaks = [start + piece.breaks() for piece, start in zip(profile.pieces, joints[:-1], strict=True)]
    t = np.unique(np.concatenate(breaks))
    t = t[(t > stretch.start) & (t < stretch.end)]
    turned = profile.turned(t) - profile.turned(np.array([stretch.start]))
    return list(zip((turned / stretch.turn).tolist(), t.tolist(), strict=True))


def _at_share(profile: Profile, stretch: Stretch, share: float) -> Mm:
    """Place within a stretch that has turned by a share of its whole turn."""
    low, high = stretch.start, stretch.end
    before = float(profile.turned(np.array([low]))[0])
    t = low + share * (high - low)
    for _ in range(SEARCHED):
        turned, bend = profile.turned(np.array([t])), profile.bend(np.array([t]))
        ahead = (float(turned[0]) - before) / stretch.turn - share
        slope = float(bend[0]) / stretch.turn
        low, high = (low, t) if ahead > 0.0 else (t, high)
        step = t - ahead / slope if slope > 0.0 else low
        tried = step if low <= step <= high else 0.5 * (low + high)
        if abs(tried - t) <= 1e-13 * profile.length:
            break
        t = tried
    return t


def demand_joined(near: Profile, far: Profile, width: Mm, lift: Mm) -> Joining:
    """Join two profiles.

    Raises
    ------
    ShapeError
        Their stretches do not answer each other: no flat sheet takes that shape without stretching.
    """
    found = joined(near, far)
    if found is not None:
        return found
    needed = stretch_needed(near, far, width, lift)
    raise ShapeError(
        f"{_apart(stretches(near), stretches(far))}; such a surface is curved two ways and lies flat nowhere: a flat "
        f"sheet would have to stretch by {100.0 * needed:.2g} %, which veneer cannot take. Give both curves the same "
        "turns in the same order; their radii and lengths may differ"
    )


def _apart(near: tuple[Stretch, ...], far: tuple[Stretch, ...]) -> str:
    """Say where two profiles first part."""
    for number, (one, other) in enumerate(zip(near, far, strict=False), 1):
        if one.way != other.way or abs(one.turn - other.turn) > SAME_TURN:
            which = (
                "" if max(len(near), len(far)) == 1 else f", counted from the left stretch {number} of both"
            )
            return f"the near curve has {_told(one)} where the far one has {_told(other)}{which}"
    more, less = ("near", "far") if len(near) > len(far) else ("far", "near")
    extra = (near if len(near) > len(far) else far)[min(len(near), len(far))]
    return f"the {more} curve has {_told(extra)} after the {less} one ends"


def _told(stretch: Stretch) -> str:
    """Say what a stretch is."""
    if stretch.way == 0:
        return f"a straight run of {stretch.end - stretch.start:.1f} mm"
    return f"a {'crown' if stretch.way > 0 else 'hollow'} of {math.degrees(abs(stretch.turn)):.6g}°"
