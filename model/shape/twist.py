"""How much a flat sheet would have to stretch to lie on a surface that is curved two ways.

Between two neighbouring rulings lies a narrow strip. Of a flat sheet its width grows evenly from one end to the other;
of a twisted surface it is less in the middle than the mean of its ends says. A sheet that is wide enough at the narrowest
must stretch by that difference: it cannot be pressed together, as it would buckle.

The curves are joined at equal shares of the turn where both turn, in the order of their stretches, else at equal shares
of their length, which asks for less than most other ways.
"""

import numpy as np

from ..units import Mm, Ratio
from .profile import Floats, Profile

STEPS = 400
"""Rulings at which the twist is looked at."""

ALONG = np.linspace(0.0, 1.0, 33)
"""Shares of a ruling at which the width of the strip is taken."""


def stretch_needed(near: Profile, far: Profile, width: Mm, lift: Mm) -> Ratio:
    """Largest stretch that a flat sheet needs between two profiles, one at each end of a width."""
    return min(_stretch(near, far, width, lift, shares) for shares in _ways(near, far))


def _ways(near: Profile, far: Profile) -> list[tuple[Floats, Floats]]:
    """Ways of joining: places on both profiles at equal shares of the length, and of the turn where both turn."""
    even = np.arange(STEPS + 1) / STEPS - 0.5
    ways = [(even * near.length, even * far.length)]
    places = [_by_turn(profile) for profile in (near, far)]
    if all(place is not None for place in places):
        ways.append((places[0], places[1]))  # type: ignore[arg-type]
    return ways


def _by_turn(profile: Profile) -> Floats | None:
    """Places at equal shares of all that a profile turns, either way; None for one with straight runs."""
    t = np.linspace(-0.5, 0.5, 20 * STEPS + 1) * profile.length
    swept = np.concatenate(([0.0], np.cumsum(np.abs(np.diff(profile.turned(t))))))
    if swept[-1] == 0.0 or (np.diff(swept) <= 0.0).any():
        return None
    return np.interp(np.linspace(0.0, swept[-1], STEPS + 1), swept, t)


def _stretch(near: Profile, far: Profile, width: Mm, lift: Mm, places: tuple[Floats, Floats]) -> Ratio:
    """Largest stretch where places of both profiles are joined in turn."""
    one = _in_space(near.points(places[0]), -0.5 * width, 0.0)
    other = _in_space(far.points(places[1]), 0.5 * width, lift)
    ruling = 0.5 * ((other - one)[1:] + (other - one)[:-1])
    ruling /= np.linalg.norm(ruling, axis=1, keepdims=True)
    steps = [_across(np.diff(edge, axis=0), ruling) for edge in (one, other)]
    strips = (1.0 - ALONG)[:, None, None] * steps[0] + ALONG[:, None, None] * steps[1]
    widths = np.linalg.norm(strips, axis=2)
    even = (1.0 - ALONG)[:, None] * widths[0] + ALONG[:, None] * widths[-1]
    # a strip that comes to nothing in between is torn there, whatever is done
    return float((even / np.maximum(widths, 1e-12 * near.length) - 1.0).max())


def _in_space(plane: Floats, y: Mm, lift: Mm) -> Floats:
    return np.column_stack((plane[:, 0], np.full(len(plane), y), plane[:, 1] + lift))


def _across(step: Floats, ruling: Floats) -> Floats:
    """Part of a step that crosses the ruling at right angles."""
    return np.asarray(step - (step * ruling).sum(axis=1, keepdims=True) * ruling)
