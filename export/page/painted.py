"""Facets as SVG: one path each, and a gradient where the light changes over a bend."""

from itertools import groupby
from operator import itemgetter

import numpy as np

from ...model.scene import Part, Scene
from .facets import Facet
from .svg_text import Fit, colour, path

LINE = 0.42
"""Share of a part's colour that its lines have."""
CLEAR_LINE = 0.8
"""The same for translucent parts."""
CLEAR = 0.95
"""Share of its colour that a translucent part has everywhere: its facets are too faint to tell them by their light."""
FINEST = 0.25
"""Facets narrower than this, in units of the view, are left to the lines of their neighbours."""
NARROW = 3.0
"""On facets narrower than this, in units of the view, the light is not seen to change."""
STOPS = 3
STILL = 0.05
"""A smaller range of tones on a facet is not shown."""


def painted(scene: Scene, faces: list[Facet], place: Fit, name: str) -> str:
    """Drawing of facets in their order; ``name`` begins the ids of its gradients."""
    gradients: dict[str, str] = {}
    said: list[tuple[str, str]] = []
    for facet in faces:
        if facet.width * place.scale < FINEST:
            continue
        part = scene.parts[facet.part]
        outline = path((place.place(loop) for loop in facet.loops), closed=True)
        if part.translucent:
            look = f'fill="{colour(part.colour, CLEAR)}" stroke="{colour(part.colour, CLEAR_LINE)}" fill-opacity=".2"'
        else:
            fill = _fill(part, facet, place, gradients, name)
            look = f'fill="{fill}" stroke="{colour(part.colour, LINE)}"'
        said.append((look, outline))
    drawn = "".join(_alike(look, [line for _, line in run]) for look, run in groupby(said, itemgetter(0)))
    kept = "".join(f'<linearGradient id="{key}" {text}</linearGradient>' for text, key in gradients.items())
    return f'<defs>{kept}</defs><g stroke-width="2">{drawn}</g>'


def _alike(look: str, outlines: list[str]) -> str:
    """Facets that look alike, one after the other."""
    if len(outlines) == 1:
        return f'<path d="{outlines[0]}" {look}/>'
    return f"<g {look}>" + "".join(f'<path d="{outline}"/>' for outline in outlines) + "</g>"


def _fill(part: Part, facet: Facet, place: Fit, gradients: dict[str, str], name: str) -> str:
    """Colour of a facet, or its gradient across the rulings."""
    if np.ptp(facet.tones) < STILL or facet.width * place.scale < NARROW:
        return colour(part.colour, float(facet.tones.mean()))
    # in shares of the facet's own box, as SVG takes them: facets that lie alike have one gradient
    spots = place.place(facet.triangles[:, :, :2].reshape(-1, 2))
    low, size = spots.min(axis=0), np.ptp(spots, axis=0)
    shares = (spots - low) / size
    run = facet.ruling * [1.0, -1.0] / size
    across = np.array([run[1], -run[0]]) / np.hypot(*run)
    along = shares @ across
    middle = shares.mean(axis=0)
    stations = np.linspace(float(along.min()), float(along.max()), STOPS)
    (x1, y1), (x2, y2) = (middle + across * (end - middle @ across) for end in stations[[0, -1]])
    sorting = np.argsort(along.reshape(-1, 3).mean(axis=1), kind="stable")
    tones = np.interp(stations, along.reshape(-1, 3).mean(axis=1)[sorting], facet.tones[sorting])
    stops = "".join(
        f'<stop offset="{offset:g}" stop-color="{colour(part.colour, float(tone))}"/>'
        for offset, tone in zip(np.linspace(0.0, 1.0, STOPS), tones, strict=True)
    )
    x1, y1, x2, y2 = (f"{end:.2f}".rstrip("0").rstrip(".") for end in (x1, y1, x2, y2))
    text = f'x1="{x1}" y1="{y1}" x2="{x2}" y2="{y2}">{stops}'
    return f"url(#{gradients.setdefault(text, f'{name}{len(gradients)}')})"
