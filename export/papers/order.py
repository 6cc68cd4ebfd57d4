"""The order of laying as rows of a table: number, what to lay, cut size and quantity."""

from collections.abc import Iterator

from ...model.plan import Plan
from ...model.stack import Layer
from ..sheets.words import bare, bare_inches

Row = tuple[str, ...]


def order_rows(plan: Plan) -> list[Row]:
    """Rows from below upward; a glue line is told with the sheet that it lies on."""
    return [*_base(plan), *_layers(plan), *_film(plan)]


def _base(plan: Plan) -> Iterator[Row]:
    base = plan.base
    if plan.is_undercut:
        return
    yield ("", "", "lower film, clean", "", "", "")
    if base.kind == "platen":
        outline = base.outline
        yield _row("P", f"platen, {base.material_name}", outline.length, outline.width, 1)
    elif base.kind == "form":
        length, width, _ = plan.base_size
        yield _row("F", f"form, {base.material_name}", length, width, 1)


def _layers(plan: Plan) -> Iterator[Row]:
    layers = plan.stack.layers
    told: set[str] = set()
    for number, layer in enumerate(layers, 1):
        if layer.role == "adhesive":
            continue
        glued = number < len(layers) and layers[number].role == "adhesive"
        yield _row(
            str(number),
            _words(plan, layer, glued, layer.material_name not in told),
            layer.blank.length,
            layer.blank.width,
            layer.blank.quantity,
        )
        told.add(layer.material_name)


def _words(plan: Plan, layer: Layer, glued: bool, is_new: bool) -> str:
    up = {True: "up", False: "down"}[plan.layup.face_is_up]
    name = f"{layer.name}, show side {up}" if layer.key == "face" else layer.name
    material = f", {layer.material_name}" if is_new and layer.material_name else ""
    return f"{name}{material}{'; glue' if glued else ''}"


def _film(plan: Plan) -> Iterator[Row]:
    if not plan.is_undercut:
        yield ("", "", "upper film; seal", "", "", "")


def _row(number: str, words: str, length: float, width: float, quantity: int) -> Row:
    return (
        "",
        number,
        words,
        f"{bare(length)} × {bare(width)}",
        f"{bare_inches(length)} × {bare_inches(width)}",
        str(quantity),
    )
