"""What is cut from solid stock that is chosen by eye, board by board, and so not laid out: lippings, solid cores."""

from collections.abc import Iterator
from dataclasses import dataclass

from ..materials import Wood
from ..plan import Plan
from ..strips import strips
from ..units import Mm
from .splits import THICKEST_LEAF


@dataclass(frozen=True, slots=True, kw_only=True)
class SolidPiece:
    """Pieces of one size, cut from solid stock."""

    name: str
    material: str
    pieces: int
    length: Mm
    width: Mm
    thickness: Mm


def solid_pieces(plan: Plan) -> tuple[SolidPiece, ...]:
    """Every piece of a plan that is cut from solid stock, from below; a lipping has its grain along it."""
    return tuple(_pieces(plan))


def _pieces(plan: Plan) -> Iterator[SolidPiece]:
    for layer in plan.stack.layers:
        if layer.role != "substrate":
            continue
        wood = plan.chosen.substrate
        if isinstance(wood, Wood) and layer.thickness > THICKEST_LEAF:
            yield SolidPiece(
                name=layer.name,
                material=wood.name,
                pieces=1,
                length=layer.blank.length,
                width=layer.blank.width,
                thickness=layer.thickness,
            )
        if layer.lipping and plan.chosen.lipping is not None:
            for strip in strips(layer):
                yield SolidPiece(
                    name=f"lipping along the {strip.side}",
                    material=plan.chosen.lipping.name,
                    pieces=2,
                    length=strip.length,
                    width=layer.lipping,
                    thickness=layer.thickness,
                )
