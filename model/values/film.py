"""The film over the work: what it has to stretch, and what it cannot reach.

Two stretches are told. Sliding: the film gives over its whole girth, as if nothing held it. Pinned: it is caught at
the rims of a hollow and only what lies between them gives; that is far more, and the safe one to go by.
"""

from collections.abc import Iterator
from dataclasses import replace
from math import pi

import numpy as np

from ..bag.section import hollow_profile
from ..data.limits import limit
from ..mechanics.film import (
    bridge_gap,
    corner_gap,
    inside_radius,
    membrane_tension,
    pinned_stretch,
    pleat_length,
    sliding_stretch,
    usable_stretch,
)
from ..mechanics.film_path import Bridge, lay_over, path_length
from ..mechanics.pressure import contact_pressure
from ..plan import Plan
from ..units import Mm, PerMm, Radian
from ..value import Value

TOUCH: Mm = 0.2
"""Gap that counts as touching: twice the chordal tolerance of the sections."""

SQUARE: Radian = pi / 2.0
NO_STRETCH = 0.0
"""A pleat is laid in so long that the film need not stretch at all."""

usable_pull = replace(membrane_tension, name="pull of the film at the stretch that it may be given")
usable_corner = replace(inside_radius, name="inside radius that the film is pressed into at that stretch")
square_gap = replace(corner_gap, name="gap that this leaves in a square inside corner")
hollow_pull = replace(membrane_tension, name="pull of film that is caught at the rims and lies in the hollow")
hollow_radius = replace(inside_radius, name="smallest radius of a hollow that film with this pull lies in")
hollow_contact = replace(
    contact_pressure, name="pressure at the bottom of the hollow, the film caught at its rims"
)


def film_values(plan: Plan) -> Iterator[Value]:
    """Stretch over both sections, what the film may stretch, the inside corners that it spans, and any hollow."""
    for name, section in (("along", plan.along), ("across", plan.across)):
        yield sliding_stretch.value(f"film.{name}.sliding", P=section.following, H=section.taut)
    gauge, thickness, film = plan.layup.vacuum.gauge, plan.layup.bag.thickness, plan.chosen.film
    usable = usable_stretch.value("film.usable", e_b=film.elongation, k=limit("film.stretch"))
    pull = usable_pull.value("film.pull", E=film.modulus, t=thickness, e=usable.number)
    corner = usable_corner.value("film.corner_radius", T=pull.number, g=gauge)
    yield from (usable, pull, corner)
    yield square_gap.value("film.corner_gap", r=corner.number, a=SQUARE)
    hollows = [(one, hollow_of(one)) for one in ends_of(plan)]
    found = [(one, hollow) for one, hollow in hollows if hollow is not None]
    if found:
        yield from _over_hollow(*max(found, key=lambda pair: pair[1].girth / pair[1].span))


def ends_of(plan: Plan) -> tuple[Plan, ...]:
    """The job itself, or both ends of a taper, in one of which the film has to stretch most."""
    return (plan,) if plan.taper is None else (plan.taper.near, plan.taper.far)


def hollow_of(plan: Plan) -> Bridge | None:
    """Deepest hollow of the work that a taut film would bridge; None where there is none."""
    if not plan.along.is_hollow or plan.is_undercut:
        return None
    profile, before, after = hollow_profile(plan.stack, plan.base)
    over = lay_over(profile, TOUCH)
    left = path_length(profile[: before + 1])
    right = over.true_length - path_length(profile[-after - 1 :])
    # a bridge from a rim to the edge of the work spans a gutter, and starves nothing; film that comes up from the
    # bench is not caught there, and gives as far as the bag has film
    bridges = [
        bridge
        for bridge in over.bridges
        if bridge.end > left + TOUCH
        and bridge.start < right - TOUCH
        and 0.0 < bridge.start
        and bridge.end < over.true_length
    ]
    return max(bridges, key=lambda bridge: bridge.depth, default=None)


def _over_hollow(plan: Plan, hollow: Bridge) -> Iterator[Value]:
    """Stretch of film that is caught at the rims, the gap that it leaves, its pressure below, and the pleat."""
    gauge, thickness, film = plan.layup.vacuum.gauge, plan.layup.bag.thickness, plan.chosen.film
    pinned = pinned_stretch.value("film.hollow.pinned", s=hollow.girth, c=hollow.span)
    pull = hollow_pull.value("film.hollow.pull", E=film.modulus, t=thickness, e=pinned.number)
    yield from (pinned, pull)
    yield bridge_gap.value(
        "film.hollow.gap", g=gauge, c=hollow.span, d=hollow.depth, E=film.modulus, t=thickness
    )
    yield hollow_radius.value("film.hollow.radius", T=pull.number, g=gauge)
    yield hollow_contact.value("film.hollow.contact", p=gauge, T=pull.number, k=tightest_hollow(plan))
    yield pleat_length.value("film.hollow.pleat", P=hollow.girth, H=hollow.span, e=NO_STRETCH)


def tightest_hollow(plan: Plan) -> PerMm:
    """Curvature of the upper side of the stack where it is hollowed most; below zero."""
    sheet, height = plan.stack.sheet, plan.stack.height
    t = sheet.profile.stations(height, 0.1)
    t = np.concatenate((t, 0.5 * (t[1:] + t[:-1])))
    return float(np.min(sheet.profile.bend(t) / sheet.stretch(height, t)))
