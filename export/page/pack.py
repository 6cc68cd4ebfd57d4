"""The scene as one small block of bytes for the viewer (``parts.js`` reads it).

A header in JSON with one entry a part, then for each part: triangles and creases (unless they are those of the part
before), corners, growth and normals, all as whole numbers of small steps. Each column of numbers is written as differences of differences, lowest bytes first:
along a bend these stay small, and the faces that two neighbours share repeat each other, so that they compress well.
"""

import json
import struct
from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from ...model.scene import Part, Scene
from ...model.units import Mm
from .thickness import Uprights, growth, is_thin, thickness

PLACE: Mm = 0.002
"""Step of corners and growth."""
TURN = 0.002
"""Step of the components of a normal."""


def pack(scene: Scene, numbers: Mapping[str, str], uprights: Uprights) -> bytes:
    """Scene for the viewer.

    Parameters
    ----------
    scene
        The parts.
    numbers
        Number of each layer as it is printed, by the part's key; a part that is missing has none.
    uprights
        Heights and normals of bent parts, by key.
    """
    grown = growth(scene, uprights)
    heads: list[dict[str, object]] = []
    blocks: list[bytes] = []
    faces = b""
    for part in scene.parts:
        before, faces = faces, _numbers(part.mesh.triangles.reshape(-1, 1), 1.0)
        faces += _numbers(part.mesh.creases.reshape(-1, 1), 1.0)
        points, moves = part.mesh.points, grown[part.key]
        heads.append(
            {
                "key": part.key,
                "number": numbers.get(part.key, ""),
                "name": part.name,
                "material": part.material,
                "note": part.note,
                "colour": part.colour,
                "translucent": part.translucent,
                "lift": part.lift,
                "thickness": round(thickness(part, uprights), 4),
                "thin": is_thin(part, uprights),
                "alike": faces == before,
                **_counts(part),
                "low": _rounded(points.min(axis=0)),
                "size": _rounded(np.ptp(points, axis=0)),
            }
        )
        blocks += [
            b"" if faces == before else faces,
            _numbers(points, PLACE),
            _numbers(moves.amounts[:, None], PLACE),
            _numbers(moves.normals, TURN),
        ]
    head = json.dumps(heads, ensure_ascii=False, separators=(",", ":")).encode()
    head += b" " * (-len(head) % 4)
    return struct.pack("<I", len(head)) + head + b"".join(blocks)


def _counts(part: Part) -> dict[str, object]:
    """How many numbers each array of a part holds."""
    mesh = part.mesh
    return {"triangles": mesh.triangles.size, "creases": mesh.creases.size, "points": mesh.points.size}


def _numbers(rows: NDArray[np.float64] | NDArray[np.int64], step: float) -> bytes:
    """Rows of numbers in steps: one column after the other, differences of differences, all lowest bytes first."""
    whole = np.rint(rows / step).astype(np.int64)
    twice = np.diff(np.diff(whole, axis=0, prepend=0), axis=0, prepend=0)
    return twice.T.astype("<i4").reshape(-1, 1).view(np.uint8).T.tobytes()


def _rounded(numbers: NDArray[np.float64]) -> list[float]:
    """Numbers with a hundredth kept, mm."""
    return [round(float(number), 2) + 0.0 for number in numbers]
