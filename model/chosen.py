"""The materials of one layup, found by their keys, with the values that its file replaces."""

from dataclasses import dataclass
from typing import TypeVar

from .draft import Role, Side
from .layup.layup import Layup
from .layup.sections import NO_MATERIAL
from .materials import (
    Adhesive,
    Board,
    Breather,
    Film,
    Paper,
    Release,
    Wood,
    find_adhesive,
    find_board,
    find_breather,
    find_film,
    find_paper,
    find_release,
    find_substrate,
    find_wood,
    replace_values,
)

M = TypeVar("M", Wood, Board, Adhesive, Film, Breather, Paper, Release)


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """What the layers of one layup are made of; None where a layer is left out."""

    face: Wood | None
    back: Wood | None
    crossband: Wood | None
    lipping: Wood | None
    substrate: Board | Wood
    adhesive: Adhesive
    release: Release | None
    absorbent: Paper | None
    caul: Board | None
    breather: Breather | None
    platen: Board | None
    form: Board | None
    film: Film

    def solid(self, role: Role, side: Side) -> Board | Wood:
        """Material of a sheet that stays in the panel, by its role and its side."""
        found = (
            self.crossband
            if role == "crossband"
            else {"face": self.face, "back": self.back}.get(side, self.substrate)
        )
        assert found is not None
        return found


def choose(layup: Layup) -> Chosen:
    """Materials of a layup, with the values that its file replaces."""

    def own(material: M) -> M:
        values = {name: number for key, name, number in layup.overrides if key == material.key}
        return replace_values(material, values) if values else material

    def is_there(name: str) -> bool:
        return name != NO_MATERIAL

    core = find_substrate(layup.substrate.material)
    return Chosen(
        face=own(find_wood(layup.face.material)) if is_there(layup.face.material) else None,
        back=own(find_wood(layup.back.material)) if is_there(layup.back.material) else None,
        lipping=own(find_wood(layup.lipping.material)) if is_there(layup.lipping.material) else None,
        crossband=own(find_wood(layup.crossband.material)) if is_there(layup.crossband.material) else None,
        # a type checker follows one kind at a time
        substrate=own(core) if isinstance(core, Board) else own(core),  # noqa: RUF034
        adhesive=own(find_adhesive(layup.adhesive.material)),
        release=own(find_release(layup.release.material)) if is_there(layup.release.material) else None,
        absorbent=own(find_paper(layup.absorbent.material)) if is_there(layup.absorbent.material) else None,
        caul=own(find_board(layup.caul.material)) if is_there(layup.caul.material) else None,
        breather=own(find_breather(layup.breather.material)) if is_there(layup.breather.material) else None,
        platen=own(find_board(layup.platen.material))
        if not layup.is_bent and is_there(layup.platen.material)
        else None,
        form=own(find_board(layup.form.material)) if layup.is_bent else None,
        film=own(find_film(layup.bag.material)),
    )
