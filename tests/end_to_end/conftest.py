"""A browser for the page's tests, and small scenes from numpy for the preview to show."""

import os
import shutil
from collections.abc import Iterator
from typing import Any

import numpy as np
import pytest

from underbag.export.page import CheckRow, Content, LayerRow, Line, SizeRow, Upright
from underbag.model.scene import Mesh, Part, Scene

FLAGS = [
    "--no-sandbox",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
    "--force-color-profile=srgb",
    "--hide-scrollbars",
]


def missing(reason: str) -> None:
    """Skip for want of a browser, or fail where one is demanded (in CI)."""
    if os.environ.get("UNDERBAG_BROWSER_REQUIRED") == "1":
        pytest.fail(f"a browser is required here: {reason}")
    pytest.skip(reason)


@pytest.fixture(scope="session")
def launch() -> Iterator[Any]:
    """Give a function that starts headless Chromium with more flags; all are closed in the end."""
    program = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
    if program is None:
        missing("no chromium on this machine; on Debian: apt-get install chromium")
    try:
        from playwright.sync_api import sync_playwright
    except ImportError:
        missing("playwright is not installed; pip install underbag[test]")
    with sync_playwright() as driver:
        started = []

        def start(*more: str) -> Any:
            started.append(driver.chromium.launch(executable_path=program, args=[*FLAGS, *more]))
            return started[-1]

        yield start
        for one in started:
            one.close()


@pytest.fixture(scope="session")
def chromium(launch: Any) -> Any:
    """Headless Chromium that draws WebGL in software."""
    return launch()


def prism(low: Any, high: Any, width: float) -> Mesh:
    """Closed mesh between two curves ``(n, 2)`` in x and z, swept across ``width``."""
    n = len(low)
    curves = [(low, -1.0), (low, 1.0), (high, -1.0), (high, 1.0)]
    points = np.concatenate(
        [np.column_stack((c[:, 0], np.full(n, side * width / 2), c[:, 1])) for c, side in curves]
    )
    ll, lr, hl, hr = np.arange(4 * n).reshape(4, n)
    triangles = []
    for left, right in ((hl, hr), (lr, ll), (ll, hl), (hr, lr)):
        triangles += [(left[:-1], left[1:], right[:-1]), (right[:-1], left[1:], right[1:])]
    faces = [np.column_stack(three) for three in triangles]
    ends = [[ll[0], hl[0], hr[0]], [ll[0], hr[0], lr[0]], [lr[-1], hr[-1], hl[-1]], [lr[-1], hl[-1], ll[-1]]]
    lines = [np.column_stack((row[:-1], row[1:])) for row in (ll, lr, hl, hr)]
    rungs = [[a[k], b[k]] for k in (0, -1) for a, b in ((ll, lr), (hl, hr), (ll, hl), (lr, hr))]
    return Mesh(
        points=points,
        triangles=np.concatenate([*faces, np.array(ends)]),
        creases=np.concatenate([*lines, rungs]),
    )


def box(length: float, width: float, low: float, high: float) -> Mesh:
    """Box about the z axis."""
    x = np.array([-length / 2, length / 2])
    return prism(np.column_stack((x, [low, low])), np.column_stack((x, [high, high])), width)


# key, name, material, colour, thickness, margin past the panel on each side
STACK = (
    ("platen", "platen", "melamine board", (138, 132, 120), 16.0, 40.0),
    ("release below", "release film", "polyethylene", (214, 226, 232), 0.05, 18.0),
    ("back veneer", "back veneer", "oak", (170, 122, 74), 0.6, 6.0),
    ("glue below", "glue line", "urea", (240, 222, 150), 0.1, 0.0),
    ("substrate", "substrate", "MDF", (196, 160, 112), 18.0, 0.0),
    ("glue above", "glue line", "urea", (240, 222, 150), 0.1, 0.0),
    ("face veneer", "face veneer", "walnut", (94, 58, 38), 0.6, 6.0),
    ("release above", "release film", "polyethylene", (214, 226, 232), 0.05, 18.0),
    ("paper 1", "absorbent", "newsprint", (168, 166, 160), 0.08, 0.0),
    ("caul", "caul", "plywood", (112, 120, 124), 9.0, 1.0),
    ("breather", "breather", "netting", (158, 188, 150), 1.2, 30.0),
)


def part(
    key: str, name: str, material: str, colour: Any, lift: int, mesh: Mesh, *, clear: bool = False
) -> Part:
    """Part with a note."""
    span = np.ptp(mesh.points, axis=0)
    note = f"{span[0]:.0f} × {span[1]:.0f} mm"
    return Part(
        key=key,
        name=name,
        material=material,
        colour=colour,
        translucent=clear,
        lift=lift,
        note=note,
        mesh=mesh,
    )


def flat_scene(length: float = 500.0, width: float = 320.0, title: str = "Lid of a writing box") -> Scene:
    """Eleven sheets, the valve and the bag of a small flat panel."""
    parts, z = [], 0.0
    for lift, (key, name, material, colour, thick, margin) in enumerate(STACK):
        mesh = box(length + 2 * margin, width + 2 * margin, z, z + thick)
        parts.append(part(key, name, material, colour, lift, mesh))
        z += thick
    turn = np.linspace(0, np.pi, 13)
    disc = np.column_stack((-22 * np.cos(turn), 22 * np.sin(turn)))
    low, high = (np.column_stack((disc[:, 0], np.full(13, at))) for at in (z, z + 12.0))
    valve = prism(low, high, 2.0)
    points = valve.points.copy()
    points[:, 1] *= np.tile(disc[:, 1], 4)
    parts.append(
        part(
            "valve",
            "valve",
            "brass",
            (60, 60, 66),
            11,
            Mesh(points=points, triangles=valve.triangles, creases=valve.creases),
        )
    )
    rim = np.array([[-440, 0], [-290, 0], [-290, z], [290, z], [290, 0], [440, 0]], dtype=float)
    floor = np.column_stack((rim[:, 0], np.full(6, -0.1)))
    parts.append(
        part("bag", "bag film", "polyurethane", (90, 140, 170), 11, prism(floor, rim, 620.0), clear=True)
    )
    return Scene(title=title, tolerance=0.1, parts=tuple(parts))


def bent_scene(
    radius: float = 220.0, turn: float = 2.2, width: float = 180.0
) -> tuple[Scene, dict[str, Upright]]:
    """Sheets bent over a form, with the heights and normals of their corners."""
    angle = np.linspace(-turn / 2, turn / 2, 41)
    normal = np.column_stack((np.sin(angle), np.cos(angle)))
    foot = radius * np.cos(turn / 2) - 30.0
    layers = (
        ("release", "release film", (214, 226, 232), 0.05),
        ("inside veneer", "back veneer", (170, 122, 74), 0.6),
        ("glue 1", "glue line", (240, 222, 150), 0.15),
        ("ply 1", "lamination", (196, 160, 112), 3.0),
        ("glue 2", "glue line", (240, 222, 150), 0.15),
        ("ply 2", "lamination", (196, 160, 112), 3.0),
        ("glue 3", "glue line", (240, 222, 150), 0.15),
        ("ply 3", "lamination", (196, 160, 112), 3.0),
        ("glue 4", "glue line", (240, 222, 150), 0.15),
        ("outside veneer", "face veneer", (94, 58, 38), 0.6),
        ("release 2", "release film", (214, 226, 232), 0.05),
        ("breather", "breather", (158, 188, 150), 1.2),
    )
    top = radius * normal - [0.0, foot]
    base = np.column_stack((top[:, 0], np.zeros(len(top))))
    parts = [part("form", "form", "MDF ribs", (138, 132, 120), 0, prism(base, top, width + 60.0))]
    stands, height = {}, 0.0
    for lift, (key, name, colour, thick) in enumerate(layers, start=1):
        low, high = ((radius + h) * normal - [0.0, foot] for h in (height, height + thick))
        parts.append(part(key, name, "ash", colour, lift, prism(low, high, width)))
        lows, highs = np.full(2 * len(top), height), np.full(2 * len(top), height + thick)
        across = np.column_stack((normal[:, 0], np.zeros(len(top)), normal[:, 1]))
        stands[key] = Upright(heights=np.concatenate((lows, highs)), normals=np.tile(across, (4, 1)))
        height += thick
    return Scene(title="Bow front for a chest", tolerance=0.1, parts=tuple(parts)), stands


def content_of(scene: Scene, title: str | None = None) -> Content:
    """Words for a scene."""
    layers = tuple(
        LayerRow(
            key=one.key, number="" if one.key in ("valve", "bag", "form") else str(place + 1), name=one.name,
            material=one.material, note=one.note,
        )
        for place, one in enumerate(scene.parts)
    )  # fmt: skip
    return Content(
        title=title or scene.title,
        date="12 May 2031",
        status="caution",
        summary="1 caution, no stop",
        checks=(
            CheckRow(
                status="caution",
                title="Seams of the bag",
                message="The layup comes within 62 mm of the right seam; 75 mm leaves room for folds.",
                change="bag.width: 900 mm or more",
            ),
            CheckRow(
                status="ok",
                title="Overhang",
                message="6 mm on each side; the outer bound is 28.6 mm.",
                change="",
            ),
            CheckRow(status="ok", title="Breather", message="Reaches 29 mm past the caul.", change=""),
            CheckRow(
                status="not applicable", title="Radius of the bend", message="The panel is flat.", change=""
            ),
        ),
        sizes=tuple(
            SizeRow(
                number=row.number,
                name=row.name,
                material=row.material,
                mm=row.note,
                inches="20 3/16 × 13 1/16 in",
                thickness="0.6 mm",
                quantity="1",
            )
            for row in layers
            if row.number
        ),
        bag=(
            Line(label="Inside width, lying flat", text="540 mm (21 1/4 in)"),
            Line(label="Inside length", text="880 mm (34 5/8 in)"),
        ),
        valve=(
            Line(label="From the closed end", text="412 mm (16 1/4 in)"),
            Line(label="From the left seam", text="270 mm (10 5/8 in)"),
        ),
        layers=layers,
        cautions=("Film can suffocate: keep it away from children and pets.", "Glue fumes: open a window."),
        notes=("The bag is drawn schematically.",),
    )


@pytest.fixture(scope="session")
def flat() -> Scene:
    """Small flat panel."""
    return flat_scene()


@pytest.fixture(scope="session")
def bent() -> tuple[Scene, dict[str, Upright]]:
    """Stack bent over a form."""
    return bent_scene()


@pytest.fixture(scope="session")
def words() -> Any:
    """Give the function that writes the content of a scene."""
    return content_of
