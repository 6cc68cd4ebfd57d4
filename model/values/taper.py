"""A taper: length, chord, rise and radius at each end of the width, of the form's face to build and of the panel off it."""

from collections.abc import Iterator
from dataclasses import replace

from ..mechanics.bending import OFFSET
from ..plan import Plan, Taper
from ..shape.end_sheet import EndSheet
from ..source import GEOMETRY, Source
from ..units import Mm, Radian, Ratio
from ..value import Formula, Value, formula
from .form import curve_values

CONE = Source("textbook", "plane geometry", "half angle of a round cone from two radii and their distance")


@formula("L_e", "length of the panel along the curve", "L", GEOMETRY)
def end_length(L: Mm) -> Mm:
    """Length along the curve of one end."""
    return L


@formula("R_e", "radius of the form's face to build, in the plane", "abs(R + s * n * d)", OFFSET)
def plane_radius(R: Mm, s: Ratio, n: Ratio, d: Mm) -> Mm:
    """Radius in the plane of an end, d above the curve of the radius R; s is 1 over a crown and −1 in a hollow.

    The plane cuts a thickness n times as long as it is along the normal.
    """
    return abs(R + s * n * d)


@formula("alpha", "half angle of the cone", "atan(abs(R_1 - R_2) / W)", CONE)
def half_angle(R_1: Mm, R_2: Mm, W: Mm) -> Radian:
    """Half angle of the cone between two radii in planes that lie W apart."""
    from math import atan

    return atan(abs(R_1 - R_2) / W)


@formula(
    "n",
    "thickness in the plane of an end over true thickness, at the most",
    "method: lean of the normal",
    GEOMETRY,
)
def plane_share(n: Ratio) -> Ratio:
    """How many times as long the plane of an end cuts what lies square to the sloping face."""
    return n


def taper_values(plan: Plan) -> Iterator[Value]:
    """Sizes at both ends of a taper."""
    if plan.taper is None:
        return
    for name, end in plan.taper.ends:
        yield from _end(name, end)
    yield from _cone(plan.taper)


def _end(name: str, end: Plan) -> Iterator[Value]:
    def at_end(one: Formula) -> Formula:  # type: ignore[type-arg]
        return replace(one, name=f"{one.name}, {name} end")

    yield at_end(end_length).value(f"taper.{name}.length", L=end.layup.panel.length)
    pressed, released = end.stack.sheet, end.released
    work = end.stack.work
    show = work[-1].top if end.layup.face_is_up else work[0].height
    for key, said, sheet, height in (
        ("form", "form's face", pressed, 0.0),
        ("show_face", "show face off the form", released, show),
    ):
        half = 0.5 * end.layup.panel.length
        yield from curve_values(f"taper.{name}.{key}", sheet, height, half, f"{said}, {name} end")
        if sheet.profile.is_even and isinstance(sheet, EndSheet):
            bend = float(sheet.profile.pieces[0].turn) / sheet.profile.length
            word = f"radius of the {said}, in the plane of the {name} end"
            yield replace(plane_radius, name=word).value(
                f"taper.{name}.{key}.radius",
                R=abs(1.0 / bend),
                s=1.0 if bend > 0.0 else -1.0,
                n=sheet.lean,
                d=height - sheet.reference,
            )


def _cone(taper: Taper) -> Iterator[Value]:
    """Half angle of a round cone, on the form and off it."""
    for key, sheet in (("form", taper.states.pressed), ("released", taper.states.released)):
        cone = sheet.cone
        if cone is not None:
            word = "on the form" if key == "form" else "off the form"
            yield replace(half_angle, name=f"half angle of the cone, {word}").value(
                f"taper.{key}.half_angle", R_1=cone.near, R_2=cone.far, W=cone.width
            )
