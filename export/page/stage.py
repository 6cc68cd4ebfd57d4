"""The picture's place on the page: its controls, the list of layers, and the ready views that stand in for it."""

from collections.abc import Iterable, Mapping
from html import escape

from ...model.scene import Part, Scene
from .content import LayerRow
from .markup import unbroken
from .svg_text import colour
from .svg_views import View

VIEW_NAMES = (("corner", "Corner"), ("front", "Front"), ("end", "End"), ("above", "Above"))

KEYS = (
    ("Drag, or arrow keys", "turn"),
    ("Shift and drag, shift and arrows, or two fingers", "slide"),
    ("Wheel, pinch, + and −", "nearer and farther"),
    ("1, 2, 3, 4", "corner, front, end, above"),
    ("0", "fit the whole stack"),
    ("P", "parallel or perspective"),
)


def stage() -> str:
    """Picture with its controls; a script brings it to life and shows it."""
    views = "".join(f'<button type="button" data-view="{key}">{name}</button>' for key, name in VIEW_NAMES)
    return (
        '<div class="stage" hidden><div class="frame">'
        '<canvas tabindex="0" role="application" aria-roledescription="picture that can be turned" '
        'aria-label="The stack in three dimensions" aria-describedby="keys"></canvas>'
        '<div class="labels"></div><p class="factor" id="factor"></p><p class="tip" id="tip"></p></div>'
        f'<div class="controls"><div class="bars"><div class="bar" role="group" aria-label="View">{views}'
        '<button type="button" data-act="fit">Fit</button></div>'
        '<div class="bar" role="group" aria-label="Turn and zoom">'
        '<button type="button" data-act="left" aria-label="Turn left">↶</button>'
        '<button type="button" data-act="right" aria-label="Turn right">↷</button>'
        '<button type="button" data-act="nearer" aria-label="Nearer">+</button>'
        '<button type="button" data-act="farther" aria-label="Farther">−</button>'
        '<button type="button" data-act="lens" aria-pressed="false">Perspective</button></div></div>'
        + _slider("spread", "Spread apart", 0, 100)
        + _slider("thick", "Thicken thin sheets", 1, 20)
        + _cut()
        + "</div>"
        + _keys()
        + "</div>"
    )


def _slider(key: str, label: str, low: int, high: int) -> str:
    """One slider with its value in words beside it."""
    return (
        f'<div class="slider"><label for="{key}">{label}</label><output for="{key}" id="{key}-says"></output>'
        f'<input type="range" id="{key}" min="{low}" max="{high}" step="1" value="{low}"></div>'
    )


def _cut() -> str:
    """Write the controls of the cut."""
    ways = (("", "no cut"), ("y", "along the panel"), ("x", "across it"))
    radios = "".join(
        f'<label><input type="radio" name="cut" value="{value}"{"" if value else " checked"}>{name}</label>'
        for value, name in ways
    )
    return (
        f'<fieldset class="cut"><legend>Cut</legend><div class="bar">{radios}</div>'
        '<div class="pair"><input type="range" id="cut" step="1" aria-label="Place of the cut, mm from the middle" '
        'disabled><label><input type="number" id="cut-mm" step="any" aria-label="Place of the cut, mm from the middle" '
        "disabled> mm</label></div></fieldset>"
    )


def _keys() -> str:
    """Say what keys, mouse and fingers do."""
    pairs = "".join(f"<div><dt>{escape(keys)}</dt><dd>{does}</dd></div>" for keys, does in KEYS)
    return f'<details class="keys"><summary>Mouse, fingers and keys</summary><dl id="keys">{pairs}</dl></details>'


def ready_views(views: Iterable[View]) -> str:
    """Drawn views that need no script, in the place of the picture that a script puts there."""
    return f'<div class="views">{figures(views)}</div>'


def figures(views: Iterable[View]) -> str:
    """Drawn views with their names and what is said below each."""
    return "".join(
        f"<figure><h3>{escape(view.name)}</h3>{view.svg}<figcaption>{escape(view.caption)}</figcaption></figure>"
        for view in views
    )


def layers_list(layers: tuple[LayerRow, ...], scene: Scene) -> str:
    """Layers as they lie, the uppermost first; a script gives each a box to show or hide it."""
    parts = {part.key: part for part in scene.parts}
    rows = "".join(_layer(row, parts) for row in reversed(layers))
    return (
        f'<p class="quiet">As they lie, the uppermost first.</p><ol class="layers">{rows}</ol>'
        '<button type="button" data-act="all" class="live">Show every layer</button>'
    )


def _layer(row: LayerRow, parts: Mapping[str, Part]) -> str:
    """One layer: box, colour, number, name, material and note."""
    part = parts.get(row.key)
    box = f'<input type="checkbox" checked data-key="{escape(row.key)}">' if part else ""
    about = " · ".join(unbroken(text) for text in (row.material, row.note) if text)
    return (
        f'<li data-place="{escape(row.place)}"><label>{box}'
        f"{_swatch(part)}<b>{escape(row.number)}</b>"
        f"<span>{escape(row.name)}<small>{about}</small></span></label></li>"
    )


def _swatch(part: Part | None) -> str:
    """Colour of a part, as it is drawn."""
    if part is None:
        return '<svg aria-hidden="true"></svg>'
    fill = f'fill="{colour(part.colour, 1.0)}"' + (' fill-opacity=".3"' if part.translucent else "")
    return f'<svg aria-hidden="true" {fill}><path d="M0 0h99v99H0"/></svg>'


def edge_band(scene: Scene) -> str:
    """Draw the stack's colours as lines across the page, from above downward, as an edge shows them."""
    solid = [part for part in sorted(scene.parts, key=lambda part: -part.lift) if not part.translucent]
    lines = "".join(
        f'<path d="M0 {2 * place}h100v2H0z" fill="{colour(part.colour, 1.0)}"/>'
        for place, part in enumerate(solid)
    )
    return f'<svg class="edge" viewBox="0 0 100 {2 * len(solid)}" preserveAspectRatio="none" aria-hidden="true">{lines}</svg>'
