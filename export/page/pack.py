"""The scene as one small block of bytes for the viewer (``parts.js`` reads it).

A header in JSON with one entry a part, then triangles and creases, each pair once however many parts are cut alike,
then corners, growth and normals of all parts one after the other, all as whole numbers of small steps. Each column
of numbers is written as differences of differences, lowest bytes first: along a bend these stay small, and the faces
that two neighbours share repeat each other, so that they compress well.
"""

import json
import struct
from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from ...model.scene import Mesh, Scene
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
    faces: dict[tuple[bytes, bytes], int] = {}
    heads = [
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
            "faces": faces.setdefault(_faces(part.mesh), len(faces)),
            "triangles": part.mesh.triangles.size,
            "creases": part.mesh.creases.size,
            "points": part.mesh.points.size,
            "low": _rounded(part.mesh.points.min(axis=0)),
            "size": _rounded(np.ptp(part.mesh.points, axis=0)),
        }
        for part in scene.parts
    ]
    moves = [grown[part.key] for part in scene.parts]
    head = json.dumps(heads, ensure_ascii=False, separators=(",", ":")).encode()
    head += b" " * (-len(head) % 4)
    return b"".join(
        (
            struct.pack("<I", len(head)),
            head,
            *(
                _numbers(np.frombuffer(one, np.int64).reshape(-1, corners), 1.0)
                for pair in faces
                for one, corners in zip(pair, (3, 2), strict=True)
            ),
            _numbers(np.concatenate([part.mesh.points for part in scene.parts]), PLACE),
            _numbers(np.concatenate([move.amounts for move in moves])[:, None], PLACE),
            _numbers(np.concatenate([move.normals for move in moves]), TURN),
        )
    )


def _faces(mesh: Mesh) -> tuple[bytes, bytes]:
    """Triangles and creases of a mesh, for telling whether two parts are cut alike."""
    return mesh.triangles.tobytes(), mesh.creases.tobytes()


def _numbers(rows: NDArray[np.float64] | NDArray[np.int64], step: float) -> bytes:
    """Rows of numbers in steps: one column after the other, differences of differences, all lowest bytes first."""
    numbers = np.rint(rows.T / step).astype("<i4")
    for _ in range(2):
        numbers[:, 1:] -= numbers[:, :-1].copy()
    return numbers.reshape(-1, 1).view(np.uint8).T.tobytes()


def _rounded(numbers: NDArray[np.float64]) -> list[float]:
    """Numbers with a hundredth kept, mm."""
    return [round(float(number), 2) + 0.0 for number in numbers]
