"""Faces of a part as the eye sees them: smooth patches between creases, those turned away left out."""

from dataclasses import dataclass

import numpy as np

from ...model.scene import Indices, Mesh, Points
from ...model.shape.profile import Floats
from ...model.units import Mm
from .camera import Eye, light


@dataclass(frozen=True, slots=True, kw_only=True)
class Facet:
    """A smooth patch of one part, as seen.

    Parameters
    ----------
    part
        Place of its part in the scene.
    triangles
        ``(m, 3, 3)`` its triangles as right, up and toward the eye, mm.
    tones
        ``(m,)`` share of the part's colour on each triangle, 0 to 1.
    loops
        Its outlines, each ``(n, 2)`` right and up, mm.
    ruling
        ``(2,)`` direction on the picture along which the tone stays the same.
    """

    part: int
    triangles: Floats
    tones: Floats
    loops: tuple[Points, ...]
    ruling: Floats

    @property
    def width(self) -> Mm:
        """Mean width as seen: twice the area by the length of the outline, mm."""
        pairs = [(loop, np.roll(loop, -1, axis=0)) for loop in self.loops]
        area = sum(float(np.sum(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0])) for a, b in pairs)
        return abs(area) / sum(float(np.linalg.norm(b - a, axis=1).sum()) for a, b in pairs)


def facets(place: int, mesh: Mesh, eye: Eye) -> list[Facet]:
    """Facets of a closed mesh that face the eye; ``place`` is its part's place in the scene."""
    corners = mesh.points[mesh.triangles]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    lengths = np.linalg.norm(normals, axis=1)
    normals = normals / np.where(lengths > 0.0, lengths, 1.0)[:, None]
    facing = (normals @ eye.back > 1e-6) & (lengths > 0.0)
    triangles, tones = mesh.triangles[facing], light(normals[facing])
    creases = {frozenset((int(a), int(b))) for a, b in mesh.creases}
    seen = eye.see(mesh.points)
    return [
        Facet(
            part=place,
            triangles=seen[triangles[group]],
            tones=tones[group],
            loops=tuple(seen[rim][:, :2] for rim in _rims(triangles[group])),
            ruling=_ruling(seen, triangles[group], tones[group]),
        )
        for group in _groups(triangles, creases)
    ]


def _edges(triangle: Indices) -> list[tuple[int, int]]:
    """Edges of a triangle, in its own direction."""
    a, b, c = (int(corner) for corner in triangle)
    return [(a, b), (b, c), (c, a)]


def _groups(triangles: Indices, creases: set[frozenset[int]]) -> list[list[int]]:
    """Triangles that hang together over edges without a crease."""
    at_edge: dict[frozenset[int], list[int]] = {}
    for number, triangle in enumerate(triangles):
        for edge in _edges(triangle):
            key = frozenset(edge)
            if key not in creases:
                at_edge.setdefault(key, []).append(number)
    groups: list[list[int]] = []
    taken = np.zeros(len(triangles), dtype=bool)
    for first in range(len(triangles)):
        if taken[first]:
            continue
        taken[first] = True
        group = [first]
        for member in group:  # the group grows while it is walked through
            for edge in _edges(triangles[member]):
                for other in at_edge.get(frozenset(edge), ()):
                    if not taken[other]:
                        taken[other] = True
                        group.append(other)
        groups.append(group)
    return groups


def _rims(triangles: Indices) -> list[list[int]]:
    """Walk around triangles that hang together: their closed outlines."""
    edges = {edge for triangle in triangles for edge in _edges(triangle)}
    onward: dict[int, list[int]] = {}
    for a, b in sorted(edges):
        if (b, a) not in edges:
            onward.setdefault(a, []).append(b)
    rims = []
    while onward:
        rim = [min(onward)]
        while rim[-1] in onward:
            ways = onward[rim[-1]]
            step = ways.pop()
            if not ways:
                del onward[rim[-1]]
            rim.append(step)
        rims.append(rim[:-1])
    return rims


def _ruling(seen: Points, triangles: Indices, tones: Floats) -> Floats:
    """Mean direction of the inner edges over which the tone changes; upward on the picture where it never does."""
    tone_at: dict[tuple[int, int], float] = {
        edge: float(tone)
        for triangle, tone in zip(triangles, tones, strict=True)
        for edge in _edges(triangle)
    }
    runs = [
        seen[b, :2] - seen[a, :2]
        for (a, b), tone in tone_at.items()
        if a < b and abs(tone_at.get((b, a), tone) - tone) > 1e-6
    ]
    if not runs:
        return np.array([0.0, 1.0])
    lines = np.array(runs)
    lines *= np.where(lines @ lines[0] < 0.0, -1.0, 1.0)[:, None]
    mean: Floats = lines.sum(axis=0)
    length = float(np.hypot(*mean))
    return mean / length if length > 0.0 else np.array([0.0, 1.0])
