"""GLB (binary glTF 2.0) of a scene: one node for each part, with its name and colour.

glTF wants metres, y up and linear colours: lengths are divided by 1000, z becomes y, and colours leave sRGB. The
chordal tolerance stands in the extras of the scene. There are no normals: by the standard a viewer then shades each
triangle flat, which shows a mesh of prisms as it is.

Source: Khronos Group, glTF 2.0 Specification, 3.4 Coordinate System and Units, 4.4 GLB File Format.
"""

import json
import struct
from typing import Any

import numpy as np

from ..model.colour import Colour
from ..model.scene import Part, Scene
from .opacity import opacity_of
from .welding import Singles, in_singles

METRES_PER_MM = 0.001

FLOAT, UNSIGNED = 5126, 5125
CORNERS, INDICES = 34962, 34963


def glb(scene: Scene) -> bytes:
    """Write a scene as one binary glTF file."""
    chunks: list[bytes] = []
    views: list[dict[str, Any]] = []
    accessors: list[dict[str, Any]] = []
    for part in scene.parts:
        points, triangles = in_singles(_upright(part), part.mesh.triangles)
        _add(chunks, views, points.astype("<f4").tobytes(), CORNERS)
        accessors.append(_corners(points, len(views) - 1))
        _add(chunks, views, triangles.astype("<u4").tobytes(), INDICES)
        accessors.append(
            {
                "bufferView": len(views) - 1,
                "componentType": UNSIGNED,
                "count": triangles.size,
                "type": "SCALAR",
            }
        )
    numbers = range(len(scene.parts))
    body = b"".join(chunks)
    content = {
        "asset": {"version": "2.0", "generator": "underbag"},
        "scene": 0,
        "scenes": [
            {
                "name": scene.title,
                "nodes": list(numbers),
                "extras": {"chordal_tolerance_mm": scene.tolerance, "unit": "m", "up": "y"},
            }
        ],
        "nodes": [
            {"name": part.name, "mesh": number, "extras": {"key": part.key, "material": part.material}}
            for number, part in enumerate(scene.parts)
        ],
        "meshes": [
            {
                "name": part.name,
                "primitives": [
                    {"attributes": {"POSITION": 2 * number}, "indices": 2 * number + 1, "material": number}
                ],
            }
            for number, part in enumerate(scene.parts)
        ],
        "materials": [_material(part) for part in scene.parts],
        "accessors": accessors,
        "bufferViews": views,
        "buffers": [{"byteLength": len(body)}],
    }
    return _packed(json.dumps(content, ensure_ascii=False, separators=(",", ":")).encode(), body)


def linear(colour: Colour) -> list[float]:
    """Colour of the screen (sRGB, 0 to 255) as linear shares of red, green and blue.

    Source: IEC 61966-2-1, 5.2; from memory.
    """
    shares = (value / 255.0 for value in colour)
    return [round(v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4, 6) for v in shares]


def _upright(part: Part) -> Any:
    """Corners in metres with y up."""
    x, y, z = part.mesh.points.T * METRES_PER_MM
    return np.column_stack((x, z, -y))


def _add(chunks: list[bytes], views: list[dict[str, Any]], chunk: bytes, target: int) -> None:
    """Add a block of numbers to the file; all blocks are whole words."""
    start = sum(len(earlier) for earlier in chunks)
    chunks.append(chunk)
    views.append({"buffer": 0, "byteOffset": start, "byteLength": len(chunk), "target": target})


def _corners(points: Singles, view: int) -> dict[str, Any]:
    return {
        "bufferView": view,
        "componentType": FLOAT,
        "count": len(points),
        "type": "VEC3",
        "min": [float(value) for value in points.min(axis=0)],
        "max": [float(value) for value in points.max(axis=0)],
    }


def _material(part: Part) -> dict[str, Any]:
    blend = {"alphaMode": "BLEND"} if part.translucent else {}
    surface = {
        "baseColorFactor": [*linear(part.colour), opacity_of(part.translucent)],
        "metallicFactor": 0.0,
        "roughnessFactor": 0.8,
    }
    return {"name": part.material or part.name, "pbrMetallicRoughness": surface, **blend}


def _packed(content: bytes, body: bytes) -> bytes:
    """Header and the two chunks: content in JSON, padded with spaces, and numbers."""
    content += b" " * (-len(content) % 4)
    chunks = (
        struct.pack("<I4s", len(content), b"JSON") + content + struct.pack("<I4s", len(body), b"BIN\0") + body
    )
    return struct.pack("<4sII", b"glTF", 2, 12 + len(chunks)) + chunks
