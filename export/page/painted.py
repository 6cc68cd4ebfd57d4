"""Facets as SVG: one path each, and a gradient where the light changes over a bend."""

import numpy as np

from ...model.scene import Part, Scene
from .facets import Facet
from .svg_text import Fit, colour, path

LINE = 0.42
"""Share of a part's colour that its lines have."""
CLEAR_LINE = 0.8
"""The same for translucent parts."""
FINEST = 0.15
"""Facets narrower than this, in units of the view, are left to the lines of their neighbours."""
STOPS = 3
STILL = 0.05
"""A smaller range of tones on a facet is not shown."""


def painted(scene: Scene, faces: list[Facet], place: Fit, name: str) -> str:
    """Drawing of facets in their order; ``name`` begins the ids of its gradients."""
    gradients: dict[str, str] = {}
    said = []
    for facet in faces:
        if facet.width * place.scale < FINEST:
            continue
        part = scene.parts[facet.part]
        outline = path((place.place(loop) for loop in facet.loops), closed=True)
        fill = _fill(part, facet, place, gradients, name)
        line = colour(part.colour, CLEAR_LINE if part.translucent else LINE)
        opacity = ' fill-opacity=".2"' if part.translucent else ""
        said.append(f'<path d="{outline}" fill="{fill}" stroke="{line}"{opacity}/>')
    kept = "".join(f'<linearGradient id="{key}" {text}</linearGradient>' for text, key in gradients.items())
    return f'<defs>{kept}</defs><g stroke-width="2">{"".join(said)}</g>'


def _fill(part: Part, facet: Facet, place: Fit, gradients: dict[str, str], name: str) -> str:
    """Colour of a facet, or its gradient across the rulings."""
    if np.ptp(facet.tones) < STILL:
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
    text = f'x1="{x1:.2f}" y1="{y1:.2f}" x2="{x2:.2f}" y2="{y2:.2f}">{stops}'
    return f"url(#{gradients.setdefault(text, f'{name}{len(gradients)}')})"
