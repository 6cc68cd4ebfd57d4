"""The layers as they lie, uppermost first, with the size to cut in both systems."""

from collections.abc import Iterator

from ...model.plan import Plan
from ...model.stack import Layer
from ...model.wording import in_inches, in_mm
from ..columns import left, right
from .bag import UNDERCUT
from .ink import Ink

NUMBER, NAME, THICK, LENGTH, ACROSS = 3, 35, 11, 13, 13
"""Columns of the table: a blank parts the first two, a sign the last two."""


def layer_lines(plan: Plan, ink: Ink) -> Iterator[str]:
    """Table of all layers between the upper film and what they lie on, from above."""
    yield ink(_row("", "LAYERS, uppermost first", "thick", "cut: length", "width", "×"), "heading")
    layers = plan.stack.layers
    for number, layer in zip(range(len(layers), 0, -1), reversed(layers), strict=True):
        yield from _glue(number, layer, ink) if layer.role == "adhesive" else _sheet(number, layer, ink)
    yield from _base(plan, ink)


def _sheet(number: int, layer: Layer, ink: Ink) -> Iterator[str]:
    blank = layer.blank
    name = f"{layer.name} ({blank.quantity})" if blank.quantity > 1 else layer.name
    length = in_mm(blank.length).removesuffix(" mm")
    yield _row(str(number), name, in_mm(layer.thickness), length, in_mm(blank.width), "×")
    yield ink(_second(layer.material_name, layer.thickness, blank.length, blank.width), "quiet")


def _glue(number: int, layer: Layer, ink: Ink) -> Iterator[str]:
    name = f"{layer.name}, {layer.material_name}"
    yield ink(_row(str(number), name, in_mm(layer.thickness), "", "", " "), "quiet")


def _base(plan: Plan, ink: Ink) -> Iterator[str]:
    base = plan.base
    if base.kind == "bench":
        yield _row("", "flat bench", "", "", "", " ")
        return
    if plan.is_undercut:
        yield _row("", f"{base.kind}: {UNDERCUT}", "", "", "", " ")
        return
    length, width, height = plan.base_size
    yield _row("", base.kind, in_mm(height), in_mm(length).removesuffix(" mm"), in_mm(width), "×")
    yield ink(_second(base.material_name, height, length, width), "quiet")


def _second(material: str, thickness: float, length: float, width: float) -> str:
    return _row("", material, in_inches(thickness), in_inches(length), in_inches(width), "×")


def _row(number: str, name: str, thick: str, length: str, width: str, cross: str) -> str:
    """One line of the table."""
    start = f"{right(number, NUMBER)} {left(name, NAME)}{right(thick, THICK)}"
    return f"{start}{right(length, LENGTH)} {cross} {left(width, ACROSS)}".rstrip()
