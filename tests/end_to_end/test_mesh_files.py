"""STL and GLB of whole jobs, read by trimesh and by their bytes.

Outside referees: trimesh's readers and its test for closed meshes; the layout of GLB by the Khronos glTF 2.0
Specification, 4.4 (from memory).
"""

import io
import json
import math
import struct
from typing import Any

import numpy as np
import pytest
import trimesh

from underbag.export.glb import glb, linear
from underbag.export.stl import APART, stl_part, stl_whole
from underbag.export.welding import in_singles
from underbag.model.layup.settle import settle
from underbag.model.plan import plan
from underbag.model.scene import Scene, scene

JOBS: dict[str, Any] = {
    "flat": {"panel": {"length": 420.0, "width": 300.0}},
    "ellipse": {"panel": {"length": 420.0, "width": 300.0, "outline": "ellipse"}},
    "arc": {"panel": {"width": 150.0}, "bend": {"chord": 600.0, "rise": 60.0}},
    "concave": {"panel": {"width": 150.0}, "bend": {"chord": 600.0, "rise": 60.0, "show_face": "inside"}},
    "half round": {
        "panel": {"width": 150.0},
        "bend": {"radius": 200.0, "angle": math.pi},
        "form": {"springback": 0.0},
    },
}


@pytest.fixture(scope="module")
def scenes() -> dict[str, Scene]:
    return {name: scene(plan(settle(asked, title=f"Panel № {name}"))) for name, asked in JOBS.items()}


def read_stl(content: bytes) -> trimesh.Trimesh:
    """The file as trimesh reads it, with equal corners joined."""
    return trimesh.load(io.BytesIO(content), file_type="stl")


def exact_volume(shown: Any) -> float:
    """Volume of a part's mesh in double precision, mm³, by the divergence theorem."""
    points = shown.mesh.points - shown.mesh.points.mean(axis=0)
    a, b, c = points[shown.mesh.triangles].transpose(1, 0, 2)
    return float(np.sum(a * np.cross(b, c)) / 6.0)


def rounding(shown: Any) -> float:
    """Bound on the volume lost to single precision: half a step of the farthest coordinate over the whole skin."""
    a, b, c = shown.mesh.points[shown.mesh.triangles].transpose(1, 0, 2)
    skin = 0.5 * float(np.linalg.norm(np.cross(b - a, c - a), axis=1).sum())
    step = float(np.spacing(np.float32(np.abs(shown.mesh.points).max())))
    return skin * step * math.sqrt(3.0)


def glb_content(content: bytes) -> dict[str, Any]:
    """The JSON of a GLB file, its frame checked on the way."""
    magic, version, length = struct.unpack_from("<4sII", content)
    assert (magic, version, length) == (b"glTF", 2, len(content))
    size, kind = struct.unpack_from("<I4s", content, 12)
    assert kind == b"JSON"
    assert size % 4 == 0
    body_size, body_kind = struct.unpack_from("<I4s", content, 20 + size)
    assert body_kind == b"BIN\0"
    assert body_size % 4 == 0
    assert 28 + size + body_size == length
    found: dict[str, Any] = json.loads(content[20 : 20 + size])
    assert found["buffers"] == [{"byteLength": body_size}]
    return found


@pytest.mark.parametrize("job", JOBS)
def test_every_part_is_a_closed_stl(scenes: dict[str, Scene], job: str) -> None:
    for part in scenes[job].parts:
        read = read_stl(stl_part(scenes[job], part))
        assert read.is_watertight, part.key
        assert read.is_winding_consistent, part.key
        assert read.volume == pytest.approx(exact_volume(part), abs=rounding(part)), part.key
        assert read.volume > 0.0, part.key


@pytest.mark.parametrize("job", JOBS)
def test_the_whole_is_a_closed_stl_of_as_many_shells(scenes: dict[str, Scene], job: str) -> None:
    parts = scenes[job].parts
    read = read_stl(stl_whole(scenes[job]))
    assert read.is_watertight
    assert read.is_winding_consistent
    assert len(read.split(only_watertight=True)) == len(parts)
    # beside the rounding, the thin sheets of the stack are moved by whole micrometres: nothing of their volume
    bound = sum(map(rounding, parts))
    assert read.volume == pytest.approx(sum(map(exact_volume, parts)), abs=bound)


@pytest.mark.parametrize("job", ["flat", "half round"])
def test_parts_stand_where_they_are(scenes: dict[str, Scene], job: str) -> None:
    for part in scenes[job].parts:
        low, high = read_stl(stl_part(scenes[job], part)).bounds
        assert low == pytest.approx(part.mesh.points.min(axis=0), abs=1e-4)
        assert high == pytest.approx(part.mesh.points.max(axis=0), abs=1e-4)
    whole = read_stl(stl_whole(scenes[job])).bounds
    ends = np.array([part.mesh.points.min(axis=0) for part in scenes[job].parts]).min(axis=0)
    assert whole[0] == pytest.approx(ends, abs=1e-4 + APART * len(scenes[job].parts))


def test_the_stl_header_says_unit_and_tolerance(scenes: dict[str, Scene]) -> None:
    made = scenes["arc"]
    for content, subject in ((stl_part(made, made.parts[2]), made.parts[2].key), (stl_whole(made), "whole")):
        head = content[:80].decode("ascii")
        assert not head.startswith("solid")
        assert f"chordal tolerance {made.tolerance:g} mm" in head
        assert head.rstrip().endswith(subject)
        count = struct.unpack_from("<I", content, 80)[0]
        assert len(content) == 84 + 50 * count


@pytest.mark.parametrize("job", JOBS)
def test_every_part_of_a_glb_is_closed_and_in_metres(scenes: dict[str, Scene], job: str) -> None:
    made = scenes[job]
    read = trimesh.load_scene(io.BytesIO(glb(made)), file_type="glb")
    assert len(read.geometry) == len(made.parts)
    found = [read.geometry[read.graph[node][1]] for node in read.graph.nodes_geometry]
    volumes = sorted(mesh.volume * 1e9 for mesh in found)
    assert all(mesh.is_watertight for mesh in found)
    for volume, part in zip(volumes, sorted(made.parts, key=exact_volume), strict=True):
        # twice: metres round no finer than millimetres, and trimesh joins corners at 1e-8 m
        assert volume == pytest.approx(exact_volume(part), abs=2.0 * rounding(part), rel=0.0), part.key


@pytest.mark.parametrize("job", JOBS)
def test_a_glb_names_and_colours_its_parts(scenes: dict[str, Scene], job: str) -> None:
    made = scenes[job]
    content = glb_content(glb(made))
    assert [node["name"] for node in content["nodes"]] == [part.name for part in made.parts]
    assert [node["extras"]["key"] for node in content["nodes"]] == [part.key for part in made.parts]
    assert content["scenes"][0]["name"] == made.title
    assert content["scenes"][0]["extras"]["chordal_tolerance_mm"] == made.tolerance
    for node, part in zip(content["nodes"], made.parts, strict=True):
        primitive = content["meshes"][node["mesh"]]["primitives"][0]
        material = content["materials"][primitive["material"]]
        *colour, alpha = material["pbrMetallicRoughness"]["baseColorFactor"]
        assert colour == linear(part.colour)
        assert (alpha < 1.0) == part.translucent == ("alphaMode" in material)


def test_up_is_y_in_a_glb(scenes: dict[str, Scene]) -> None:
    made = scenes["arc"]
    content = glb_content(glb(made))
    highest = max(accessor["max"][1] for accessor in content["accessors"] if "max" in accessor)
    expected = max(part.mesh.points[:, 2].max() for part in made.parts)
    # 1e-7 m: a step of single precision below one metre
    assert highest == pytest.approx(0.001 * expected, abs=1e-7)


def test_the_bounds_in_a_glb_are_those_of_its_numbers(scenes: dict[str, Scene]) -> None:
    content = glb(scenes["ellipse"])
    found = glb_content(content)
    start = 28 + struct.unpack_from("<I", content, 12)[0]
    for accessor in found["accessors"]:
        view = found["bufferViews"][accessor["bufferView"]]
        block = content[start + view["byteOffset"] : start + view["byteOffset"] + view["byteLength"]]
        if accessor["type"] == "VEC3":
            points = np.frombuffer(block, "<f4").reshape(-1, 3)
            assert len(points) == accessor["count"]
            assert points.min(axis=0).tolist() == accessor["min"]
            assert points.max(axis=0).tolist() == accessor["max"]
        else:
            assert np.frombuffer(block, "<u4").size == accessor["count"]
        assert view["byteOffset"] % 4 == 0


def test_middle_grey_of_the_screen_is_a_fifth_of_the_light() -> None:
    """Grey 128 is 0.2158605 linear, black and white stay. Source: IEC 61966-2-1, 5.2; from memory."""
    assert linear((128, 0, 255)) == pytest.approx([0.2158605, 0.0, 1.0], abs=1e-6)
    # 10 lies on the straight part of the curve: 10/255/12.92
    assert linear((10, 10, 10)) == pytest.approx([0.003035] * 3, abs=1e-6)


@pytest.mark.parametrize("job", ["ellipse", "arc"])
def test_the_same_job_gives_the_same_bytes(scenes: dict[str, Scene], job: str) -> None:
    again = scene(plan(settle(JOBS[job], title=f"Panel № {job}")))
    assert glb(again) == glb(scenes[job])
    assert stl_whole(again) == stl_whole(scenes[job])


def test_a_sliver_thinner_than_single_precision_leaves_the_mesh_closed() -> None:
    """A box with one edge cut in two at 1e-9 mm from its end."""
    box = trimesh.creation.box((500.0, 300.0, 18.0))
    points = np.vstack((box.vertices, box.vertices[0] + (1e-9, 0.0, 0.0)))
    # the first triangle is split at a point that becomes its own corner after rounding
    a, b, c = next(face for face in box.faces if 0 in face)
    rest = [face for face in box.faces if set(face) != {a, b, c}]
    triangles = np.array([*rest, (a, b, 8), (b, c, 8), (c, a, 8)])
    corners, whole = in_singles(points, triangles)
    assert len(corners) == 8
    assert len(whole) == 12
    assert trimesh.Trimesh(corners, whole, process=False).is_watertight
