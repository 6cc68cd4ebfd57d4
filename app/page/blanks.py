"""The blanks lying flat, all at one scale: what is cut, and the bag with its valve."""

from html import escape

from ...model.colour import colour_of
from ...model.plan import Plan
from ...model.stack import Layer
from ...model.units import Mm
from ...model.wording import both_size

WIDTH = 1000
"""Width of the drawing, in its own units."""
COLUMNS = 3
GAP = 30
TEXT = 22
LINES = 3 * TEXT + 14
"""Room below each blank for what it is."""


def blanks_svg(plan: Plan) -> str:
    """Drawing of all blanks, the uppermost first, and of the empty bag where one is designed."""
    layers = [
        (str(number), layer) for number, layer in enumerate(plan.stack.layers, 1) if layer.role != "adhesive"
    ]
    bag = [] if plan.is_undercut else [plan.bag.film_length]
    longest = max([*bag, *(layer.blank.length for _, layer in layers)])
    column = (WIDTH - (COLUMNS - 1) * GAP) / COLUMNS
    scale = column / longest
    said, top, row = [], 0.0, 0.0
    items = [*((number, layer) for number, layer in reversed(layers)), *([] if plan.is_undercut else [None])]
    for place, one in enumerate(items):
        left = (place % COLUMNS) * (column + GAP)
        if place and place % COLUMNS == 0:
            top, row = top + row, 0.0
        drawn, height = _bag(plan, scale) if one is None else _blank(*one, scale)
        said.append(f'<g transform="translate({left:.1f} {top:.1f})">{drawn}</g>')
        row = max(row, height + GAP)
    return (
        f'<svg role="img" viewBox="0 0 {WIDTH} {top + row:.0f}" aria-label="Blanks lying flat, at one scale">'
        f"{''.join(said)}</svg>"
    )


def _blank(number: str, layer: Layer, scale: float) -> tuple[str, float]:
    """One blank with its words, and how high both are."""
    blank = layer.blank
    colour = colour_of(layer.side if layer.role == "veneer" else layer.role)
    pieces = f" × {blank.quantity}" if blank.quantity > 1 else ""
    fill = "#" + "".join(f"{part:02x}" for part in colour)
    shape = _rectangle(blank.length, blank.width, scale, f'fill="{fill}" stroke="currentColor"')
    return _with_words(
        shape + _grain(layer, scale),
        blank.width * scale,
        (f"{number}  {layer.name}{pieces}", both_size(blank.length, blank.width), layer.material_name),
    )


def _grain(layer: Layer, scale: float) -> str:
    """Strokes along the grain."""
    length, width = layer.blank.length * scale, layer.blank.width * scale
    if layer.grain == "along length":
        lines = [f"M{0.1 * length:.1f} {share * width:.1f}h{0.8 * length:.1f}" for share in (0.3, 0.5, 0.7)]
    elif layer.grain == "along width":
        lines = [f"M{share * length:.1f} {0.1 * width:.1f}v{0.8 * width:.1f}" for share in (0.3, 0.5, 0.7)]
    else:
        return ""
    return f'<path d="{"".join(lines)}" stroke="#fff" stroke-opacity=".6" stroke-width="2"/>'


def _bag(plan: Plan, scale: float) -> tuple[str, float]:
    """The empty bag, its work and its valve as seen from above, the closed end at the left."""
    bag, valve = plan.bag, plan.valve
    work = plan.base.outline
    shapes = (
        _rectangle(bag.length, bag.width, scale, 'fill="none" stroke="currentColor" stroke-width="2"')
        + f'<rect x="{(valve.work_from_closed_end - 0.5 * work.length) * scale:.1f}" '
        f'y="{(bag.width - valve.work_from_left_seam - 0.5 * work.width) * scale:.1f}" '
        f'width="{work.length * scale:.1f}" height="{work.width * scale:.1f}" '
        'fill="currentColor" fill-opacity=".15" stroke="currentColor" stroke-dasharray="6 5"/>'
        f'<circle cx="{valve.from_closed_end * scale:.1f}" '
        f'cy="{(bag.width - valve.from_left_seam) * scale:.1f}" r="{max(3.0, valve.radius * scale):.1f}" '
        'fill="none" stroke="currentColor" stroke-width="3"/>'
    )
    words = ("bag, lying flat, with the work and the valve", both_size(bag.length, bag.width), "inside")
    return _with_words(shapes, bag.width * scale, words)


def _rectangle(length: Mm, width: Mm, scale: float, look: str) -> str:
    return f'<rect width="{length * scale:.1f}" height="{width * scale:.1f}" {look}/>'


def _with_words(shapes: str, height: float, words: tuple[str, ...]) -> tuple[str, float]:
    lines = "".join(
        f'<text y="{height + TEXT * place + 4:.1f}">{escape(line)}</text>'
        for place, line in enumerate(words, 1)
    )
    return f'{shapes}<g fill="currentColor" font-size="{TEXT - 4}">{lines}</g>', height + LINES
