"""Binary STL of a scene: one file for a part, or one for the whole. Lengths are in mm.

The 80 bytes before the triangles say what the file holds, the unit and the chordal tolerance.
"""

import numpy as np

from ..model.scene import Part, Scene
from ..model.units import Mm
from .welding import in_singles

APART: Mm = 0.001
"""How far each part of the whole stands above the one before it.

Parts that touch share corners, and a reader that joins equal corners would find edges with four faces and call the
mesh open. A micrometre keeps every part a closed shell of its own.
"""

TRIANGLE = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])


def stl_part(scene: Scene, part: Part) -> bytes:
    """Write one part of a scene, where it stands."""
    return _head(scene, part.key, 0.0) + _body([_triangles(part, 0.0)])


def stl_whole(scene: Scene) -> bytes:
    """Write all parts of a scene as separate closed shells, each a micrometre above the one before it."""
    return _head(scene, "whole", APART) + _body(
        [_triangles(part, number * APART) for number, part in enumerate(scene.parts)]
    )


def _head(scene: Scene, subject: str, apart: Mm) -> bytes:
    """Header of 80 bytes; it must not begin with ``solid``, by which readers know the text form."""
    gap = f"; parts {apart:g} mm apart" if apart else ""
    text = f"underbag; mm; chordal tolerance {scene.tolerance:g} mm{gap}; {subject}"
    return text.encode("ascii", "replace")[:80].ljust(80)


def _body(rows: list[np.ndarray[tuple[int], np.dtype[np.void]]]) -> bytes:
    triangles = np.concatenate(rows)
    return np.array(triangles.size, "<u4").tobytes() + triangles.tobytes()


def _triangles(part: Part, lift: Mm) -> np.ndarray[tuple[int], np.dtype[np.void]]:
    """Triangles of a part, raised by ``lift``."""
    points, triangles = in_singles(part.mesh.points + np.array([0.0, 0.0, lift]), part.mesh.triangles)
    corners = points[triangles]
    a, b, c = corners.astype(np.float64).transpose(1, 0, 2)
    normal = np.cross(b - a, c - a)
    length = np.sqrt(np.sum(normal * normal, axis=1))[:, None]
    rows = np.zeros(len(triangles), TRIANGLE)
    rows["normal"] = np.divide(normal, length, out=np.zeros_like(normal), where=length > 0.0)
    rows["corners"] = corners
    return rows
