"""Between two pressings: the shape of a panel that has one of its veneers, while the other is still to be laid.

Under the film it is flat. Then the glue's water leaves on one face only, and the panel bows until the second veneer
is pressed on; pressed flat with that, it is the finished panel, whose faces have both dried alike.
"""

from collections.abc import Iterator

from ..mechanics.laminate import SAGITTA
from ..plan import Plan
from ..units import Mm, PerMm
from ..value import Value, formula
from ..wetting import moisture_of
from .warping import warping_of


@formula("b_1", "bow between the two pressings (positive: show face crowned)", "k * L ** 2 / 8", SAGITTA)
def bow_between(k: PerMm, L: Mm) -> Mm:
    """Bow along the length L at the curvature k that is left in the air of the shop."""
    return k * L**2 / 8.0


@formula("c_1", "cup between the two pressings (positive: show face crowned)", "k * B ** 2 / 8", SAGITTA)
def cup_between(k: PerMm, B: Mm) -> Mm:
    """Cup across the width B at the curvature k that is left in the air of the shop."""
    return k * B**2 / 8.0


def between_values(plan: Plan) -> Iterator[Value]:
    """Bow and cup of a panel with its first veneer; nothing where both are pressed at once."""
    if plan.layup.laid == plan.layup.wanted:
        return
    left = warping_of(plan.plies, moisture_of(plan), plan.layup.face_is_up).left.tolist()
    yield bow_between.value("between.bow", k=left[0], L=plan.outline.length)
    yield cup_between.value("between.cup", k=left[1], B=plan.outline.width)
