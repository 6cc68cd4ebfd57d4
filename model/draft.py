"""A layer before it is stacked: what it is and how far it reaches, without its height and blank."""

from dataclasses import dataclass
from typing import Literal

from .shape.outline import Outline
from .units import Mm

Role = Literal[
    "platen",
    "form",
    "release",
    "veneer",
    "crossband",
    "adhesive",
    "substrate",
    "absorbent",
    "caul",
    "breather",
    "film",
]
Side = Literal["face", "back", "core", "press"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """A layer before it is stacked: everything but its height and blank.

    Its blank ends ``lipping`` inside its outline on every side, where a strip of another wood goes on.
    """

    key: str
    role: Role
    name: str
    side: Side
    material: str
    material_name: str
    thickness: Mm
    outline: Outline
    quantity: int = 1
    grain: str = ""
    lipping: Mm = 0.0
