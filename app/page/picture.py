"""The picture of a layup as the page needs it: packed parts, sizes drawn in it, and where the checks point to."""

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from ...export.page import Upright
from ...export.page.pack import pack
from ...export.page.thickness import flat_uprights
from ...export.uprights import bent_uprights
from ...model.checks.rule import Place
from ...model.plan import Plan
from ...model.scene import TOLERANCE, Scene, scene
from ...model.shape.sheet import Sheet
from ...model.shape.slab import stations
from ...model.shape.taper import TaperedSheet
from ...model.units import Mm
from ...model.wording import both, in_mm

LARGEST = 400_000
"""Triangles up to which a picture is drawn: more would choke the browser of a tablet."""
PER_STATION = 12
"""Triangles that a layer has at each place where its mesh is cut, about."""
LEVELS = {"film": "upper-film", "base": "platen"}
"""Parts by the words that a check names its place with, where they differ."""

Spot = list[float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A scene, packed for the viewer; the digest tells it from others."""

    scene: Scene
    uprights: dict[str, Upright]
    numbers: dict[str, str]
    packed: bytes
    digest: str


def picture(plan: Plan) -> Picture | None:
    """Packed scene of a plan; nothing where it would be too large to draw."""
    if triangles(plan) > LARGEST:
        return None
    drawn = scene(plan)
    uprights = bent_uprights(plan, drawn) if plan.layup.is_bent else dict(flat_uprights(drawn))
    numbers = {layer.key: str(number) for number, layer in enumerate(plan.stack.layers, 1)}
    packed = pack(drawn, numbers, uprights)
    digest = hashlib.sha256(packed).hexdigest()[:16]
    return Picture(scene=drawn, uprights=uprights, numbers=numbers, packed=packed, digest=digest)


def triangles(plan: Plan) -> int:
    """Triangles that the picture of a plan would have, about; without making it."""
    sheet = plan.stack.sheet
    reach = max(plan.stack.height - sheet.reference, sheet.reference)
    largest = max((layer.outline for layer in plan.stack.layers), key=lambda one: one.length)
    places, _ = stations(sheet, largest, reach, TOLERANCE)
    return PER_STATION * len(places) * (len(plan.stack.layers) + 3)


def spots(plan: Plan, drawn: Scene, places: Sequence[Place]) -> list[tuple[str, Spot]]:
    """Part and point in the picture of each place on the sheet."""
    keys = {part.key for part in drawn.parts}
    parts = [_part(plan, keys, place.layer) for place in places]
    found = [plan.stack.find(place.layer) for place in places]
    heights = [
        0.0 if key == plan.base.kind else plan.stack.height if layer is None else layer.top
        for key, layer in zip(parts, found, strict=True)
    ]
    t, w = np.array([place.t for place in places]), np.array([place.w for place in places])
    sheet, lift = surface_of(plan)
    points = sheet.place(t, w, np.array(heights)) + np.array([0.0, 0.0, lift])
    return list(zip(parts, np.round(points, 2).tolist(), strict=True))


def surface_of(plan: Plan) -> tuple[Sheet | TaperedSheet, Mm]:
    """The sheet that a plan's layers follow, and what turns its heights into z."""
    if plan.taper is None:
        return plan.stack.sheet, plan.base.lift
    return plan.taper.states.pressed, plan.taper.lift


def _part(plan: Plan, keys: set[str], layer: str) -> str:
    """Part that stands for a layer; what lies below it where the picture has none of its own."""
    key = LEVELS.get(layer, layer)
    return key if key in keys else plan.base.kind if plan.base.kind in keys else ""


def dimensions(plan: Plan, drawn: Scene) -> list[dict[str, Any]]:
    """Lengths drawn in the picture: between which points, and what they say."""
    return [{"from": low, "to": high, "text": text} for low, high, text in _dimensions(plan, drawn)]


def _dimensions(plan: Plan, drawn: Scene) -> Iterator[tuple[Spot, Spot, str]]:
    solid = np.concatenate([part.mesh.points for part in drawn.parts if not part.translucent])
    low, high = solid.min(axis=0), solid.max(axis=0)
    aside = 0.06 * float(np.ptp(solid[:, :2], axis=0).max())
    panel = plan.outline
    sheet, z = surface_of(plan)
    u = np.array([-0.5, 0.5]) * panel.length
    # the front shows the near side: of a taper the curve of that end
    w = np.zeros(2) if isinstance(sheet, Sheet) else -sheet.half_width(u)
    ends = sheet.place(u, w, sheet.reference)
    front, right = float(low[1]) - aside, float(high[0]) + aside
    said = both if plan.layup.unit == "in" else in_mm
    lengthwise = "panel length" if not plan.layup.is_bent else "chord on the form"
    span = float(np.hypot(*(ends[1] - ends[0])[[0, 2]]))
    yield (
        [float(ends[0, 0]), front, float(ends[0, 2] + z)],
        [float(ends[1, 0]), front, float(ends[1, 2] + z)],
        f"{lengthwise} {said(span)}",
    )
    yield [right, -0.5 * panel.width, z], [right, 0.5 * panel.width, z], f"panel width {said(panel.width)}"
    top = plan.base.lift + plan.stack.height if not plan.layup.is_bent else float(high[2])
    yield [right, front, 0.0], [right, front, top], f"above the bench {said(top)}"
