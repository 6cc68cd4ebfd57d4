"""The film as it is drawn: the hull of the layup's section, swept straight across, with a flat flange around it.

This is a picture of the film, not its true path: it bridges every hollow and falls straight down beside the
widest part. Pictures, mesh files and solids all take it from here and call it schematic.

x runs along the chord, y across, z up from the underside of the platen or form; the lower film lies below z = 0.
"""

from dataclasses import dataclass

import numpy as np

from ..base import Base
from ..mechanics.film_path import convex_hull
from ..shape.profile import Floats
from ..stack import Stack
from ..units import Mm
from .size import BagSize
from .valve import ValvePlace

CHORD: Mm = 0.2
"""Chordal tolerance of the hull. The film stands off by as much, so that its chords never cut into the work."""

LEAST_FLANGE: Mm = 10.0
"""Flange that is drawn in a bag too small for its layup."""

VALVE_HEIGHT: Mm = 15.0
"""Height of the disc that stands for the valve."""

SHORTEST: Mm = 1e-3
"""Corners of the hull nearer to each other than this are one."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Drape:
    """The schematic film.

    Parameters
    ----------
    inner, outer
        ``(n, 2)`` corners x and z of the upper film's two faces, from the left foot over the top to the right one;
        equally many, the first and last of ``inner`` at z = 0, those of ``outer`` on the flange.
    inner_half, outer_half
        Half widths of the two faces across.
    low, high
        Corners ``(2,)`` x and y of both films, lying flat around the layup.
    thickness
        Thickness of each film.
    """

    inner: Floats
    outer: Floats
    inner_half: Mm
    outer_half: Mm
    low: Floats
    high: Floats
    thickness: Mm


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ValveDisc:
    """The disc that stands for the valve: middle of its base ``(3,)``, unit axis ``(3,)``, radius and height, mm."""

    base: Floats
    axis: Floats
    radius: Mm
    height: Mm


def drape(stack: Stack, base: Base, size: BagSize, place: ValvePlace, thickness: Mm) -> Drape:
    """Drape a film of a thickness over a layup, with the flange that its bag leaves around it."""
    points = _section(stack, base)
    left, right = float(points[:, 0].min()), float(points[:, 0].max())
    # upright for the film's own thickness above the bench, so that its outer face always meets the flange
    feet = [(left, 0.0), (left, thickness), (right, 0.0), (right, thickness)]
    hull = _upper_side(convex_hull(np.concatenate((points, feet))))
    inner = _moved_out(hull, CHORD, 0.0)
    half = 0.5 * max(base.outline.width, *(layer.outline.width for layer in stack.layers)) + CHORD
    along, across = 0.5 * size.length_terms[0].amount, 0.5 * size.width_terms[0].amount
    flange = [
        place.work_from_closed_end - along,
        place.work_from_left_seam - across,
        size.length - place.work_from_closed_end - along,
        size.width - place.work_from_left_seam - across,
    ]
    x_low, y_low, x_high, y_high = (max(reach, LEAST_FLANGE + 2.0 * thickness) for reach in flange)
    return Drape(
        inner=inner,
        outer=_moved_out(hull, CHORD + thickness, thickness),
        inner_half=half,
        outer_half=half + thickness,
        low=np.array([inner[0, 0] - x_low, -half - y_low]),
        high=np.array([inner[-1, 0] + x_high, half + y_high]),
        thickness=thickness,
    )


def valve_disc(drape: Drape, stack: Stack, size: BagSize, place: ValvePlace) -> ValveDisc:
    """Stand the valve on the draped film: flat on the flange, or square to the film over the work."""
    if place.over == "tail":
        along, across = 0.5 * size.length_terms[0].amount, 0.5 * size.width_terms[0].amount
        x = _on_bench(
            place.from_closed_end - place.work_from_closed_end, along, drape.inner[0, 0], drape.inner[-1, 0]
        )
        y = _on_bench(
            place.from_left_seam - place.work_from_left_seam, across, -drape.inner_half, drape.inner_half
        )
        foot, axis = (x, y, drape.thickness), (0.0, 0.0, 1.0)
    else:
        x = float(stack.sheet.place(np.array([place.t]), np.array([place.w]), stack.height)[0, 0])
        # neither on the upright walls at both ends nor past them, however far an owned bag puts its valve
        x = float(np.clip(x, drape.outer[1, 0], drape.outer[-2, 0]))
        edge = int(np.clip(np.searchsorted(drape.outer[:, 0], x, side="right") - 1, 1, len(drape.outer) - 3))
        (x0, z0), (x1, z1) = drape.outer[edge], drape.outer[edge + 1]
        run = np.array([x1 - x0, z1 - z0]) / np.hypot(x1 - x0, z1 - z0)
        # the film is convex: all of it lies on one side of the plane through one of its faces
        foot = (x, place.w, float(z0 + (x - x0) * (z1 - z0) / (x1 - x0)))
        axis = (-float(run[1]), 0.0, float(run[0]))
    return ValveDisc(base=np.array(foot), axis=np.array(axis), radius=place.radius, height=VALVE_HEIGHT)


def _on_bench(ruler: Mm, half: Mm, left: Mm, right: Mm) -> Mm:
    """Place on the bench of a ruler measurement from the middle of the work, whose film takes ``half`` on each side.

    Past the film over the work the ruler lies on the flange, from the foot of the layup onward.
    """
    if ruler < -half:
        return float(left + (ruler + half))
    if ruler > half:
        return float(right + (ruler - half))
    return float(0.5 * (left + right) + 0.5 * (right - left) * ruler / half)


def _section(stack: Stack, base: Base) -> Floats:
    """Corners ``(n, 2)`` of everything that the film is drawn over; nothing of it below the bench."""
    sheet = stack.sheet
    t = sheet.profile.stations(stack.height + abs(sheet.reference), CHORD)
    rows = [base.section]
    for layer in stack.layers:
        half = 0.5 * layer.outline.length
        places = np.concatenate(([-half], t[np.abs(t) < half], [half]))
        for height in (layer.height, layer.top):
            points = sheet.place(places, np.zeros_like(places), height)[:, [0, 2]]
            rows.append(points + np.array([0.0, base.lift]))
    points = np.concatenate(rows)
    return np.column_stack((points[:, 0], np.maximum(points[:, 1], 0.0)))


def _upper_side(hull: Floats) -> Floats:
    """Upper side of an anticlockwise hull that stands on z = 0, from its left foot to its right one."""
    first = int(np.lexsort((hull[:, 1], -hull[:, 0]))[0])
    turned = np.roll(hull, -first, axis=0)
    last = int(np.lexsort((turned[:, 1], turned[:, 0]))[0])
    side = turned[last::-1]
    apart = np.hypot(*np.diff(side, axis=0).T) > SHORTEST
    kept: Floats = side[np.concatenate(([True], apart[:-1], [True]))]
    return kept


def _moved_out(chain: Floats, distance: Mm, foot: Mm) -> Floats:
    """Chain moved outward by a distance, with its upright ends cut off at the height ``foot``."""
    run = np.diff(chain, axis=0)
    run /= np.hypot(run[:, 0], run[:, 1])[:, None]
    out = np.column_stack((-run[:, 1], run[:, 0]))
    before, after = out[:-1], out[1:]
    mitre = (before + after) / (1.0 + np.sum(before * after, axis=1))[:, None]
    moved = chain + distance * np.concatenate((out[:1], mitre, out[-1:]))
    moved[[0, -1], 1] = foot
    return moved
