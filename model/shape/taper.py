"""The tapered sheet: bent along two profiles, one at each end of its width, joined by straight rulings.

Places on it are told by u and w. u runs along the curve half way between the profiles, zero in its middle, and picks a
ruling; w is the distance along that ruling from its middle, toward the far end. A layer at a height follows the same
rulings, moved along their normals. Past the end rulings the sheet goes on flat, along the tangent plane; past both
profiles the rulings go on straight.
"""

import math
from dataclasses import dataclass
from functools import lru_cache, partial

import numpy as np

from ..errors import ShapeError
from ..units import Mm, Radian, Ratio
from .clearance import demand_apart, demand_open_ends
from .cone import Cone, cone_between, is_round, shared_lift
from .locating import located
from .middle import middle_profile
from .profile import Floats, Profile
from .ruled import Frames, Rates, Ruled, directions, ruled
from .series import Series, series_of
from .sheet import aside
from .spring import sprung


@dataclass(frozen=True, slots=True, kw_only=True)
class TaperedSheet:
    """A developable sheet between two profiles.

    The near profile lies in the plane y = −width/2, the far one in y = width/2, each as it places itself; the far one is
    ``lift`` higher, and turned where its first tangent would not be that of the near one. ``bent`` other than 1 bends the
    sheet so many times as far, all lengths kept: then the ends leave those planes, except on a round cone.

    Parameters
    ----------
    near, far
        The curves that were asked for.
    width
        Distance between their planes, mm.
    lift
        Height of the middle of the far chord above that of the near one, mm.
    reference
        Height of both curves above the face of the platen or form, mm.
    shift
        How far along the middle of the far chord lies from that of the near one, mm: where a taper is turned over whose
        ends are turned against each other.
    bent
        How many times as far the normal turns.

    Raises
    ------
    ShapeError
        No flat sheet takes that shape without a stretch, or a size is none.
    """

    near: Profile
    far: Profile
    width: Mm
    lift: Mm
    reference: Mm
    shift: Mm = 0.0
    bent: Ratio = 1.0

    def __post_init__(self) -> None:
        if not (math.isfinite(self.width) and self.width > 0.0):
            raise ShapeError(f"the width of a taper is {self.width:g} mm; a width above 0 is needed")
        if not math.isfinite(self.lift):
            raise ShapeError(f"the lift of a taper is {self.lift:g} mm; a number is needed")
        self._ruled  # noqa: B018 - two curves that cannot be joined are refused here, once for all

    @property
    def _ruled(self) -> Ruled:
        return ruled(self.near, self.far, self.width, self.lift, self.shift)

    @property
    def profile(self) -> Profile:
        """Curve half way between both profiles, at the height ``reference``, bent as the sheet is.

        It lies in the plane across the middle of the width, except where ``bent`` takes it out of it a little.
        """
        middle = _middle(self._ruled)
        return middle if self.bent == 1.0 else middle.scaled(self.bent)

    @property
    def cone(self) -> Cone | None:
        """The round cone that it is; None where it is none, or a cylinder."""
        return cone_between(self.near, self.far, self.width, self.lift) if self.bent == 1.0 else None

    @property
    def turn(self) -> Radian:
        """Net turn of its normal from the first ruling to the last; that of the profiles is larger."""
        first, last = self._ruled.turned.at(np.array([-1.0, 1.0]) * self._ruled.half)[:, 0]
        return self.bent * float(last - first)

    @property
    def tilt(self) -> Radian:
        """How far the far profile is turned out of level so that its tangents are those of the near one."""
        return self._ruled.tilt

    def half_width(self, u: Floats) -> Floats:
        """Half of the ruling between both profiles, mm: the panel reaches from w = −this to w = this."""
        return self._ruled.rates(u).half

    def place(self, u: Floats, w: Floats, height: Mm | Floats) -> Floats:
        """Points ``(n, 3)`` in space, mm: x along the near chord, y across, z up from the level of that chord.

        Parameters
        ----------
        u, w
            ``(n,)`` places on the sheet.
        height
            Height above the form, one for all or ``(n,)``.
        """
        frames = self.frames(u)
        offset = np.broadcast_to(np.asarray(height) - self.reference, u.shape)
        return np.asarray(frames.middle + w[:, None] * frames.along + offset[:, None] * frames.normal)

    def frames(self, u: Floats) -> Frames:
        """Rulings in space at the height ``reference``: middle points and unit vectors across, along and normal."""
        if self.bent == 1.0:
            return self._ruled.frames(u)
        return sprung(self.near, self.far, self.width, self.lift, self.bent, self.shift).frames(u)

    def rates(self, u: Floats) -> Rates:
        """How the rulings move and turn at u; see ``ruled``."""
        found = self._ruled.rates(u)
        return Rates(found.g, found.c, found.phi, self.bent * found.theta, found.half)

    def slopes(self, u: Floats) -> Rates:
        """Changes of the rates per u."""
        found = self._ruled.slopes(u)
        return Rates(found.g, found.c, found.phi, self.bent * found.theta, found.half)

    def directions(self, u: Floats) -> tuple[Floats, Floats]:
        """Unit vectors ``(n, 2)`` of the flat pattern, square to the rulings and along them; the same at every height."""
        within = np.clip(u, -self._ruled.half, self._ruled.half)
        return directions(self._ruled.heading.at(within)[:, 0])

    def breaks(self) -> Floats:
        """Places u, both ends included, between which both curves are smooth."""
        return self._ruled.joining.cuts[:, 0]

    def flat_rulings(self, u: Floats, height: Mm) -> tuple[Floats, Floats]:
        """Rulings of the flat pattern at a height: their middles and unit vectors along them, each ``(n, 2)``."""
        within = np.clip(u, -self._ruled.half, self._ruled.half)
        across, along = self.directions(u)
        flat, rates = self._ruled.flat.at(within), self._ruled.rates(within)
        past = (u - within)[:, None]
        moved = flat[:, :2] + (height - self.reference) * self.bent * flat[:, 2:]
        return moved + past * (rates.g[:, None] * across + rates.c[:, None] * along), along

    def unroll(self, u: Floats, w: Floats, height: Mm) -> Floats:
        """Places ``(n, 2)`` in the flat pattern at a height, mm: the middle ruling along y, its middle at the origin."""
        middle, along = self.flat_rulings(u, height)
        return np.asarray(middle + w[:, None] * along)

    def locate(self, x: Floats, y: Floats, height: Mm) -> tuple[Floats, Floats]:
        """Places u and w of points of the flat pattern at a height: what ``unroll`` takes there.

        Raises
        ------
        ShapeError
            A point lies where no ruling goes, as past the point of a cone.
        """
        return located(self, np.column_stack((x, y)), height)

    def developed(self, height: Mm, u: Floats) -> Floats:
        """Lengths at a height along the curve half way, mm; zero at u = 0."""
        within = np.clip(u, -self._ruled.half, self._ruled.half)
        lengths = _lengths(self._ruled, self.bent * (height - self.reference))
        return np.asarray(lengths.at(within)[:, 0] + (u - within))

    def length(self, height: Mm, start: Mm, end: Mm) -> Mm:
        """Length at a height along the curve half way between two places u, mm."""
        first, last = self.developed(height, np.array([start, end]))
        return float(last - first)

    def bend(self, u: Floats, w: Floats) -> Floats:
        """Turn of the normal per length across the rulings at the height ``reference``, 1/mm: 1 over the radius there."""
        rates = self.rates(u)
        return np.asarray(rates.theta / (rates.g + w * rates.phi))

    def stretch(self, height: Mm | Floats, u: Floats, w: Mm | Floats = 0.0) -> Floats:
        """Length at the height per length at ``reference``; zero or less where layers would cross themselves."""
        return np.asarray(1.0 + (height - self.reference) * self.bend(u, np.broadcast_to(w, u.shape)))

    def places(self) -> Floats:
        """Places u in rising order, so close that nothing of the bend is missed between them."""
        return _places(self)

    def tightest(self, low: Mm, high: Mm, past: Mm = 0.0) -> tuple[Mm, Mm, Ratio]:
        """Place u, height and stretch where the layers between two heights are squeezed most.

        Parameters
        ----------
        low, high
            Heights, mm.
        past
            How far the layers reach past both profiles along the rulings, mm.
        """
        u, w = self._sides(past)
        squeezed = [
            (float(s.min()), float(u[int(s.argmin())]), h)
            for h in (low, high)
            for s in [self.stretch(h, u, w)]
        ]
        stretch, place, height = min(squeezed)
        return place, height, stretch

    def demand_room(self, low: Mm, high: Mm, past: Mm = 0.0) -> None:
        """Refuse layers that would cross themselves, and rulings that would meet.

        Parameters
        ----------
        low, high, past
            As in ``tightest``.

        Raises
        ------
        ShapeError
            Somewhere between the two heights, at the end where the sheet is tighter, the stretch reaches zero, or the
            rulings meet before the layers end.
        """
        u, w = self._sides(past)
        rates = self.rates(u)
        spread = 1.0 + w * rates.phi / rates.g
        worst = int(spread.argmin())
        if spread[worst] <= 0.0:
            meeting = abs(float(rates.g[worst] / rates.phi[worst])) - float(rates.half[worst])
            where = f"{meeting:.1f} mm past" if meeting > 0.0 else f"{-meeting:.1f} mm before"
            raise ShapeError(
                f"the rulings would meet {where} the {_end(w[worst])} curve, {aside(float(u[worst]))}, and the layers "
                f"reach {past:.1f} mm past it; make that curve larger, or trim and overhang shorter"
            )
        place, height, stretch = self.tightest(low, high, past)
        if stretch <= 0.0:
            sides = np.array([-1.0, 1.0]) * (self.half_width(np.array([place])) + past)
            bends = self.bend(np.full(2, place), sides)
            tight = int(np.abs(bends).argmax())
            spot = aside(place) if not self.profile.is_even else "all along"
            raise ShapeError(
                f"the layers would cross themselves at the {_end(sides[tight])} end, {spot}: the sheet has a radius of "
                f"{1.0 / abs(float(bends[tight])):.1f} mm there and the stack reaches {abs(height - self.reference):.1f} mm "
                "to its inside; use larger radii or a thinner stack"
            )

    def demand_open_ends(self, low: Mm, high: Mm, reach: Mm) -> None:
        """Refuse flat ends that would meet: past the half round the ends of a bend run toward each other.

        Parameters
        ----------
        low, high
            Heights between which the layers lie, mm.
        reach
            How far the longest layer goes on flat past the end rulings, mm.

        Raises
        ------
        ShapeError
            The ends meet within their reach.
        """
        for side in (-1.0, 1.0):
            demand_open_ends(self.profile, partial(self._edge, side), low, high, reach)

    def demand_apart(self, low: Mm, high: Mm, reach: Mm) -> None:
        """Refuse a sheet that comes back upon itself, its layers included.

        Parameters
        ----------
        low, high, reach
            As in ``demand_open_ends``.

        Raises
        ------
        ShapeError
            Some layers cross others elsewhere on the sheet.
        """
        for side in (-1.0, 1.0):
            demand_apart(self.profile, partial(self._edge, side), low, high, reach)

    @property
    def least_radii(self) -> tuple[Mm, Mm]:
        """Radius of the sheet where it is bent most, at the near end and at the far one; infinite where it is flat."""
        u = self.places()
        half = self.half_width(u)
        near, far = (float(np.abs(self.bend(u, side * half)).max()) for side in (-1.0, 1.0))
        return (1.0 / near if near else math.inf), (1.0 / far if far else math.inf)

    @property
    def least_radius(self) -> Mm:
        """Radius of the sheet where it is bent most."""
        return min(self.least_radii)

    @property
    def turned_over(self) -> "TaperedSheet":
        """The same sheet turned over about its length: crowns are hollows, and both ends change sides.

        The far curve as it was is level now, and the way from one middle to the other turns with it.
        """
        c, s = math.cos(self.tilt), math.sin(self.tilt)
        return TaperedSheet(
            near=self.far.scaled(-1.0),
            far=self.near.scaled(-1.0),
            width=self.width,
            lift=self.lift * c - self.shift * s,
            reference=self.reference,
            shift=-self.lift * s - self.shift * c,
            bent=self.bent,
        )

    def sprung(self, ratio: Ratio) -> "TaperedSheet":
        """Give the released state: every turn of the normal smaller by the springback ratio, lengths kept.

        The flat pattern at the height ``reference`` stays. A round cone becomes one of another half angle.
        """
        kept = 1.0 - ratio
        if self.bent == 1.0 and is_round(self.near, self.far, self.lift):
            return self._reopened(kept)
        return TaperedSheet(
            near=self.near,
            far=self.far,
            width=self.width,
            lift=self.lift,
            reference=self.reference,
            shift=self.shift,
            bent=_whole(self.bent * kept),
        )

    def _reopened(self, kept: Ratio) -> "TaperedSheet":
        """Round cone whose normal turns ``kept`` times as far.

        The slant and the sector angle Θ·sin α stay, and Θ·cos α is multiplied: so tan α is divided by the same.
        """
        slope = (self.far.length - self.near.length) / (self.near.turn * self.width)
        turned = math.sqrt((kept * kept + slope * slope) / (1.0 + slope * slope))
        near, far = self.near.scaled(turned), self.far.scaled(turned)
        return TaperedSheet(
            near=near,
            far=far,
            width=self.width * kept / turned,
            lift=shared_lift(near, far),
            reference=self.reference,
        )

    def _edge(self, side: float, u: Floats, height: Mm) -> Floats:
        """Points ``(n, 2)`` x and z along the near (−1) or the far (1) end of the width."""
        return self.place(u, side * self.half_width(u), height)[:, [0, 2]]

    def _sides(self, past: Mm) -> tuple[Floats, Floats]:
        """Places u and w along both ends of the width, ``past`` farther out."""
        u = self.places()
        half = self.half_width(u) + past
        return np.concatenate((u, u)), np.concatenate((-half, half))


def _end(w: float) -> str:
    return "near" if w < 0.0 else "far"


def _whole(bent: Ratio) -> Ratio:
    """A state and back again is the state itself, not one that differs in the last digit."""
    return 1.0 if abs(bent - 1.0) < 1e-12 else bent


@lru_cache(maxsize=64)
def _middle(surface: Ruled) -> Profile:
    return middle_profile(surface.joining)


@lru_cache(maxsize=256)
def _lengths(surface: Ruled, d: Mm) -> Series:
    """Length of the curve half way at a distance d, from u = 0."""

    def speed(u: Floats) -> Floats:
        rates = surface.rates(u)
        return np.asarray(np.hypot(rates.g + d * rates.theta, rates.c)[:, None])

    return series_of(speed, surface.heading.breaks, np.ones(1)).integral().less(0.0)


@lru_cache(maxsize=64)
def _places(sheet: TaperedSheet) -> Floats:
    places = np.union1d(
        sheet.profile.places(),
        ruled(sheet.near, sheet.far, sheet.width, sheet.lift, sheet.shift).heading.breaks,
    )
    places.flags.writeable = False
    return places
