"""The frozen description of one job, complete and valid when it exists.

``settle`` makes it from what was asked: it fills in the starting values, works out the sizes of a bend that
were left open, and refuses what makes no layup.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from ..shape.outline import Outline
from ..shape.profile import Profile
from ..source import Basis
from ..units import Ratio
from .sections import (
    NO_MATERIAL,
    Absorbent,
    Adhesive,
    Bag,
    Bend,
    Breather,
    Caul,
    Crossband,
    Drawing,
    Form,
    Lipping,
    Panel,
    Platen,
    Press,
    Pump,
    Release,
    Stock,
    Substrate,
    Taper,
    Vacuum,
    Valve,
    Veneer,
)
from .setting import Entry

BareUnit = Literal["mm", "in"]
Face = Literal["face", "back"]

Asked = Mapping[str, Mapping[str, Any]]
"""What was asked for: section, key, and what it holds in internal units."""


@dataclass(frozen=True, slots=True)
class Settled:
    """One key of a layup as it stands: what it is, whether the file gave it, and why it is so if not."""

    key: str
    value: Entry | None
    given: bool
    reason: str
    basis: Basis


@dataclass(frozen=True, slots=True, kw_only=True)
class Layup:
    """One job: the panel, the stack around it, the press and the bag.

    Parameters
    ----------
    title
        Name of the job.
    unit
        What a bare number in its file means.
    bend
        The bend with all of its sizes; None for a flat panel.
    edge
        Outline of the finished panel on the plane of its sheet, around its middle, as its show face is seen.
    curve
        The curve that the bend asks for, crowns positive as it is written; None for a flat panel.
    taper
        The far end of a tapered bend with all of its sizes; None where one curve runs all through the width.
    far
        The curve at the far end, written as ``curve`` is, which is then that of the near end.
    settled
        Every key with its origin, in the order of the file.
    overrides
        Values of materials that the file replaces: (material key, property, number).
    """

    title: str
    unit: BareUnit
    panel: Panel
    edge: Outline
    bend: Bend | None
    curve: Profile | None
    taper: Taper | None
    far: Profile | None
    substrate: Substrate
    lipping: Lipping
    face: Veneer
    back: Veneer
    crossband: Crossband
    adhesive: Adhesive
    release: Release
    absorbent: Absorbent
    caul: Caul
    breather: Breather
    platen: Platen
    form: Form
    press: Press
    vacuum: Vacuum
    pump: Pump
    bag: Bag
    valve: Valve
    stock: Stock
    drawing: Drawing
    settled: tuple[Settled, ...]
    overrides: tuple[tuple[str, str, Ratio], ...] = ()

    @property
    def is_bent(self) -> bool:
        """Whether the panel is bent."""
        return self.bend is not None

    @property
    def is_tapered(self) -> bool:
        """Whether the bend changes from one end of the width to the other."""
        return self.taper is not None

    @property
    def bend_key(self) -> str:
        """Key that makes the bend of this layup wider or tighter; of a taper that of its near end."""
        shape = "arc" if self.bend is None else self.bend.shape
        return {
            "arc": "bend.radius",
            "chain": "bend.chain",
            "points": "bend.ordinates",
            "file": "bend.file",
        }.get(shape, "bend.rise")

    @property
    def wanted(self) -> tuple[Face, ...]:
        """Veneers of the finished panel: "face", "back", both or none."""
        veneers: dict[Face, Veneer] = {"face": self.face, "back": self.back}
        return tuple(side for side, veneer in veneers.items() if veneer.material != NO_MATERIAL)

    @property
    def laid(self) -> tuple[Face, ...]:
        """Veneers that are laid in this pressing."""
        first = self.press.faces.partition(" ")[0]
        return tuple(side for side in self.wanted if first in ("both", side))

    @property
    def face_is_up(self) -> bool:
        """Whether the show face lies uppermost in the press."""
        if self.bend is None:
            return self.press.lay == "face up"
        return (self.press.lay == "convex") == (self.bend.show_face == "outside")
