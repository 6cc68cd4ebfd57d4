"""Whether a bent sheet stays clear of itself: its straight ends, and the rest of its curve, layers included."""

import math
from collections.abc import Callable

import numpy as np

from ..errors import ShapeError
from ..units import Mm
from .profile import Floats, Profile

Section = Callable[[Floats, Mm], Floats]
"""Points ``(n, 2)`` of a section through a sheet at places along it and a height, mm."""


def aside(t: Mm) -> str:
    """Say where a place t lies along the sheet."""
    if abs(t) < 0.05:
        return "in the middle"
    return f"{abs(t):.1f} mm {'right' if t > 0.0 else 'left'} of the middle"


def demand_open_ends(profile: Profile, section: Section, low: Mm, high: Mm, reach: Mm) -> None:
    """Refuse straight ends that would meet: past the half round the ends of a bend run toward each other.

    Parameters
    ----------
    profile
        Curve of the sheet.
    section
        Section through it.
    low, high
        Heights between which the layers lie, mm.
    reach
        How far the longest layer goes on straight past the ends of the profile, mm.

    Raises
    ------
    ShapeError
        The ends meet within their reach.
    """
    if abs(profile.turn) <= math.pi or len(profile.pieces) > 1:
        return
    half = 0.5 * profile.length
    t = np.array([-half - 1.0, -half, half, half + 1.0])
    for height in (low, high):
        before, start, end, after = section(t, height)
        one, other = before - start, after - end
        meeting = np.column_stack((one, -other))
        if abs(np.linalg.det(meeting)) < 1e-12:
            continue
        along = np.linalg.solve(meeting, end - start)
        if np.all(along > 0.0) and np.all(along <= reach):
            raise ShapeError(
                f"the straight ends of the layers would meet {float(along.max()):.1f} mm past the bend and they reach "
                f"{reach:.1f} mm; bend it by less, or make trim, overhang and breather shorter"
            )


def demand_apart(profile: Profile, section: Section, low: Mm, high: Mm, reach: Mm) -> None:
    """Refuse a curve that comes back upon itself, its layers included.

    Only one that turns through more than a half round can: all others run on in one direction. A single arc is
    clear of itself up to its ends.

    Parameters
    ----------
    profile, section, low, high, reach
        As in ``demand_open_ends``.

    Raises
    ------
    ShapeError
        Some layers cross others elsewhere on the curve.
    """
    if profile.is_even or profile.swing <= math.pi:
        return
    # shapely is slow to import and few bends turn so far
    from shapely import Polygon, is_valid_reason

    half = 0.5 * profile.length + reach
    t = np.union1d(profile.stations(abs(high - low), 0.1), [-half, half])
    sides = [section(t, height) for height in (low, high)]
    ring = np.concatenate((sides[0], sides[1][::-1]))
    fault = is_valid_reason(Polygon(ring))
    if fault == "Valid Geometry":
        return
    spot = np.array([float(number) for number in fault.partition("[")[2].rstrip("]").split()])
    place = float(np.concatenate((t, t[::-1]))[int(np.hypot(*(ring - spot).T).argmin())])
    least = 1.0 / abs(float(profile.bend(np.array([profile.tightest()]))[0]))
    raise ShapeError(
        f"the layers would cross others of their own {aside(place)}: the curve turns through "
        f"{math.degrees(profile.swing):.0f}° and its tightest radius is {least:.1f} mm; "
        "open it, or make the stack thinner, trim and overhang shorter"
    )
