"""Sections of the whole layup as the film meets them: along the length and across the width.

The film runs up the side of the platen or form, over its face, up the edges of the stack and over its top.
Soft sheets (release, paper, breather) follow what is below them: they add height, not reach.
"""

from dataclasses import dataclass

import numpy as np

from ..base import Base
from ..draft import Role
from ..mechanics.film_path import hull_girth, path_length
from ..shape.profile import Floats
from ..stack import Layer, Stack
from ..units import Mm

SOFT: tuple[Role, ...] = ("release", "absorbent", "breather", "adhesive")
CHORD: Mm = 0.1
"""Chordal tolerance of the curved parts of a section; a girth is short by less than this over its length."""


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
        Girth of a film that lies on the work everywhere, into every hollow, mm.
    is_hollow
        Whether the work lies in a hollow that the film has to reach into.
    """

    contour: Floats
    taut: Mm
    following: Mm
    is_hollow: bool

    @property
    def girth(self) -> Mm:
        """Film needed all round: taut over a crown or a flat stack, following into a hollow."""
        return self.following if self.is_hollow else self.taut

    @property
    def foot(self) -> Mm:
        """Width that the layup takes on the bench."""
        return float(self.contour[:, 0].max() - self.contour[:, 0].min())

    @property
    def height(self) -> Mm:
        """Height of the layup above the bench."""
        return float(self.contour[:, 1].max())

    @property
    def over(self) -> Mm:
        """Film needed over the top, from foot to foot."""
        return self.girth - self.foot


def along_section(stack: Stack, base: Base) -> FilmSection:
    """Section in the middle of the width, along the panel's length."""
    sheet = stack.sheet
    half_base = 0.5 * base.outline.length
    steps = _steps([(layer.height, layer.top, 0.5 * layer.outline.length, layer) for layer in stack.layers])
    rows = [(0.0, half_base), *steps]
    t = _stations(stack, rows)
    left, right = _flank(rows, -1.0), _flank(rows, 1.0)[::-1]
    top = np.column_stack((t, np.full_like(t, stack.height)))
    path = np.concatenate((left, top, right))
    face = _on_face(stack, half_base, rows)
    path = np.concatenate((face[0], path, face[1]))
    spots = sheet.place(path[:, 0], np.zeros(len(path)), path[:, 1])
    upper = _with_shoulders(spots[:, [0, 2]] + np.array([0.0, base.lift]), base)
    return _section(upper, base.kind == "form" and sheet.profile.has_hollow)


def _with_shoulders(path: Floats, base: Base) -> Floats:
    """Path over the form with the level tops beside its hollow."""
    if base.shoulder == 0.0:
        return path
    return np.concatenate((base.upper[:1], path, base.upper[-1:]))


def hollow_profile(stack: Stack, base: Base) -> tuple[Floats, int, int]:
    """Upper side of the work in its hollow form, and the rims beside it that would catch the film.

    The form's face in the gutters between work and rims is left out: film that spans a gutter starves nothing.

    Returns
    -------
    profile
        ``(n, 2)`` points from left to right.
    before, after
        How many of them belong to the left rim and to the right one, and not to the work.
    """
    rows = _steps([(layer.height, layer.top, 0.5 * layer.outline.length, layer) for layer in stack.layers])
    half = rows[-1][1]
    t = np.concatenate(([-half], _stations(stack, rows), [half]))
    top = stack.sheet.place(t, np.zeros_like(t), stack.height)[:, [0, 2]] + np.array([0.0, base.lift])
    left, right = base.upper[[0, 1]], base.upper[[-2, -1]]
    left, right = left[left[:, 0] < top[0, 0]], right[right[:, 0] > top[-1, 0]]
    return np.concatenate((left, top, right)), len(left), len(right)


def across_section(stack: Stack, base: Base) -> FilmSection:
    """Section across the width where the layup stands highest."""
    half_base = 0.5 * base.outline.width
    steps = _steps([(layer.height, layer.top, 0.5 * layer.outline.width, layer) for layer in stack.layers])
    t = stack.sheet.profile.stations(stack.height, CHORD)
    highest = float(stack.sheet.place(t, np.zeros_like(t), 0.0)[:, 2].max()) + base.lift
    left = [(-half_base, 0.0), (-half_base, highest)] + [(-half, highest + h) for h, half in steps]
    upper = np.array(left + [(-w, z) for w, z in reversed(left)])
    return _section(upper, False)


def _section(upper: Floats, is_hollow: bool) -> FilmSection:
    first, last = upper[0, 0], upper[-1, 0]
    contour = np.concatenate(([[first, 0.0]], upper, [[last, 0.0]])) if upper[0, 1] > 0.0 else upper
    return FilmSection(
        contour=contour,
        taut=hull_girth(contour),
        following=path_length(contour) + float(last - first),
        is_hollow=is_hollow,
    )


def _steps(rows: list[tuple[Mm, Mm, Mm, Layer]]) -> list[tuple[Mm, Mm]]:
    """Staircase of the stack's edge from below: height and half extent, foot and head of every layer.

    What lies under a larger layer is in its shade: the film cannot get there.
    """
    hard = [half if layer.role not in SOFT else 0.0 for _, _, half, layer in rows]
    shade = np.maximum.accumulate(hard[::-1])[::-1]
    # soft sheets on top of everything hard reach as far as what they lie on
    reach = [float(s) if s > 0.0 else float(max(hard)) for s in shade]
    last_hard = max((i for i, value in enumerate(hard) if value > 0.0), default=-1)
    for i in range(last_hard + 1, len(reach)):
        reach[i] = hard[last_hard]
    stairs: list[tuple[Mm, Mm]] = []
    for (low, high, _, _), half in zip(rows, reach, strict=True):
        stairs += [(low, half), (high, half)]
    return stairs


def _flank(rows: list[tuple[Mm, Mm]], side: float) -> Floats:
    """Places ``(t, h)`` up one side of the stack, without the base's own end."""
    return np.array([(side * half, h) for h, half in rows[1:]])


def _stations(stack: Stack, rows: list[tuple[Mm, Mm]]) -> Floats:
    """Places t over the top of the stack, without its ends."""
    half = rows[-1][1]
    t = stack.sheet.profile.stations(stack.height + stack.sheet.reference, CHORD)
    return t[(t > -half) & (t < half)]


def _on_face(stack: Stack, half_base: Mm, rows: list[tuple[Mm, Mm]]) -> tuple[Floats, Floats]:
    """Places ``(t, h)`` on the face of the base beside the work: before it and after it."""
    half = min(rows[1][1], half_base)
    t = stack.sheet.profile.stations(stack.sheet.reference, CHORD)
    outer = t[(t > half) & (t < half_base)]
    right = np.concatenate((outer, [half_base]))
    inner = t[(t < -half) & (t > -half_base)]
    left = np.concatenate(([-half_base], inner))
    return np.column_stack((left, np.zeros_like(left))), np.column_stack((right, np.zeros_like(right)))
