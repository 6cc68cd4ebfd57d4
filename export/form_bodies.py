"""The bodies of a ribbed form as the kernel's solids: boards with notches and holes, and the sheets of the skin.

The ribs' edge and the lower side of the skin are one curve, as are both sides of two sheets of the skin.
"""

from ..model.form.meshes import placed_names
from ..model.form.part import FormPart, Plane
from ..model.form.ribs import RibForm
from ..model.shape.sheet import Sheet
from ..model.units import Mm
from .bodies import across, between, straight
from .interfaces import Interface, Reach, interfaces, spans
from .kernel import Solid
from .loop_spans import NORMALS, UP, loop_spans
from .shapes import Point, Span, backwards, plane_face, prism

STEPS: dict[Plane, Point] = {"along": (0.0, 1.0, 0.0), "across": (1.0, 0.0, 0.0), "level": UP}
"""Direction of a board's thickness."""


def form_bodies(ribs: RibForm, sheet: Sheet, length: Mm, lift: Mm, reach: Reach) -> dict[str, Solid]:
    """Bodies of a ribbed form by the keys of its scene.

    Parameters
    ----------
    length
        Length of the form's face along the sheet.
    lift
        What turns heights of the sheet into z.
    reach
        The lowest and the highest height of form and stack.
    """
    half = 0.5 * length
    heights = {height for skin in ribs.skins for height in (skin.low, skin.high)}
    curves = interfaces(sheet, sorted(heights), lift, reach)
    found: dict[str, Solid] = {}
    for part in ribs.parts:
        for key, _, place in placed_names(part):
            if part is ribs.rib:
                outer = _rib(ribs, curves[ribs.skins[0].low], half, place)
            else:
                outer = loop_spans(part.outline, part.plane, place)
            found[key] = board(part, outer, place)
    for skin in ribs.skins:
        section = between(curves[skin.low], curves[skin.high], half)
        found[f"form-{skin.key}"] = across(section, skin.width)
    return found


def board(part: FormPart, outer: list[Span], place: Mm) -> Solid:
    """Board with a square edge where it stands."""
    holes = [backwards(loop_spans(hole, part.plane, place)) for hole in part.holes]
    face = plane_face(outer, NORMALS[part.plane], holes)
    x, y, z = STEPS[part.plane]
    return prism(face, (x * part.thickness, y * part.thickness, z * part.thickness))


def _rib(ribs: RibForm, curve: Interface, half: Mm, place: Mm) -> list[Span]:
    """Edge of a rib, anticlockwise as seen from the front: back along the skin, then down, along and up."""
    top = spans(curve, half)
    start, end = top[0].point(top[0].start), top[-1].point(top[-1].end)
    below = [(x, 0.0, z) for x, z in ribs.around]
    walk = [end, *below, start]
    edge = [*backwards(top), *straight(walk[::-1])]
    return [span.moved((0.0, place, 0.0)) for span in edge]
