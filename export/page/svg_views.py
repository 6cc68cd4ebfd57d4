"""Ready views of a scene as inline SVG: from the corner, spread apart, and cut along the panel.

They are what is seen with scripts off, without WebGL, and on paper.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from ...model.scene import Mesh, Part, Points, Scene
from ...model.units import Mm
from .camera import CORNER
from .facets import Facet, facets
from .order import painting_order
from .painted import CLEAR_LINE, LINE, painted
from .section import section
from .svg_text import WIDTH, colour, column_for, drawing, fit, labels, path, room, window
from .thickness import THIN, Growth, Uprights, growth

FACTORS = (10, 5, 2)
"""How many times thicker the section may show thin sheets."""


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """One ready view: a short name, the drawing, and the sentence below it."""

    name: str
    svg: str
    caption: str


def views(scene: Scene, numbers: Mapping[str, str], uprights: Uprights) -> tuple[View, ...]:
    """All views of a scene; ``numbers`` are the layers' printed numbers by part key."""
    return (corner_view(scene), spread_view(scene, numbers), section_view(scene, numbers, uprights))


def corner_view(scene: Scene) -> View:
    """Draw the stack as it lies, seen from a raised corner."""
    faces = _faces(scene.parts)
    place, height = fit(_outline(faces), WIDTH)
    title = f"{scene.title}: the stack seen from the front right corner"
    return View(
        name="As it lies",
        svg=drawing(painted(scene, faces, place, "lies"), height, title),
        caption="Seen from the front right corner, every thickness true.",
    )


def spread_view(scene: Scene, numbers: Mapping[str, str]) -> View:
    """Draw the layers lifted apart, each with its number and name."""
    levels = max(part.lift for part in scene.parts) or 1
    gap = _gap(scene, levels)
    parts = tuple(
        _moved(part, part.mesh.points + np.array([0.0, 0.0, part.lift * gap])) for part in scene.parts
    )
    faces = _faces(parts)
    place, height = fit(_outline(faces), WIDTH - column_for(_label(part, numbers) for part in parts))
    place, height = room(place, height, len(parts))
    anchors = []
    for part in parts:
        spots = place.place(CORNER.see(part.mesh.points)[:, :2])
        x, y = spots[int(np.argmax(spots[:, 0]))]
        anchors.append((_label(part, numbers), float(x), float(y)))
    title = f"{scene.title}: the layers spread apart, from below upward " + ", ".join(
        part.name for part in parts
    )
    return View(
        name="Spread apart",
        svg=drawing(painted(scene, faces, place, "spread") + labels(anchors, height), height, title),
        caption=f"Each layer lifted {gap:.0f} mm above the one below it; every thickness true.",
    )


def section_view(scene: Scene, numbers: Mapping[str, str], uprights: Uprights) -> View:
    """Draw the faces of a cut along the panel at its middle, thin sheets drawn thicker."""
    grown = growth(scene, uprights)
    factor = _factor(scene, grown)
    cuts = [
        (part, section(_moved(part, part.mesh.points + (factor - 1) * grown[part.key].moves).mesh, 0.0))
        for part in scene.parts
    ]
    cuts = [(part, loops) for part, loops in cuts if loops]
    width = WIDTH - column_for(_label(part, numbers) for part, _ in cuts)
    # the film's flat flange may run out of the picture, so that the stack shows larger
    solid = [loop for part, loops in cuts if not part.translucent for loop in loops]
    place, height = room(*fit(np.concatenate(solid), width), len(cuts))
    shapes, anchors = [], []
    for part, loops in sorted(cuts, key=lambda cut: (cut[0].translucent, cut[0].lift)):
        spots = [place.place(loop) for loop in loops]
        shapes.append(_cut_face(part, spots))
        every = np.concatenate(spots)
        x, y = every[every[:, 0] >= every[:, 0].max() - 0.05].mean(axis=0)
        anchors.append((_label(part, numbers), min(float(x), width), float(y)))
    title = f"{scene.title}: section along the panel at mid-width"
    return View(
        name="Cut along the middle",
        svg=drawing(window("".join(shapes), width, height) + labels(anchors, height), height, title),
        caption=f"Section along the panel at mid-width; {thickness_words(factor)}.",
    )


def _cut_face(part: Part, spots: list[Points]) -> str:
    """Path of a part's cut face: material filled, film as a line."""
    if part.translucent:
        look = f'fill="none" stroke="{colour(part.colour, CLEAR_LINE)}" stroke-width="4"'
    else:
        look = f'fill="{colour(part.colour, 1.0)}" stroke="{colour(part.colour, LINE)}" stroke-width="1"'
    return f'<path d="{path(spots, closed=True)}" {look}/>'


def thickness_words(factor: int) -> str:
    """Say beside a picture how thicknesses are drawn."""
    if factor == 1:
        return "every thickness true"
    return f"sheets up to {THIN:g} mm thick are drawn {factor} times as thick"


def _moved(part: Part, points: Points) -> Part:
    """Give a part with its corners elsewhere."""
    return replace(part, mesh=Mesh(points=points, triangles=part.mesh.triangles, creases=part.mesh.creases))


def _label(part: Part, numbers: Mapping[str, str]) -> str:
    """Write number and name."""
    return f"{numbers.get(part.key, '')} {part.name}".strip()


def _faces(parts: tuple[Part, ...]) -> list[Facet]:
    """Facets of all parts, in the order of painting."""
    faces = [facet for place, part in enumerate(parts) for facet in facets(place, part.mesh, CORNER)]
    clear = {place for place, part in enumerate(parts) if part.translucent}
    return [faces[number] for number in painting_order(faces, clear)]


def _outline(faces: list[Facet]) -> Points:
    """All points of the facets' outlines."""
    return np.concatenate([loop for facet in faces for loop in facet.loops])


def _gap(scene: Scene, levels: int) -> Mm:
    """Round distance between the layers that fills a picture about as high as the work is long."""
    every = np.concatenate([part.mesh.points for part in scene.parts])
    wanted = 0.9 * float(np.ptp(CORNER.see(every)[:, 0])) / levels
    step = 10.0 ** np.floor(np.log10(wanted))
    return float(max(1.0, step * max(one for one in (1.0, 2.0, 5.0) if one * step <= wanted * 1.0001)))


def _factor(scene: Scene, grown: Mapping[str, Growth]) -> int:
    """Largest factor at which the section stays lower than a third of its length."""
    every = np.concatenate([part.mesh.points for part in scene.parts])
    length = float(np.ptp(every[:, 0]))
    added = float(np.ptp(np.concatenate([grown[part.key].moves[:, 2] for part in scene.parts])))
    fitting = (factor for factor in FACTORS if added > 0.0 and (factor - 1) * added <= 0.25 * length)
    return next(fitting, 1)
