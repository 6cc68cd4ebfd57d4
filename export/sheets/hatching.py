"""Which hatch pattern stands for which material; what comes off again after pressing differs from the panel."""

from dataclasses import dataclass

from ...model.materials import Board, Wood
from ...model.plan import Plan
from ...model.stack import Layer
from ...model.units import Radian, Ratio

QUARTER: Radian = 1.5707963267948966

BOARDS = {"wood panel": "panel", "foam": "foam", "honeycomb": "foam", "metal": "metal", "plastic": "metal"}
"""Patterns of boards that have no grain."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """How a cut part is hatched: pattern, its turn and its spacing."""

    pattern: str
    turn: Radian = 0.0
    spread: Ratio = 1.0


def cut_of(plan: Plan, layer: Layer, number: int = 0) -> Cut:
    """Hatching of a layer; odd and even numbers of equal layers differ."""
    other = number % 2
    match layer.role:
        case "veneer" | "crossband":
            is_back, runs_along = layer.side == "back", layer.grain == "along length"
            return Cut(pattern=_grain(layer), turn=QUARTER * (is_back and not runs_along), spread=0.6)
        case "substrate":
            return _core(plan.chosen.substrate, layer, other)
        case "absorbent":
            paper = plan.chosen.absorbent
            return Cut(
                pattern="foam" if paper is not None and paper.kind == "cushion" else "textile", spread=0.6
            )
        case "caul":
            return _tool(plan.chosen.caul)
        case "breather":
            return Cut(pattern="net")
    return Cut(pattern="solid")


def base_cut(plan: Plan) -> Cut:
    """Hatching of the platen or form."""
    return _tool(plan.chosen.platen or plan.chosen.form)


def _tool(board: Board | None) -> Cut:
    return Cut(pattern="metal" if board is not None and board.kind == "metal" else "form")


def _core(material: Board | Wood, layer: Layer, other: int) -> Cut:
    if isinstance(material, Board) and material.kind in BOARDS:
        return Cut(pattern=BOARDS[material.kind], turn=0.5 * other)
    return Cut(
        pattern=_grain(layer), turn=QUARTER * other * (layer.grain == "along width"), spread=1.0 - 0.3 * other
    )


def _grain(layer: Layer) -> str:
    """Pattern of wood as the section along the panel's length cuts it."""
    return "wood along" if layer.grain == "along length" else "wood across"
