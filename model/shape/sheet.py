"""The sheet: the one mechanism behind flat and bent layers.

A sheet is described by t (along the panel's length, crossing the rulings at right angles), w (across, along a
ruling) and h (height above the face of the platen or form, along the normal). Along t it follows a profile that
lies at the height ``reference``. A layer at the height h is longer than the profile over a crown and shorter
in a hollow::

    length at h = profile length + (h − reference) · turn of the normal

which is exact for every profile, and the same at each h where the net turn is zero.
"""

from dataclasses import dataclass

import numpy as np

from ..errors import ShapeError
from ..units import Mm, Ratio
from .clearance import aside, demand_apart, demand_open_ends
from .profile import Floats, Profile


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A developable sheet whose rulings run straight across.

    Parameters
    ----------
    profile
        The curve that was asked for.
    reference
        Height of that curve above the face of the platen or form, mm.
    """

    profile: Profile
    reference: Mm

    def length(self, height: Mm, start: Mm, end: Mm) -> Mm:
        """Developed length between two places t, at a height above the form, mm."""
        turned = self.profile.turned(np.array([start, end]))
        return float(end - start + (height - self.reference) * (turned[1] - turned[0]))

    def developed(self, height: Mm, t: Floats) -> Floats:
        """Developed places on the unrolled sheet at a height, mm; zero at t = 0."""
        turned = self.profile.turned(t) - self.profile.turned(np.zeros(1))
        return t + (height - self.reference) * turned

    def stretch(self, height: Mm | Floats, t: Floats) -> Floats:
        """Length at the height per length of the profile; zero or less where layers would cross themselves."""
        return 1.0 + (height - self.reference) * self.profile.bend(t)

    def place(self, t: Floats, w: Floats, height: Mm | Floats) -> Floats:
        """Points ``(n, 3)`` in space, mm: x along the chord, y across, z up from the level of the chord.

        Parameters
        ----------
        t, w
            ``(n,)`` places on the sheet.
        height
            Height above the form, one for all or ``(n,)``.
        """
        offset = np.broadcast_to(np.asarray(height) - self.reference, t.shape)
        plane = self.profile.points(t) + offset[:, None] * self.profile.normals(t)
        return np.column_stack((plane[:, 0], w, plane[:, 1]))

    def tightest(self, low: Mm, high: Mm) -> tuple[Mm, Mm, Ratio]:
        """Place t, height and stretch where the layers between two heights are squeezed most."""
        t = self.profile.stations(abs(high - low), 0.1)
        middles = 0.5 * (t[1:] + t[:-1])
        t = np.concatenate((t, middles))
        squeezed = [
            (float(s.min()), float(t[int(s.argmin())]), h) for h in (low, high) for s in [self.stretch(h, t)]
        ]
        stretch, place, height = min(squeezed)
        return place, height, stretch

    def demand_room(self, low: Mm, high: Mm) -> None:
        """Refuse layers that would cross themselves.

        Raises
        ------
        ShapeError
            Somewhere between the two heights the stretch reaches zero.
        """
        place, height, stretch = self.tightest(low, high)
        if stretch <= 0.0:
            radius = 1.0 / abs(float(self.profile.bend(np.array([place]))[0]))
            depth = abs(height - self.reference)
            raise ShapeError(
                f"the layers would cross themselves {aside(self.profile.middled(place))}: the curve has a radius of "
                f"{radius:.1f} mm there and the stack reaches {depth:.1f} mm to its inside; use a larger radius or a thinner stack"
            )

    def demand_open_ends(self, low: Mm, high: Mm, reach: Mm) -> None:
        """Refuse straight ends that would meet: past the half round the ends of a bend run toward each other.

        Parameters
        ----------
        low, high
            Heights between which the layers lie, mm.
        reach
            How far the longest layer goes on straight past the ends of the profile, mm.

        Raises
        ------
        ShapeError
            The ends meet within their reach.
        """
        demand_open_ends(self.profile, self._section, low, high, reach)

    def demand_apart(self, low: Mm, high: Mm, reach: Mm) -> None:
        """Refuse a curve that comes back upon itself, its layers included.

        Only one that turns through more than a half round can: all others run on in one direction. A single arc is
        clear of itself up to its ends.

        Parameters
        ----------
        low, high, reach
            As in ``demand_open_ends``.

        Raises
        ------
        ShapeError
            Some layers cross others elsewhere on the curve.
        """
        demand_apart(self.profile, self._section, low, high, reach)

    def _section(self, t: Floats, height: Mm) -> Floats:
        """Points ``(n, 2)`` x and z at a height."""
        return self.place(t, np.zeros_like(t), height)[:, [0, 2]]

    @property
    def least_radius(self) -> Mm:
        """Radius of the profile where it is bent most."""
        return 1.0 / abs(float(self.profile.bend(np.array([self.profile.tightest()]))[0]))

    def sprung(self, ratio: Ratio) -> "Sheet":
        """Give the released state: every turn smaller by the springback ratio, lengths kept."""
        return Sheet(profile=self.profile.scaled(1.0 - ratio), reference=self.reference)


__all__ = ["Sheet", "aside"]
