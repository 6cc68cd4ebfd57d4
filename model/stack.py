"""The stack: every sheet of the layup in order from below, with its place, its outline and its blank.

Heights are measured along the normal from the face of the platen or form. A layer's blank is taken at its
mid-thickness: on a bend it is longer or shorter than the panel by its own place in the stack.
"""

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from .chosen import Chosen
from .draft import Draft, Role, Side
from .layup.layup import Layup
from .shape.cone import Sector
from .shape.loop import Loop
from .shape.mean_bend import mean_bend
from .shape.outline import Edged, Outline, Rectangle, RoundedRectangle
from .shape.pathed import Pathed
from .shape.sheet import Sheet
from .shape.taper import TaperedSheet
from .shape.unrolled import unrolled
from .units import Mm, Mm2, Mm3, PerMm
from .work import draft_work


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """The flat sheet to cut for a layer: its outline when unrolled.

    Parameters
    ----------
    length, width
        Extent along and across the panel, mm.
    area
        Area of one sheet, mm².
    quantity
        Number of equal sheets.
    outline, sheet, height
        The outline on its sheet, and the height that it is unrolled at.
    sector
        Of a round cone: how it is struck with a beam compass.
    """

    length: Mm
    width: Mm
    area: Mm2
    quantity: int
    outline: Edged
    sheet: Sheet | TaperedSheet
    height: Mm
    sector: Sector | None = None

    @property
    def edge(self) -> Loop:
        """Edge to cut, anticlockwise, the middle of the sheet at the origin."""
        return laid_flat(self.outline, self.sheet, self.height)[0]

    @property
    def holes(self) -> tuple[Loop, ...]:
        """Holes to cut within it."""
        return laid_flat(self.outline, self.sheet, self.height)[1:]


@lru_cache(maxsize=256)
def laid_flat(outline: Edged, sheet: Sheet | TaperedSheet, height: Mm) -> tuple[Loop, ...]:
    """Edge to cut for an outline at a height of its sheet, then every hole."""
    return tuple(unrolled(loop, sheet, height) for loop in outline.loops)


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """One layer of the stack.

    Parameters
    ----------
    key
        Stable key, such as ``"face"`` or ``"substrate-2"``.
    role
        What it does in the stack.
    name
        What the trade calls it.
    side
        Which side of the panel it belongs to; ``"press"`` for what comes off afterwards.
    material
        Key of its material; ``""`` for none.
    material_name
        Its material in words.
    thickness
        Thickness of the whole layer, mm; of all its sheets together where there are several.
    height
        Height of its lower surface above the face of the platen or form, mm.
    outline
        Its edge on the plane of the sheet.
    blank
        The sheet to cut.
    grain
        Grain direction: "along length", "along width", or "" where it has none.
    lipping
        Width of the strip of another wood that lies within its outline, around its blank; 0 for none.
    """

    key: str
    role: Role
    name: str
    side: Side
    material: str
    material_name: str
    thickness: Mm
    height: Mm
    outline: Outline
    blank: Blank
    grain: str = ""
    lipping: Mm = 0.0

    @property
    def top(self) -> Mm:
        """Height of its upper surface."""
        return self.height + self.thickness

    @property
    def middle(self) -> Mm:
        """Height of its mid-thickness, where its blank is taken."""
        return self.height + 0.5 * self.thickness

    @property
    def volume(self) -> Mm3:
        """Volume of the layer without a lipping; thickness times area at mid-thickness is exact on every bend."""
        return self.thickness * self.blank.area

    @property
    def lipping_volume(self) -> Mm3:
        """Volume of the lipping around it; only flat layers have one."""
        return self.thickness * (self.outline.area - self.blank.area) if self.lipping else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """All layers between the platen or form and the upper film, from below, and the sheet that they follow."""

    layers: tuple[Layer, ...]
    sheet: Sheet

    @property
    def height(self) -> Mm:
        """Height of the uppermost surface above the face of the platen or form."""
        return self.layers[-1].top

    def of_role(self, role: Role) -> tuple[Layer, ...]:
        """Layers of one role, from below."""
        return tuple(layer for layer in self.layers if layer.role == role)

    def find(self, key: str) -> Layer | None:
        """Layer of a key, or None where the stack has none."""
        return next((layer for layer in self.layers if layer.key == key), None)

    @property
    def work(self) -> tuple[Layer, ...]:
        """Layers that stay in the panel: veneers, glue and core, from below."""
        return tuple(layer for layer in self.layers if layer.side != "press")


def stack_layers(drafts: tuple[Draft, ...], sheet: Sheet) -> tuple[Layer, ...]:
    """Lay the drafts on each other from height 0 and give each its blank on the sheet."""
    layers, height = [], 0.0
    for draft in drafts:
        cut = draft.outline.grown(-draft.lipping) if draft.lipping else draft.outline
        blank = blank_at(sheet, cut, height + 0.5 * draft.thickness, draft.quantity)
        layers.append(
            Layer(
                key=draft.key,
                role=draft.role,
                name=draft.name,
                side=draft.side,
                material=draft.material,
                material_name=draft.material_name,
                thickness=draft.thickness,
                height=height,
                outline=draft.outline,
                blank=blank,
                grain=draft.grain,
                lipping=draft.lipping,
            )
        )
        height += draft.thickness
    return tuple(layers)


def blank_at(sheet: Sheet, outline: Outline, height: Mm, quantity: int = 1) -> Blank:
    """Blank of an outline on a sheet at a height: longer over a crown, shorter in a hollow."""
    (x0, y0), (x1, y1) = outline.box
    length = sheet.length(height, x0, x1)
    area = outline.area * (1.0 + (height - sheet.reference) * _mean_bend(outline, sheet))
    return Blank(
        length=length,
        width=y1 - y0,
        area=area,
        quantity=quantity,
        outline=outline,
        sheet=sheet,
        height=height,
    )


@lru_cache(maxsize=256)
def _mean_bend(outline: Outline, sheet: Sheet) -> PerMm:
    return mean_bend(outline, sheet)


def laid_outline(layup: Layup) -> Outline:
    """Edge of the finished panel as it lies in the press, from above: with its show face down it is turned over."""
    edge = layup.edge
    return edge.turned_over if isinstance(edge, Pathed) and not layup.face_is_up else edge


def core_outline(layup: Layup) -> Outline:
    """Edge of the core as it is pressed: without the holes, which are cut out of the finished panel."""
    return laid_outline(layup).whole.grown(layup.substrate.trim)


def draft_layers(layup: Layup, chosen: Chosen) -> tuple[Draft, ...]:
    """Every layer from the platen or form upward, in the order of bench practice for the way the work lies."""
    core = core_outline(layup)
    return (
        *_release(layup, chosen, core, "below"),
        *draft_work(layup, chosen, core, layup.laid),
        *_release(layup, chosen, core, "above"),
        *_absorbent(layup, chosen, core),
        *_caul(layup, chosen, core),
        *_breather(layup, chosen, core),
    )


def veneer_outline(layup: Layup, core: Outline) -> Outline:
    """Edge of the larger veneer in the press, or of the core where there is none."""
    overhang = {"face": layup.face.overhang, "back": layup.back.overhang}
    overhangs = [overhang[side] for side in layup.laid]
    return core.grown(max(overhangs, default=0.0))


def straight_cut(outline: Outline, margin: Mm) -> Rectangle:
    """Rectangle around an outline with a margin: what is cut along a straight edge."""
    (x0, y0), (x1, y1) = outline.box
    return Rectangle(2.0 * (max(-x0, x1) + margin), 2.0 * (max(-y0, y1) + margin))


def _release(
    layup: Layup, chosen: Chosen, core: Outline, place: Literal["below", "above"]
) -> tuple[Draft, ...]:
    if chosen.release is None:
        return ()
    sheet = Draft(
        key=f"release-{place}",
        role="release",
        name=f"release {place}",
        side="press",
        material=chosen.release.key,
        material_name=chosen.release.name,
        thickness=chosen.release.thickness,
        outline=straight_cut(veneer_outline(layup, core), layup.release.margin),
    )
    return (sheet,)


def _absorbent(layup: Layup, chosen: Chosen, core: Outline) -> tuple[Draft, ...]:
    if chosen.absorbent is None or layup.absorbent.sheets == 0:
        return ()
    sheet = Draft(
        key="absorbent",
        role="absorbent",
        name="absorbent sheets" if chosen.absorbent.kind == "absorbent" else "cushion",
        side="press",
        material=chosen.absorbent.key,
        material_name=chosen.absorbent.name,
        thickness=chosen.absorbent.pressed_thickness * layup.absorbent.sheets,
        outline=straight_cut(veneer_outline(layup, core), 0.0),
        quantity=layup.absorbent.sheets,
    )
    return (sheet,)


def _caul(layup: Layup, chosen: Chosen, core: Outline) -> tuple[Draft, ...]:
    if chosen.caul is None:
        return ()
    sheet = Draft(
        key="caul",
        role="caul",
        name="caul",
        side="press",
        material=chosen.caul.key,
        material_name=chosen.caul.name,
        thickness=layup.caul.thickness,
        outline=_eased(core.grown(layup.caul.margin), layup),
    )
    return (sheet,)


def _eased(outline: Outline, layup: Layup) -> Outline:
    """Round the corners of a flat caul; those of a rectangle by as much as there is room for."""
    if layup.is_bent or layup.caul.corner == 0.0:
        return outline
    if isinstance(outline, Pathed):
        return outline.eased(layup.caul.corner)
    if not isinstance(outline, Rectangle):
        return outline
    corner = min(layup.caul.corner, 0.5 * min(outline.length, outline.width))
    return RoundedRectangle(outline.length, outline.width, corner)


def _breather(layup: Layup, chosen: Chosen, core: Outline) -> tuple[Draft, ...]:
    if chosen.breather is None:
        return ()
    covered = veneer_outline(layup, core) if chosen.caul is None else core.grown(layup.caul.margin)
    sheet = Draft(
        key="breather",
        role="breather",
        name="breather",
        side="press",
        material=chosen.breather.key,
        material_name=chosen.breather.name,
        thickness=chosen.breather.pressed_thickness,
        outline=straight_cut(covered, layup.breather.margin),
    )
    return (sheet,)
