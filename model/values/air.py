"""The air in the bag: loose under the slack film, in what stays open, and in the wood.

Loose air goes at the pressure of the room until the film lies on. The open voids then set the pace of the gauge. Air
in the wood follows through fine pores, for minutes or hours; on the gauge it looks like a leak.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from ..bag.size import CLOSED_KINDS
from ..data.bench import usual
from ..materials import Board, Wood
from ..materials.solid import CELL_WALL_DENSITY
from ..mechanics.evacuation import slack_volume, void_volume
from ..mechanics.film_path import convex_hull
from ..plan import Plan
from ..shape.profile import Floats
from ..source import COMMON_PRACTICE, GEOMETRY
from ..stack import Layer
from ..units import GramPerMm2, GramPerMm3, Mm, Mm2, Mm3, Ratio
from ..value import Value, formula


@formula("V", "air where the film comes down beside the layup", "2 * (L + B) * H * c / 2", GEOMETRY)
def tent_volume(L: Mm, B: Mm, H: Mm, c: Mm) -> Mm3:
    """Air in the wedge round a layup L long, B wide and H high, the film reaching the bench c beside it."""
    return 2.0 * (L + B) * H * c / 2.0


@formula("V", "air under the film where it spans steps and hollows", "(A_f - A_s) * B", GEOMETRY)
def spanned_volume(A_f: Mm2, A_s: Mm2, B: Mm) -> Mm3:
    """Air between a taut film and a layup B wide, their sections along its length being A_f and A_s."""
    return (A_f - A_s) * B


@formula("V", "loose air in the bag, gone when the film lies on", "V_1 + V_2 + V_3", GEOMETRY)
def loose_air(V_1: Mm3, V_2: Mm3, V_3: Mm3) -> Mm3:
    """Air under the slack film: over the whole bag, beside the layup, and over steps and hollows."""
    return V_1 + V_2 + V_3


@formula("phi", "part of the paper that is air", "1 - b / (t * rho)", GEOMETRY)
def paper_voids(b: GramPerMm2, t: Mm, rho: GramPerMm3) -> Ratio:
    """Part of paper t thick that is air, b being its basis weight and rho the density of its fibres."""
    return 1.0 - b / (t * rho)


@formula("V", "air in the hollows of the form", "A * B * (1 - s)", GEOMETRY)
def form_volume(A: Mm2, B: Mm, s: Ratio) -> Mm3:
    """Air in a vented form B wide with the section A, of which ribs fill the part s."""
    return A * B * (1.0 - s)


@formula("V", "air in what stays open under the film", "V_b + V_p + V_f + V_h", COMMON_PRACTICE)
def open_voids(V_b: Mm3, V_p: Mm3, V_f: Mm3, V_h: Mm3) -> Mm3:
    """Air in breather, paper, the hollows of the form, and hose: what a pump draws down."""
    return V_b + V_p + V_f + V_h


@formula("V", "air in the pores of wood and boards, which follows slowly", "V_w + V_p", GEOMETRY)
def wood_air(V_w: Mm3, V_p: Mm3) -> Mm3:
    """Air in the work and in the plates around it, as far as they let air through."""
    return V_w + V_p


@dataclass(frozen=True, slots=True, kw_only=True)
class Air:
    """Air in a bag before it is pumped, mm³: loose, in what stays open, and in the wood."""

    loose: Mm3
    voids: Mm3
    wood: Mm3


def air_values(plan: Plan) -> Iterator[Value]:
    """Loose air, air in the voids that stay open, air in the wood."""
    yield from _loose(plan)
    yield from _voids(plan)
    yield wood_air.value("air.wood", V_w=_work_pores(plan), V_p=_plate_pores(plan))


def air_of(values: dict[str, Value]) -> Air:
    """Sums of the values of the air."""
    return Air(
        loose=values["air.loose"].number, voids=values["air.voids"].number, wood=values["air.wood"].number
    )


def _loose(plan: Plan) -> Iterator[Value]:
    bag, layup = plan.bag, plan.layup
    closure = layup.bag.closure if bag.kind in CLOSED_KINDS else 0.0
    flat = max(bag.length - closure, 0.0) * bag.width
    slack = slack_volume.value("air.slack", A=flat, h=usual("film.lift"))
    tent = tent_volume.value(
        "air.beside", L=plan.along.foot, B=plan.across.foot, H=plan.along.height, c=layup.bag.side_clearance
    )
    contour = plan.along.contour
    spanned = spanned_volume.value(
        "air.spanned",
        A_f=section_area(convex_hull(contour)),
        A_s=section_area(contour),
        B=plan.base.outline.width,
    )
    yield from (slack, tent, spanned)
    yield loose_air.value("air.loose", V_1=slack.number, V_2=tent.number, V_3=max(spanned.number, 0.0))


def _voids(plan: Plan) -> Iterator[Value]:
    parts = {"V_b": 0.0, "V_p": 0.0, "V_f": 0.0, "V_h": usual("hose.air")}
    breather, layer = plan.chosen.breather, plan.stack.find("breather")
    if breather is not None and layer is not None:
        value = _in_layer("air.breather", layer, breather.void_fraction)
        parts["V_b"] = value.number
        yield value
    paper, layer = plan.chosen.absorbent, plan.stack.find("absorbent")
    if paper is not None and layer is not None and paper.lets_air and paper.pressed_thickness > 0.0:
        share = paper_voids(b=paper.basis_weight, t=paper.pressed_thickness, rho=CELL_WALL_DENSITY)
        value = _in_layer("air.paper", layer, max(share, 0.0))
        parts["V_p"] = value.number
        yield value
    form = plan.layup.form
    if plan.base.kind == "form" and form.build != "stacked" and form.vented == "yes":
        value = form_volume.value(
            "air.form", A=section_area(plan.base.section), B=plan.base.outline.width, s=solid_share(plan)
        )
        parts["V_f"] = value.number
        yield value
    yield open_voids.value("air.voids", **parts)


def _in_layer(key: str, layer: Layer, share: Ratio) -> Value:
    return void_volume.value(key, A=layer.blank.area, t=layer.thickness, phi=share)


def _work_pores(plan: Plan) -> Mm3:
    """Air in veneers and core."""
    return sum(
        layer.volume * porosity(plan.chosen.solid(layer.role, layer.side))
        for layer in plan.stack.work
        if layer.role != "adhesive"
    )


def _plate_pores(plan: Plan) -> Mm3:
    """Air in caul, and in platen or solid form."""
    caul, base = plan.stack.find("caul"), plan.base
    found = 0.0
    if caul is not None and plan.chosen.caul is not None:
        found += caul.volume * porosity(plan.chosen.caul)
    if plan.chosen.platen is not None:
        found += base.outline.area * plan.layup.platen.thickness * porosity(plan.chosen.platen)
    if plan.chosen.form is not None:
        found += (
            section_area(base.section) * base.outline.width * solid_share(plan) * porosity(plan.chosen.form)
        )
    return found


def solid_share(plan: Plan) -> Ratio:
    """Part of a form's width that is wood: all of a stack, the ribs of a ribbed one, nothing of a box."""
    ribs = None if plan.form is None else plan.form.ribbed
    if ribs is not None:
        return (ribs.bays + 1) * ribs.load.rib / plan.base.outline.width
    return 1.0 if plan.layup.form.build == "stacked" else 0.0


def porosity(material: Board | Wood) -> Ratio:
    """Part of a wood or board that is air which can leave it."""
    return material.void_fraction if getattr(material, "lets_air", True) else 0.0


def section_area(section: Floats) -> Mm2:
    """Area inside a closed section, either way round."""
    x, y = section.T
    return 0.5 * abs(float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))))
