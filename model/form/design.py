"""The form of a bent layup as it is built."""

from dataclasses import dataclass

from ..base import Base
from ..chosen import Chosen
from ..layup.layup import Layup
from ..shape.sheet import Sheet
from ..tapering import EndName, TaperStates
from ..units import Mm
from .part import FormPart
from .pile import SheetForm, sheet_form
from .ribs import RibForm, rib_form
from .side import FormSide, form_side
from .skin import Skin
from .taper_form import Carcase, TaperRibs, TaperSheets, carcase_of, ribs_at, taper_form


@dataclass(frozen=True, slots=True, kw_only=True)
class FormDesign:
    """The form of a bend.

    Parameters
    ----------
    side
        Side of the bend that it lies on, and why.
    built
        Its boards: ribs with a skin, or stacked sheets; None for a box, and where the base is too low for ribs.
    carcase
        Where the face of a taper's form lies; None for all others.
    """

    side: FormSide
    built: RibForm | SheetForm | TaperRibs | TaperSheets | None
    carcase: Carcase | None = None

    @property
    def taper(self) -> TaperRibs | TaperSheets | None:
        """The form of a taper, where it is one that is built of boards."""
        return self.built if isinstance(self.built, TaperRibs | TaperSheets) else None

    @property
    def ribbed(self) -> RibForm | TaperRibs | None:
        """The form that has ribs and a skin, straight or of a taper."""
        return self.built if isinstance(self.built, RibForm | TaperRibs) else None

    @property
    def skins(self) -> tuple[Skin, ...]:
        """Sheets of the skin, from below; none of a stack."""
        return () if self.ribbed is None else self.ribbed.skins

    @property
    def ribs(self) -> RibForm | None:
        """The ribs and what goes with them, where it is built so."""
        return self.built if isinstance(self.built, RibForm) else None

    @property
    def parts(self) -> tuple[FormPart, ...]:
        """All flat boards, from below."""
        return () if self.built is None else self.built.parts


def design_form(layup: Layup, chosen: Chosen, base: Base, sheet: Sheet) -> FormDesign | None:
    """Design the form of a bend; None for flat work."""
    if chosen.form is None or base.kind != "form":
        return None
    built: RibForm | SheetForm | None = None
    if layup.form.build == "ribs":
        built = rib_form(layup, chosen.form, base, sheet)
    elif layup.form.build == "stacked":
        built = sheet_form(layup, chosen.form, base, sheet)
    return FormDesign(side=form_side(layup), built=built)


def form_at_end(form: FormDesign, states: TaperStates, name: EndName) -> FormDesign:
    """The form of a taper as a section at one end of the panel shows it."""
    built = form.taper
    return FormDesign(
        side=form.side,
        built=ribs_at(built, states.sides[name]) if isinstance(built, TaperRibs) else None,
        carcase=form.carcase,
    )


def design_taper_form(
    layup: Layup, chosen: Chosen, states: TaperStates, base: Base, lift: Mm
) -> FormDesign | None:
    """Design the form of a taper; ``base`` is that of its larger end, ``lift`` turns heights of the sheet into z."""
    if chosen.form is None:
        return None
    carcase = carcase_of(layup, states, base, lift)
    return FormDesign(
        side=form_side(layup), built=taper_form(layup, chosen.form, states, carcase), carcase=carcase
    )
