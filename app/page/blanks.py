"""The blanks lying flat, all at one scale: what is cut, and the bag with its valve."""

from html import escape

from ...model.colour import colour_of
from ...model.plan import Plan
from ...model.shape.loop import Loop
from ...model.stack import Layer
from ...model.template import openings
from ...model.units import Mm
from ...model.wording import in_inches, in_mm

PEN = 0.004
"""Width of a drawn line, as a share of the longest blank."""

FINE: Mm = 0.2
"""Chordal tolerance of curved edges."""

UPRIGHT = 1.4
"""How many times as wide as the tallest blank is high the place for them is."""


def blanks_list(plan: Plan) -> str:
    """List of all blanks, the uppermost first, and of the empty bag where one is designed; each drawn with its words."""
    layers = [(number, one) for number, one in enumerate(plan.stack.layers, 1) if one.role != "adhesive"]
    # a blank that is wider than long would fill the page with its height
    longest = max(max(layer.blank.length, UPRIGHT * layer.blank.width) for _, layer in layers)
    rows = [_blank(plan, number, layer, longest) for number, layer in reversed(layers)]
    if not plan.is_undercut:
        rows.append(_bag(plan))
    return f'<ul class="blanks">{"".join(rows)}</ul>'


def _blank(plan: Plan, number: int, layer: Layer, longest: Mm) -> str:
    """One blank with its words."""
    blank = layer.blank
    colour = colour_of(layer.side if layer.role == "veneer" else layer.role)
    fill = "#" + "".join(f"{part:02x}" for part in colour)
    pen = PEN * longest
    edge, name = _path(blank.edge, blank.edge), f"blank-{number}"
    inner = "".join(_path(hole, blank.edge) for hole in openings(plan, layer))
    shape = (
        f'<path d="{edge}" fill="{fill}" stroke="currentColor" stroke-width="{2.0 * pen:.2f}"/>'
        f'<clipPath id="{name}"><path d="{edge}"/></clipPath><g clip-path="url(#{name})">{_grain(layer, 2.0 * pen)}</g>'
        f'<path d="{inner}" fill="none" stroke="currentColor" stroke-width="{pen:.2f}" '
        f'stroke-dasharray="{5.0 * pen:.1f}"/>'
    )
    pieces = f"{blank.quantity} pieces" if blank.quantity > 1 else ""
    grain = f"grain {layer.grain}" if layer.grain else ""
    return _row(
        shape,
        (blank.length, blank.width),
        longest,
        f"{number} {layer.name}",
        (pieces, layer.material_name, grain),
    )


def _path(loop: Loop, edge: Loop) -> str:
    """Path along a loop, y down from the upper left corner of the box around the blank's edge."""
    (left, _), (_, top) = edge.box
    points = loop.flattened(FINE)
    return f"M{' '.join(f'{x - left:.1f},{top - y:.1f}' for x, y in points.tolist())}Z"


def _grain(layer: Layer, pen: Mm) -> str:
    """Strokes along the grain."""
    length, width = layer.blank.length, layer.blank.width
    if layer.grain == "along length":
        lines = [f"M{0.1 * length:.1f} {share * width:.1f}h{0.8 * length:.1f}" for share in (0.3, 0.5, 0.7)]
    elif layer.grain == "along width":
        lines = [f"M{share * length:.1f} {0.1 * width:.1f}v{0.8 * width:.1f}" for share in (0.3, 0.5, 0.7)]
    else:
        return ""
    return f'<path d="{"".join(lines)}" stroke="#fff" stroke-opacity=".7" stroke-width="{pen:.2f}"/>'


def _bag(plan: Plan) -> str:
    """The empty bag, its work and its valve as seen from above, the closed end at the left; at a scale of its own."""
    bag, valve, work = plan.bag, plan.valve, plan.base.outline
    pen = PEN * bag.length
    shapes = (
        f'<rect width="{bag.length:.1f}" height="{bag.width:.1f}" fill="none" stroke="currentColor" '
        f'stroke-width="{2.0 * pen:.2f}"/>'
        f'<rect x="{valve.work_from_closed_end - 0.5 * work.length:.1f}" '
        f'y="{bag.width - valve.work_from_left_seam - 0.5 * work.width:.1f}" '
        f'width="{work.length:.1f}" height="{work.width:.1f}" fill="currentColor" fill-opacity=".15" '
        f'stroke="currentColor" stroke-width="{pen:.2f}" stroke-dasharray="{5.0 * pen:.1f}"/>'
        f'<circle cx="{valve.from_closed_end:.1f}" cy="{bag.width - valve.from_left_seam:.1f}" '
        f'r="{max(3.0 * pen, valve.radius):.1f}" fill="none" stroke="currentColor" stroke-width="{2.0 * pen:.2f}"/>'
    )
    words = ("inside; closed end left, work dashed, valve round", "drawn at a scale of its own")
    return _row(shapes, (bag.length, bag.width), bag.length, "bag, lying flat", words)


def _row(shapes: str, size: tuple[Mm, Mm], longest: Mm, name: str, about: tuple[str, ...]) -> str:
    """Drawing in millimetres, as wide as its share of the longest, over its words."""
    length, width = size
    edge = PEN * longest
    box = f"{-edge:.1f} {-edge:.1f} {length + 2.0 * edge:.1f} {width + 2.0 * edge:.1f}"
    said = "".join(f"<small>{escape(line)}</small>" for line in about if line)
    mm = f"{in_mm(length).removesuffix(' mm')} × {in_mm(width)}"
    return (
        f'<li><svg aria-hidden="true" width="{100.0 * length / longest:.1f}%" viewBox="{box}">{shapes}</svg>'
        f"<b>{escape(name)}</b><span>{mm}</span><small>{in_inches(length)} × {in_inches(width)}</small>{said}</li>"
    )
