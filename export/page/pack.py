"""The scene as one small block of bytes for the viewer (``parts.js`` reads it).

A header in JSON with one entry a part, then for each part: triangles and creases (32-bit), then corners, growth and
normals in 16-bit steps, one axis after the other. Corners and growth have the part's own range, normals that of
−1 to 1, so that parts with the same normals repeat each other. All are differences, which compress well.
"""

import json
import struct
from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from ...model.scene import Part, Scene
from .thickness import Uprights, growth, is_thin, thickness

STEPS = 65535


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
    for part in scene.parts:
        points, moves = part.mesh.points, grown[part.key]
        low, size = points.min(axis=0), np.ptp(points, axis=0)
        least, most = float(moves.amounts.min()), float(moves.amounts.max())
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
                **_counts(part),
                "low": _rounded(low),
                "size": _rounded(size),
                "growth": _rounded(np.array([least, most - least])),
            }
        )
        blocks += [
            _indices(part.mesh.triangles),
            _indices(part.mesh.creases),
            _steps(points, low, size),
            _steps(moves.amounts[:, None], np.array([least]), np.array([most - least])),
            _steps(moves.normals, np.full(3, -1.0), np.full(3, 2.0)),
        ]
    head = json.dumps(heads, ensure_ascii=False, separators=(",", ":")).encode()
    head += b" " * (-len(head) % 4)
    return struct.pack("<I", len(head)) + head + b"".join(blocks)


def _counts(part: Part) -> dict[str, object]:
    """How many numbers each array of a part holds."""
    mesh = part.mesh
    return {"triangles": mesh.triangles.size, "creases": mesh.creases.size, "points": mesh.points.size}


def _steps(numbers: NDArray[np.float64], low: NDArray[np.float64], size: NDArray[np.float64]) -> bytes:
    """Rows of numbers as differences of steps within a range, one column after the other."""
    share = (numbers - low) / np.where(size > 0.0, size, 1.0)
    steps = np.rint(share * STEPS).astype(np.int64)
    differences = np.diff(steps, axis=0, prepend=0) % (STEPS + 1)
    return differences.T.astype("<u2").tobytes()


def _rounded(numbers: NDArray[np.float64]) -> list[float]:
    """Numbers with a tenth of a micrometre kept, mm."""
    return [round(float(number), 4) + 0.0 for number in numbers]


def _indices(numbers: NDArray[np.int64]) -> bytes:
    """Corner numbers as differences."""
    return (np.diff(numbers.ravel(), prepend=0) % 2**32).astype("<u4").tobytes()
