"""Drawing thin sheets thicker than they are, so that a veneer shows beside an 18 mm substrate.

Thick parts keep their thickness: only sheets up to ``THIN`` grow, and what lies above a grown sheet moves away
from the platen or form by what was added below it, along the normal.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from ...model.scene import Part, Points, Scene
from ...model.shape.profile import Floats
from ...model.units import Mm

THIN: Mm = 1.5
"""Sheets up to this thickness are drawn thicker."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Upright:
    """Where the corners of a bent part stand on the form.

    Parameters
    ----------
    heights
        ``(n,)`` height of each corner above the face of the platen or form, along the normal, mm.
    normals
        ``(n, 3)`` unit normal of the sheet at each corner, away from the form.
    """

    heights: Floats
    normals: Points


Uprights = Mapping[str, Upright]
"""By the part's key. A part that is missing, such as a form's block, stays as it is."""


def flat_uprights(scene: Scene) -> Uprights:
    """Uprights of a flat layup: the height of every corner is its z."""
    return {part.key: _straight(part.mesh.points) for part in scene.parts}


def _straight(points: Points) -> Upright:
    """Corners that stand upright on the bench."""
    return Upright(heights=points[:, 2], normals=np.tile([0.0, 0.0, 1.0], (len(points), 1)))


def thickness(part: Part, uprights: Uprights) -> Mm:
    """How far a part extends along the normal, or upward where it has none, mm."""
    if part.hung:
        return part.hung
    stand = uprights.get(part.key) or _straight(part.mesh.points)
    return float(np.ptp(stand.heights))


def is_thin(part: Part, uprights: Uprights) -> bool:
    """Whether a part is drawn thicker."""
    return part.key in uprights and thickness(part, uprights) <= THIN


@dataclass(frozen=True, slots=True, kw_only=True)
class Growth:
    """How far corners move when thin sheets are drawn one time thicker: ``(n,)`` amounts, mm, along unit normals."""

    amounts: Floats
    normals: Points

    @property
    def moves(self) -> Points:
        """Moves ``(n, 3)``, mm; drawn k times as thick, a corner moves by k − 1 of this."""
        moves: Points = self.amounts[:, None] * self.normals
        return moves


def growth(scene: Scene, uprights: Uprights) -> dict[str, Growth]:
    """Growth of every part, by key."""
    bands = _bands([_band(part, uprights) for part in scene.parts if is_thin(part, uprights)])
    return {part.key: _grown(part, uprights, bands) for part in scene.parts}


def _grown(part: Part, uprights: Uprights, bands: list[tuple[Mm, Mm]]) -> Growth:
    """Thin material between each corner and the face of the platen or form."""
    stand = uprights.get(part.key)
    if stand is None:
        points = part.mesh.points
        return Growth(amounts=np.zeros(len(points)), normals=np.zeros_like(points))
    # thin material up to a height: it rises within each band and stays between them
    edges = [edge for band in bands for edge in band] or [0.0]
    below = np.cumsum([0.0, *(np.diff(edges) * (np.arange(len(edges) - 1) % 2 == 0))])
    amounts = np.interp(stand.heights, edges, below) - np.interp(0.0, edges, below)
    return Growth(amounts=amounts, normals=stand.normals)


def _band(part: Part, uprights: Uprights) -> tuple[Mm, Mm]:
    """Heights between which a sheet lies; one that hangs over an edge lies at its highest."""
    heights = uprights[part.key].heights
    high = float(heights.max())
    return (high - part.hung if part.hung else float(heights.min())), high


def _bands(sheets: list[tuple[Mm, Mm]]) -> list[tuple[Mm, Mm]]:
    """Ranges of height that thin sheets fill; sheets beside each other fill one range together."""
    bands: list[tuple[Mm, Mm]] = []
    for low, high in sorted(sheets):
        if bands and low <= bands[-1][1]:
            bands[-1] = (bands[-1][0], max(high, bands[-1][1]))
        else:
            bands.append((low, high))
    return bands
