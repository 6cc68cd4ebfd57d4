"""Rules of the stock: whether every piece comes out of a board or leaf that is to be had."""

from ..nest.needs import Need, excess, needs_of
from ..nest.rectangles import Piece
from ..plan import Plan
from ..source import COMMON_PRACTICE
from ..units import Mm
from ..wording import both, both_size
from .judge import at_most
from .rule import Facts, Finding, Place, Rule

KEYS = {"board": "stock.board_length", "leaf": "stock.leaf_length"}
"""Which key names larger stock, by its kind; what comes off a roll is laid of strips where it has to be."""
NAMES = {"board": "sheet", "leaf": "leaf"}
PLACES = {"P": "platen", "F": "form"}


def _size(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Pieces that no size of their stock takes; where there are none, the piece that only just comes out of it."""
    found = [
        (excess(need, piece), need, piece)
        for need in needs_of(plan)
        for piece in dict.fromkeys((*need.wholes, *need.pieces))
        if need.kind in KEYS and need.sizes
    ]
    over = [one for one in found if one[0] > 1e-9]
    worst = max(found, key=lambda one: one[0], default=None)
    shown = over or ([worst] if worst is not None else [])
    return tuple(_finding(plan, *one) for one in shown)


def _finding(plan: Plan, past: Mm, need: Need, piece: Piece) -> Finding:
    size = both_size(piece.length, piece.width)
    if past > 1e-9:
        message = (
            f"No {NAMES[need.kind]} of {need.material} takes the {piece.name} of {size}: {_largest(need)}."
        )
    else:
        message = f"Every board and leaf is large enough; the {piece.name} of {size} comes out of one with the least to spare."
    layer = plan.stack.layers[int(piece.mark) - 1] if piece.mark.isdigit() else None
    return at_most(
        past,
        0.0,
        "mm",
        broken="caution",
        message=message,
        change=KEYS[need.kind],
        remedy="Join it of the pieces that the cut list tells, or enter what you have that is larger.",
        place=Place(layer.key if layer else PLACES[piece.mark]),
    )


def _largest(need: Need) -> str:
    length, width = max(need.sizes, key=lambda size: size[0] * size[1])
    trimmed = f", of which {both(need.edge)} is trimmed off every edge" if need.edge else ""
    return f"the largest is {both_size(length, width)}{trimmed}"


RULES = (
    Rule(
        key="stock.size",
        title="stock that is large enough",
        why="What is larger than any board or leaf has to be joined, and the joint shows or gives.",
        source=COMMON_PRACTICE,
        find=_size,
    ),
)
