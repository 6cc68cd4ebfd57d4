"""The film as it lies under vacuum: over the stack, down its edges, over the base and flat to the seams.

The bag is sized so that there is film for every hollow and inside corner, and a limp film goes where the air presses
it: so it lies on the work everywhere. Before the pump it bridges. Soft sheets that reach past what they lie on drape
down its sides, under the film, and end on the base. What film and sheets have too much at corners lies in folds, which are not drawn.

x runs along the chord, y across, z up from the underside of the platen or form; the lower film lies below z = 0.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..base import Base
from ..draft import Role
from ..shape.outline import Outline, Rectangle
from ..shape.profile import Floats
from ..stack import Layer, Stack
from ..units import Mm
from .size import BagSize
from .skin import above_cut, below_cut, cut_at, descent, ground, margins, skin
from .terraces import Terrace, terraces, terraces_under
from .valve import ValvePlace

CHORD: Mm = 0.25
"""Chordal tolerance of the film. It stands off by as much, so that its chords never cut into the work."""

SHORTEST: Mm = 1e-4
"""Corners of a section nearer to each other than this are one."""

HANGING: tuple[Role, ...] = ("release", "absorbent", "breather")
"""Sheets that drape."""

LEAST_FLANGE: Mm = 10.0
"""Flange that is drawn in a bag too small for its layup."""

VALVE_HEIGHT: Mm = 15.0
"""Height of the disc that stands for the valve."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Drape:
    """The film under vacuum.

    Parameters
    ----------
    inner, outer
        ``(rows, 2 · n, 3)`` corners of the upper film's two faces, row by row from the foot on the bench to the edge
        of the top; every row runs along the front from left to right and back along the rear. Corners may coincide.
    low, high
        Corners ``(2,)`` x and y of both films, lying flat around the layup.
    thickness
        Thickness of each film.
    """

    inner: Floats
    outer: Floats
    low: Floats
    high: Floats
    thickness: Mm

    @property
    def section(self) -> Floats:
        """Outer face in the middle of the width, ``(m, 2)`` from the left foot to the right one."""
        return section_of(self.outer)

    @property
    def foot(self) -> tuple[Mm, Mm]:
        """Leftmost and rightmost x of the inner face on the bench."""
        return float(self.inner[0, :, 0].min()), float(self.inner[0, :, 0].max())


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Draped:
    """A soft sheet that drapes: the corners of its two faces, as those of the film, from its edge to its top's edge."""

    inner: Floats
    outer: Floats


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ValveDisc:
    """The disc that stands for the valve: middle of its base ``(3,)``, unit axis ``(3,)``, radius and height, mm."""

    base: Floats
    axis: Floats
    radius: Mm
    height: Mm


def drape(stack: Stack, base: Base, size: BagSize, place: ValvePlace, thickness: Mm) -> Drape:
    """Drape a film of a thickness over a layup, with the flange that its bag leaves around it."""
    inner, outer = _faces(stack, base, ((CHORD, 0.0), (CHORD + thickness, thickness)))
    along, across = 0.5 * size.length_terms[0].amount, 0.5 * size.width_terms[0].amount
    flange = [
        place.work_from_closed_end - along,
        place.work_from_left_seam - across,
        size.length - place.work_from_closed_end - along,
        size.width - place.work_from_left_seam - across,
    ]
    reach = np.array([max(side, LEAST_FLANGE + 2.0 * thickness) for side in flange])
    foot = inner[0, :, :2]
    return Drape(
        inner=inner,
        outer=outer,
        low=foot.min(axis=0) - reach[:2],
        high=foot.max(axis=0) + reach[2:],
        thickness=thickness,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Hung:
    """A soft sheet that reaches past what lies below it, and the terraces of that."""

    layer: Layer
    rows: tuple[Terrace, ...]


def hung_sheets(stack: Stack, base: Base) -> tuple[Hung, ...]:
    """Soft sheets that reach past what they lie on, on every side, from below."""
    found = []
    for layer in stack.layers:
        if layer.role not in HANGING:
            continue
        rows = terraces_under(stack, base, layer)
        if _hangs(layer.outline, rows[-1]):
            found.append(Hung(layer=layer, rows=rows))
    return tuple(found)


def _hangs(outline: Outline, top: Terrace) -> bool:
    """Whether a sheet covers all of a top and reaches past it somewhere, if only at a rounded corner."""
    length, width = outline.length - 2.0 * top.half_length, outline.width - 2.0 * top.half_width
    is_square = all(isinstance(edge, Rectangle) for edge in top.outlines)
    return min(length, width) >= 0.0 and (max(length, width) > 0.0 or not is_square)


def draped_sheets(stack: Stack, base: Base, tolerance: Mm) -> dict[str, Draped]:
    """Drape the soft sheets that hang over what they lie on, within a chordal tolerance; by the keys of their layers."""
    found, below = {}, 0.0
    for hung in hung_sheets(stack, base):
        layer = hung.layer
        under = ground(stack.sheet, base, hung.rows, stack.height, tolerance)
        cut = cut_at(descent(under), margins(under, _edge(layer)), 0.0)
        found[layer.key] = Draped(
            inner=above_cut(skin(under, below, layer.height, 0.0), cut),
            outer=above_cut(skin(under, below + layer.thickness, layer.top, 0.0), cut),
        )
        below += layer.thickness
    return found


def section_of(rows: Floats) -> Floats:
    """Section in the middle of the width through the rows of a face, ``(m, 2)`` from its left end to its right one."""
    front = rows.shape[1] // 2
    left, right = rows[:, 0, ::2], rows[:, front - 1, ::2]
    chain = np.concatenate((left, rows[-1, 1 : front - 1, ::2], right[::-1]))
    apart = np.abs(np.diff(chain, axis=0)).max(axis=1) > SHORTEST
    found: Floats = chain[np.concatenate(([True], apart))]
    return found


def _faces(stack: Stack, base: Base, faces: Sequence[tuple[Mm, Mm]]) -> list[Floats]:
    """Faces of the film, each by its distance from what it lies on and the level of its foot.

    It lies over the breather as far as that reaches, and on what is beside it.
    """
    under = ground(stack.sheet, base, terraces(stack, base), stack.height, CHORD)
    hung = [one.layer for one in hung_sheets(stack, base)]
    breather = next((layer for layer in hung if layer.role == "breather"), None)
    thin = sum(layer.thickness for layer in hung if layer is not breather)
    found = [skin(under, thin + off, stack.height + off, foot) for off, foot in faces]
    if breather is None:
        return found
    down, past = descent(under), margins(under, _edge(breather))
    for number, (off, foot) in enumerate(faces):
        over = skin(under, thin + breather.thickness + off, stack.height + off, foot)
        cut = cut_at(down, past, off)
        found[number] = np.concatenate((below_cut(found[number], cut), above_cut(over, cut)))
    return found


def _edge(layer: Layer) -> Terrace:
    return Terrace(outlines=(layer.outline,), low=layer.height, high=layer.top)


def valve_disc(film: Drape, stack: Stack, size: BagSize, place: ValvePlace) -> ValveDisc:
    """Stand the valve on the draped film: flat on the flange, or square to the film over the work."""
    if place.over == "tail":
        along, across = 0.5 * size.length_terms[0].amount, 0.5 * size.width_terms[0].amount
        left, right = film.foot
        front, rear = float(film.inner[0, :, 1].min()), float(film.inner[0, :, 1].max())
        x = _on_bench(place.from_closed_end - place.work_from_closed_end, along, left, right)
        y = _on_bench(place.from_left_seam - place.work_from_left_seam, across, front, rear)
        foot, axis = (x, y, film.thickness), (0.0, 0.0, 1.0)
    else:
        top = film.outer[-1, : film.outer.shape[1] // 2]
        top = top[np.concatenate(([True], np.diff(top[:, 0]) > SHORTEST))]
        x = float(stack.sheet.place(np.array([place.t]), np.array([place.w]), stack.height)[0, 0])
        # neither past the ends of the top, however far an owned bag puts its valve
        x = float(np.clip(x, top[0, 0], top[-1, 0]))
        edge = int(np.clip(np.searchsorted(top[:, 0], x, side="right") - 1, 0, len(top) - 2))
        (x0, _, z0), (x1, _, z1) = top[edge], top[edge + 1]
        run = np.array([x1 - x0, z1 - z0]) / np.hypot(x1 - x0, z1 - z0)
        out = np.array([-run[1], run[0]])
        spot = np.array([x, z0 + (x - x0) * (z1 - z0) / (x1 - x0)])
        # in a hollow the disc rests on its rim
        from_spot = top[:, ::2] - spot
        near = from_spot[np.abs(from_spot @ run) <= place.radius]
        spot = spot + out * max(0.0, float((near @ out).max(initial=0.0)))
        foot = (float(spot[0]), place.w, float(spot[1]))
        axis = (float(out[0]), 0.0, float(out[1]))
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
