"""Sections of the whole layup as the film meets them: along the length and across the width.

The film runs up the side of the platen or form, over its face, up the edges of the stack and over its top. Before
the pump starts it is taut and bridges every hollow; then air presses it into each of them, as far as there is film.
So the bag is sized for film that follows everywhere, in the section that takes most of it.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..base import Base
from ..mechanics.film_path import hull_girth, path_length
from ..shape.outline import Rectangle
from ..shape.pathed import Pathed, bays
from ..shape.profile import Floats
from ..stack import Stack
from ..units import Mm
from .terraces import NEAR, SOFT, Terrace, terraces

__all__ = ["CHORD", "SOFT", "FilmSection", "across_section", "along_section", "hollow_profile", "section_at"]

CHORD: Mm = 0.1
"""Chordal tolerance of the curved parts of a section; a girth is short by less than this over its length."""
POSITIONS = 9
"""Sections that are tried between the middle and the edge of a rounded outline."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FilmSection:
    """One section of the layup.

    Parameters
    ----------
    contour
        ``(n, 2)`` points of the upper side from the left foot to the right one, mm; z = 0 at the underside.
    taut
        Girth of a film drawn taut all round, mm.
    following
        Girth of a film that lies on the work everywhere, into every hollow and inside corner, mm.
    is_hollow
        Whether the work lies in a hollow that the film has to reach into.
    place
        Where the section lies, from the middle of the panel: w of a section along, t of one across, mm.
    """

    contour: Floats
    taut: Mm
    following: Mm
    is_hollow: bool
    place: Mm = 0.0

    @property
    def girth(self) -> Mm:
        """Film needed all round: enough to lie on the work everywhere without stretch."""
        return self.following

    @property
    def foot(self) -> Mm:
        """Width that the layup takes on the bench, with what reaches out over its feet."""
        return float(self.contour[:, 0].max() - self.contour[:, 0].min())

    @property
    def standing(self) -> Mm:
        """Width on which it stands: from one foot to the other, along the lower film."""
        return float(self.contour[-1, 0] - self.contour[0, 0])

    @property
    def height(self) -> Mm:
        """Height of the layup above the bench."""
        return float(self.contour[:, 1].max())

    @property
    def over(self) -> Mm:
        """Film needed over the top, from foot to foot."""
        return self.girth - self.standing


def along_section(stack: Stack, base: Base) -> FilmSection:
    """Section along the panel's length that takes most film, of all across the width; the middle one where equal."""
    rows = terraces(stack, base)
    most, w, contour = 0.0, 0.0, None
    for place in _positions(rows):
        if contour is not None and stack.sheet.profile.is_flat:
            # over level terraces a section takes the length of its foot and twice the height of its top
            top = max(row.high for row in rows if row.half_length_at(place) >= 0.0)
            if 2.0 * (rows[0].half_length_at(place) + top + base.lowest) <= most + NEAR:
                continue
        other = section_at(stack, base, rows, place)
        length = path_length(other)
        if contour is None or length > most + NEAR:
            most, w, contour = length, place, other
    assert contour is not None
    is_hollow = base.kind == "form" and stack.sheet.profile.has_hollow
    return _section(contour, is_hollow, w, _film_in_bays(stack)[0])


def across_section(stack: Stack, base: Base) -> FilmSection:
    """Section across the width that takes most film, of all along the length; nearest to the middle where equal.

    Over terraces that lie in each other a section takes the width of its foot and twice the height of its top.
    """
    rows, sheet = terraces(stack, base), stack.sheet
    ends = np.array([side * row.half_length for row in rows for side in (-1.0, 1.0)])
    t = np.concatenate((_searched(stack), ends))
    level = sheet.place(t, np.zeros_like(t), 0.0)[:, 2] + base.lift
    upward = sheet.profile.normals(t)[:, 1]
    foot = rows[0].half_at(t)
    # a terrace that does not reach so far is not there
    needs = [
        np.where(np.abs(t) <= row.half_length, foot + level + row.high * upward, -np.inf) for row in rows
    ]
    need = np.max(needs, axis=0)
    near = t[need > need.max() - NEAR]
    most = float(near[np.abs(near).argmin()])
    return _section(_across_at(stack, base, rows, most), False, most, _film_in_bays(stack)[1])


def section_at(stack: Stack, base: Base, rows: Sequence[Terrace], w: Mm) -> Floats:
    """Contour ``(n, 2)`` of the section along the length at a place across, from the left foot to the right one."""
    sheet = stack.sheet
    t = sheet.profile.stations(stack.height + abs(sheet.reference), CHORD)
    reach = [rows[0].half_length_at(w) if base.shoulder == 0.0 else 0.5 * base.outline.length]
    reach += [half for half in (row.half_length_at(w) for row in rows[1:]) if half >= 0.0]
    rows = rows[: len(reach)]
    inside = t[np.abs(t) < reach[-1]]
    over = np.column_stack((inside, np.full_like(inside, rows[-1].high)))
    path = np.concatenate((_climb(t, rows, reach, -1.0), over, _climb(t, rows, reach, 1.0)[::-1]))
    spots = sheet.place(path[:, 0], np.zeros(len(path)), path[:, 1])
    upper = spots[:, [0, 2]] + np.array([0.0, base.lift])
    return _on_feet(_with_shoulders(upper, base))


def _climb(t: Floats, rows: Sequence[Terrace], reach: Sequence[Mm], side: float) -> Floats:
    """Places ``(n, 2)``, t and height, from one end of the base up over all terraces; ``reach`` is their half length."""
    outward = np.sort(side * t)[::-1]
    places, heights = [np.array([reach[0]])], [np.zeros(1)]
    for row, before, half in zip(rows[1:], reach[:-1], reach[1:], strict=True):
        tread = outward[(outward < before) & (outward > half)]
        places.append(np.append(tread, [half, half]))
        heights.append(np.append(np.full(len(tread) + 1, row.low), row.high))
    return np.column_stack((side * np.concatenate(places), np.concatenate(heights)))


def hollow_profile(stack: Stack, base: Base) -> tuple[Floats, int, int]:
    """Upper side of the work in its hollow form, and the rims beside it that would catch the film.

    The form's face in the gutters between work and rims is left out: film that spans a gutter starves nothing. It
    begins and ends on the bench, below whatever reaches out farthest: an end of the work may be tucked under a bulge,
    and the film comes up outside both.

    Returns
    -------
    profile
        ``(n, 2)`` points from the bench on the left to the bench on the right.
    before, after
        How many of them belong to the bench and the rim on the left and on the right, and not to the work.
    """
    half = terraces(stack, base)[-1].half_length
    t = stack.sheet.profile.stations(stack.height + stack.sheet.reference, CHORD)
    t = np.concatenate(([-half], t[np.abs(t) < half], [half]))
    top = stack.sheet.place(t, np.zeros_like(t), stack.height)[:, [0, 2]] + np.array([0.0, base.lift])
    left, right = base.upper[[0, 1]], base.upper[[-2, -1]]
    left, right = left[left[:, 0] < top[0, 0]], right[right[:, 0] > top[-1, 0]]
    x = np.concatenate((left, top, right))[:, 0]
    profile = np.concatenate(([[x.min(), 0.0]], left, top, right, [[x.max(), 0.0]]))
    return profile, len(left) + 1, len(right) + 1


def _positions(rows: Sequence[Terrace]) -> list[Mm]:
    """Places across where a section along is tried: the middle, and just inside every edge."""
    edges = {row.half_width for row in rows}
    places = [edge - 2.0 * NEAR for edge in edges]
    if any(not isinstance(outline, Rectangle) for row in rows for outline in row.outlines):
        places += [float(w) for w in np.linspace(0.0, max(edges), POSITIONS)[1:-1]]
    return [0.0, *sorted(place for place in places if place > NEAR)]


def _searched(stack: Stack) -> Floats:
    """Places along where the work may stand highest: the steps of the bend, and where it lies level between them."""
    profile = stack.sheet.profile
    t = profile.stations(stack.height + abs(stack.sheet.reference), CHORD)
    slope = profile.normals(t)[:, 0]
    before, after = slope[:-1], slope[1:]
    turns = before * after < 0.0
    # the normal turns evenly along an arc: there the level place is found exactly
    level = t[:-1][turns] + (np.diff(t) * before)[turns] / (before - after)[turns]
    return np.concatenate(([0.0], t, level))


def _across_at(stack: Stack, base: Base, rows: Sequence[Terrace], t: Mm) -> Floats:
    """Contour ``(n, 2)`` of the section across at a place along, from the left foot to the right one."""
    at = np.array([t])
    left = []
    for row in rows:
        if row.half_length < abs(t) - NEAR:
            break
        half = float(row.half_at(at)[0])
        for height in (row.low, row.high):
            left.append((-half, float(_level(stack, base, at, height)[0])))
    # the base has its face as both its heights
    upper = np.array(left[1:] + [(-w, z) for w, z in reversed(left[1:])])
    return _on_feet(upper)


def _level(stack: Stack, base: Base, t: Floats, height: Mm) -> Floats:
    """Level z of places on the sheet at a height above the face."""
    level: Floats = stack.sheet.place(t, np.zeros_like(t), height)[:, 2] + base.lift
    return level


def _with_shoulders(path: Floats, base: Base) -> Floats:
    """Path over the form with the level tops beside its hollow."""
    if base.shoulder == 0.0:
        return path
    return np.concatenate((base.upper[:1], path, base.upper[-1:]))


def _on_feet(upper: Floats) -> Floats:
    """Upper side with the ends of the base below it, down to the bench."""
    if upper[0, 1] <= 0.0:
        return upper
    return np.concatenate(([[upper[0, 0], 0.0]], upper, [[upper[-1, 0], 0.0]]))


def _film_in_bays(stack: Stack) -> tuple[Mm, Mm]:
    """Film down and up the sides of the bays of an outline, in sections along and across; every bay counts."""
    found = [bays(layer.outline.edge) for layer in stack.layers if isinstance(layer.outline, Pathed)]
    along, across = (max(counts, default=0) for counts in zip(*found, strict=True)) if found else (0, 0)
    return 2.0 * stack.height * along, 2.0 * stack.height * across


def _section(contour: Floats, is_hollow: bool, place: Mm, in_bays: Mm) -> FilmSection:
    return FilmSection(
        contour=contour,
        taut=hull_girth(contour),
        following=path_length(contour) + float(contour[-1, 0] - contour[0, 0]) + in_bays,
        is_hollow=is_hollow,
        place=place,
    )
