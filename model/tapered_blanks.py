"""The blanks of a tapered stack: each layer's edge laid flat at its own height, none of them a rectangle.

The plan of a taper measures its layers half way between both ends, each larger than the panel by its own margin. Here
that margin is laid around the true edge of the panel.
"""

from dataclasses import replace

from .shape.taper import TaperedSheet
from .shape.tapered_outline import TaperedOutline
from .stack import Blank, Layer, laid_flat
from .units import Mm


def tapered_layers(layers: tuple[Layer, ...], width: Mm, sheet: TaperedSheet) -> tuple[Layer, ...]:
    """Layers with their true blanks.

    Parameters
    ----------
    layers
        Layers of a tapered panel, their outlines as measured half way between both ends.
    width
        Width of the panel, mm.
    sheet
        The tapered sheet on its form.
    """
    return tuple(
        replace(
            layer,
            blank=tapered_blank(
                TaperedOutline(sheet=sheet, margin=max(0.0, 0.5 * (layer.outline.width - width))),
                layer.middle,
                layer.blank.quantity,
            ),
        )
        for layer in layers
    )


def tapered_blank(outline: TaperedOutline, height: Mm, quantity: int = 1) -> Blank:
    """Blank of an edge at a height; its length and width are those of the rectangle around it."""
    sheet = outline.sheet
    edge = laid_flat(outline, sheet, height)[0]
    (x0, y0), (x1, y1) = edge.box
    cone = sheet.cone
    return Blank(
        length=x1 - x0,
        width=y1 - y0,
        area=edge.area,
        quantity=quantity,
        outline=outline,
        sheet=sheet,
        height=height,
        sector=None if cone is None else cone.sector(height - sheet.reference, outline.margin),
    )


def tapered_outline(layer: Layer) -> TaperedOutline:
    """True edge of a layer of a tapered stack."""
    outline = layer.blank.outline
    assert isinstance(outline, TaperedOutline), f"{layer.key} is no layer of a tapered stack"
    return outline
