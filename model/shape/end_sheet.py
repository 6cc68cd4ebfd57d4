"""A taper as the plane of one of its ends cuts it: a straight sheet, whose layers the plane cuts askew.

Layers lie on each other along the normal of the sheet, which leans out of the plane; in the plane they measure more
than they are thick. On a round cone that is the same all along; on another taper ``lean`` is the mean of its least and
its most.
"""

from dataclasses import dataclass

import numpy as np

from ..units import Mm, Ratio
from .joining import stretches
from .profile import Floats, Profile
from .sheet import Sheet
from .similar import enlarged
from .taper import TaperedSheet


@dataclass(frozen=True, slots=True, kw_only=True)
class EndSheet(Sheet):
    """A straight sheet along the curve of one end.

    Parameters
    ----------
    lean
        What a height measures in the plane, over what it measures along the sheet's normal; 1 or more.
    """

    lean: Ratio

    def _deep(self, height: Mm | Floats) -> Mm | Floats:
        """Height over the curve that the plane shows for a height along the normal."""
        return self.reference + self.lean * (np.asarray(height) - self.reference)

    def length(self, height: Mm, start: Mm, end: Mm) -> Mm:
        """Developed length in the plane between two places t, mm."""
        return Sheet.length(self, float(self._deep(height)), start, end)

    def developed(self, height: Mm, t: Floats) -> Floats:
        """Developed places in the plane, mm; zero at t = 0."""
        return Sheet.developed(self, float(self._deep(height)), t)

    def stretch(self, height: Mm | Floats, t: Floats) -> Floats:
        """Length at the height per length of the profile."""
        return Sheet.stretch(self, self._deep(height), t)

    def place(self, t: Floats, w: Floats, height: Mm | Floats) -> Floats:
        """Points ``(n, 3)`` in space, mm."""
        return Sheet.place(self, t, w, self._deep(height))


def end_sheet(sheet: TaperedSheet, side: float, past: Mm = 0.0) -> EndSheet:
    """Give the sheet of the near end (side −1) or of the far one (1), or of a plane ``past`` farther out.

    Where the sheet is bent farther than its curves, its ends leave their planes a little: then each end's curve is taken
    as bent so many times as far. Farther out the curve is taken in proportion, by what grows most; on a round cone, and
    wherever both curves are alike, that is exact.
    """
    own, other = (sheet.near, sheet.far) if side < 0.0 else (sheet.far, sheet.near)
    normals = sheet.frames(sheet.places()).normal
    upright = np.hypot(normals[:, 0], normals[:, 2])
    profile = own if past == 0.0 else enlarged(own, 1.0 + past / sheet.width * _growth(own, other))
    return EndSheet(
        profile=profile if sheet.bent == 1.0 else profile.scaled(sheet.bent),
        reference=sheet.reference,
        lean=float(0.5 * (1.0 / upright.min() + 1.0 / upright.max())),
    )


def _growth(own: Profile, other: Profile) -> Ratio:
    """Most that a stretch of a curve is longer than that of the other end, over its own length; not below that of the whole."""
    pairs = zip(stretches(own), stretches(other), strict=True)
    found = [1.0 - (b.end - b.start) / (a.end - a.start) for a, b in pairs]
    return max(1.0 - other.length / own.length, *found)
