"""Sizes, areas, volumes and masses of the panel and of every sheet."""

from collections.abc import Iterator

from ..plan import Plan
from ..source import GEOMETRY, Source
from ..stack import Layer
from ..units import Gram, GramPerMm3, Mm, Mm2, Mm3, Radian
from ..value import Value, formula

SHEET_ON_RULINGS = Source("derived", "sheet on rulings", "length = ∫(1 + d·θ′) dt")


@formula("l", "length of the blank", "L + 2 * a + (h - h_0) * turn", SHEET_ON_RULINGS)
def blank_length(L: Mm, a: Mm, h: Mm, h_0: Mm, turn: Radian) -> Mm:
    """Cut length at mid-thickness h of a layer that reaches a past a panel of length L, which is measured at h_0."""
    return L + 2.0 * a + (h - h_0) * turn


@formula("b", "width of the blank", "B + 2 * a", GEOMETRY)
def blank_width(B: Mm, a: Mm) -> Mm:
    """Cut width of a layer that reaches a past a panel of width B."""
    return B + 2.0 * a


@formula(
    "l",
    "length of the blank, of the rectangle around its flat pattern",
    "method: unrolled along the rulings",
    SHEET_ON_RULINGS,
)
def pattern_length(l: Mm) -> Mm:
    """Extent of a flat pattern across its middle ruling."""
    return l


@formula(
    "b",
    "width of the blank, of the rectangle around its flat pattern",
    "method: unrolled along the rulings",
    SHEET_ON_RULINGS,
)
def pattern_width(b: Mm) -> Mm:
    """Extent of a flat pattern along its middle ruling."""
    return b


@formula("H", "height of the stack above the platen or form", "top - foot", GEOMETRY)
def stack_height(top: Mm, foot: Mm) -> Mm:
    """Height between the lowest and the uppermost surface of the stack."""
    return top - foot


@formula("T", "thickness of the panel out of the press", "top - foot", GEOMETRY)
def panel_thickness(top: Mm, foot: Mm) -> Mm:
    """Thickness between the outer faces of the panel, with wet glue lines."""
    return top - foot


@formula("V", "volume of the panel, trim and overhang included", "A * T + rest", GEOMETRY)
def panel_volume(A: Mm2, T: Mm, rest: Mm3) -> Mm3:
    """Volume of the core's area over the panel's thickness, and what overhang and bend add."""
    return A * T + rest


@formula("m", "mass of the panel, trim and overhang included", "V * rho", GEOMETRY)
def panel_mass(V: Mm3, rho: GramPerMm3) -> Gram:
    """Mass of the panel from its volume and mean density."""
    return V * rho


@formula("A", "area of the finished panel along its surface", "method: area inside the outline", GEOMETRY)
def panel_area(length: Mm, width: Mm, waste: Mm2) -> Mm2:
    """Area of the box around the outline, less the waste at its corners."""
    return length * width - waste


def geometry_values(plan: Plan) -> Iterator[Value]:
    """Sizes of the panel, the stack and every blank that is cut."""
    outline, work = plan.outline, plan.stack.work
    yield panel_area.value(
        "panel.area",
        length=outline.length,
        width=outline.width,
        waste=outline.length * outline.width - outline.area,
    )
    yield stack_height.value("stack.height", top=plan.stack.height, foot=0.0)
    thickness = panel_thickness.value("panel.thickness", top=work[-1].top, foot=work[0].height)
    yield thickness
    core = next(layer for layer in work if layer.side == "core").outline.area
    edging = sum(layer.lipping_volume for layer in work)
    volume = sum(layer.volume for layer in work) + edging
    yield panel_volume.value(
        "panel.volume", A=core, T=thickness.number, rest=volume - core * thickness.number
    )
    yield panel_mass.value("panel.mass", V=volume, rho=work_mass(plan) / volume)
    for layer in plan.stack.layers:
        if layer.role != "adhesive":
            yield from _pattern_values(layer) if plan.taper is not None else _blank_values(plan, layer)


def _pattern_values(layer: Layer) -> Iterator[Value]:
    """Size of the rectangle around the flat pattern of a layer of a taper."""
    yield pattern_length.value(f"blank.{layer.key}.length", l=layer.blank.length)
    yield pattern_width.value(f"blank.{layer.key}.width", b=layer.blank.width)


def work_mass(plan: Plan) -> Gram:
    """Mass of everything that stays in the panel, glue wet, with its lippings."""
    work = plan.stack.work
    mass = sum(layer.volume * density_of(plan, layer) for layer in work)
    if plan.chosen.lipping is not None:
        mass += sum(layer.lipping_volume for layer in work) * plan.chosen.lipping.density
    return mass


def density_of(plan: Plan, layer: Layer) -> GramPerMm3:
    """Density of a layer that stays in the panel."""
    if layer.role == "adhesive":
        return plan.chosen.adhesive.density
    return plan.chosen.solid(layer.role, layer.side).density


def _blank_values(plan: Plan, layer: Layer) -> Iterator[Value]:
    sheet, panel = plan.stack.sheet, plan.outline
    (x0, y0), (x1, y1) = layer.outline.box
    yield blank_length.value(
        f"blank.{layer.key}.length",
        L=panel.length,
        a=0.5 * (x1 - x0 - panel.length) - layer.lipping,
        h=layer.middle,
        h_0=sheet.reference,
        turn=sheet.profile.turn,
    )
    yield blank_width.value(
        f"blank.{layer.key}.width",
        B=panel.width,
        a=0.5 * (y1 - y0 - panel.width) - layer.lipping,
    )
