"""The work: the sheets that stay in the panel with the glue between them, in order from below."""

from dataclasses import dataclass

from .chosen import Chosen
from .draft import Draft, Side
from .layup.layup import Face, Layup
from .layup.sections import Veneer
from .materials import Adhesive, Wood
from .mechanics.glue import wet_line
from .shape.outline import Outline


@dataclass(frozen=True, slots=True)
class _Sided:
    """One veneer of the layup with its side and its wood; None where there is none."""

    side: Face
    veneer: Veneer
    wood: Wood | None


def draft_work(layup: Layup, chosen: Chosen, core: Outline, faces: tuple[Face, ...]) -> tuple[Draft, ...]:
    """Veneers, crossbands, glue lines and core from the platen or form upward.

    Parameters
    ----------
    core
        The core's edge.
    faces
        Which veneers there are.
    """
    lower, upper = _sides(layup, chosen, faces)
    return (
        *_veneer(layup, chosen, core, lower),
        *_core(layup, chosen, core),
        *reversed(_veneer(layup, chosen, core, upper)),
    )


def _sides(layup: Layup, chosen: Chosen, faces: tuple[Face, ...]) -> tuple[_Sided, _Sided]:
    """Lower and upper veneer with what they are made of."""
    face = _Sided("face", layup.face, chosen.face if "face" in faces else None)
    back = _Sided("back", layup.back, chosen.back if "back" in faces else None)
    return (back, face) if layup.face_is_up else (face, back)


def _veneer(layup: Layup, chosen: Chosen, core: Outline, sided: _Sided) -> tuple[Draft, ...]:
    """One veneer, its crossband and their glue lines, the veneer first."""
    if sided.wood is None:
        return ()
    sheet = Draft(
        key=sided.side,
        role="veneer",
        name=f"{sided.side} veneer",
        side=sided.side,
        material=sided.wood.key,
        material_name=sided.wood.name,
        thickness=sided.veneer.thickness,
        outline=core.grown(sided.veneer.overhang),
        grain=sided.veneer.grain,
    )
    glue = _glue(layup, chosen.adhesive, core, f"glue-{sided.side}", sided.side)
    return sheet, glue, *_crossband(layup, chosen, core, sided.side)


def _crossband(layup: Layup, chosen: Chosen, core: Outline, side: Face) -> tuple[Draft, ...]:
    """The crossband of one veneer, cut to the core's size, and the glue line between it and the core."""
    if chosen.crossband is None:
        return ()
    key = f"crossband-{side}"
    sheet = Draft(
        key=key,
        role="crossband",
        name=f"{side} crossband",
        side=side,
        material=chosen.crossband.key,
        material_name=chosen.crossband.name,
        thickness=layup.crossband.thickness,
        outline=core,
        grain=layup.crossband.grain,
    )
    return sheet, _glue(layup, chosen.adhesive, core, f"glue-{key}", side)


def _glue(layup: Layup, glue: Adhesive, core: Outline, key: str, side: Side) -> Draft:
    """A wet glue line; it covers the core and nothing of the overhang."""
    return Draft(
        key=key,
        role="adhesive",
        name="glue line",
        side=side,
        material=glue.key,
        material_name=glue.name,
        thickness=wet_line(s=layup.adhesive.spread, rho=glue.density),
        outline=core,
    )


def _core(layup: Layup, chosen: Chosen, core: Outline) -> tuple[Draft, ...]:
    """The core, or the laminations with glue between them, from below."""
    substrate = layup.substrate
    is_single = substrate.laminations == 1
    sheets: list[Draft] = []
    for number in range(1, substrate.laminations + 1):
        if number > 1:
            sheets.append(_glue(layup, chosen.adhesive, core, f"glue-{number - 1}", "core"))
        sheets.append(
            Draft(
                key="substrate" if is_single else f"substrate-{number}",
                role="substrate",
                name="substrate" if is_single else f"lamination {number}",
                side="core",
                material=chosen.substrate.key,
                material_name=chosen.substrate.name,
                thickness=substrate.thickness,
                outline=core,
                grain=substrate.grain,
                lipping=0.0 if chosen.lipping is None else layup.lipping.width,
            )
        )
    return tuple(sheets)
