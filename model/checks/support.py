"""Rules of support: skin and ribs of a built form, the walls of a hollow one, and what stands under ribs."""

from ..materials import Board
from ..plan import Plan
from ..source import COMMON_PRACTICE, Source
from ..units import Mm, MPa
from ..wording import both, pressure, strength
from .judge import at_least, at_most, holds
from .limits import limit, limits
from .rule import Facts, Finding, Place, Rule


def _is_built(plan: Plan, build: str) -> bool:
    return plan.base.kind == "form" and plan.layup.form.build == build


def _skin(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Sag of the skin between ribs against what prints through."""
    if plan.form is None or plan.form.ribbed is None:
        return ()
    form, apart, spacing = plan.layup.form, plan.form.ribbed.spacing, facts["support.skin.spacing"].number
    return (
        at_most(
            facts["support.skin.sag"].number,
            limit("skin.sag"),
            "mm",
            broken="caution",
            message=f"Between ribs {both(apart)} apart a skin of {both(form.skin)} sags by "
            f"{both(facts['support.skin.sag'].number)}.",
            change="form.spacing",
            remedy=f"Set the ribs {both(spacing)} apart or closer, or make the skin thicker.",
            place=Place("form"),
        ),
    )


def _strength(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Stress of the skin and pressure on the ribs' edges against what the board bears."""
    board = plan.chosen.form
    if plan.form is None or plan.form.ribbed is None or board is None:
        return ()
    bearing = facts["support.rib.bearing"].number
    found = [
        at_most(
            bearing,
            board.crush,
            "MPa",
            broken="stop",
            message=f"The skin presses on the ribs' edges with {pressure(bearing)}; {board.name} bears "
            f"{strength(board.crush)}.",
            change="form.rib",
            remedy="Make the ribs thicker or set them closer.",
            place=Place("form"),
        )
    ]
    if board.MOR is not None:
        found.append(
            _stress(facts["support.skin.stress"].number, board, board.MOR, "The skin between the ribs")
        )
    return tuple(found)


def _stress(stress: MPa, board: Board, breaks: MPa, what: str) -> Finding:
    """Judge a stress against the bending strength (stop) and the part of it that is used (caution)."""
    is_broken = stress > breaks
    return at_most(
        stress,
        breaks if is_broken else limit("skin.stress") * breaks,
        "MPa",
        broken="stop" if is_broken else "caution",
        message=f"{what} is stressed to {strength(stress)}; {board.name} breaks at about {strength(breaks)}.",
        change="form.skin",
        remedy="Make it thicker, or set ribs closer.",
        place=Place("form"),
    )


def _baseboard(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Board under the ribs."""
    if not _is_built(plan, "ribs"):
        return ()
    is_there = plan.layup.form.baseboard == "yes"
    return (
        holds(
            is_there,
            broken="stop",
            message=f"The ribs stand on {'a vented baseboard' if is_there else 'no baseboard'}.",
            change="form.baseboard",
            remedy="Screw the ribs to a board under all of them, with a hole into every bay.",
            place=Place("form"),
        ),
    )


def _box(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Walls of a hollow box against buckling, and against a bow that shows."""
    board = plan.chosen.form
    if not _is_built(plan, "box") or board is None:
        return ()
    reserve = facts["support.box.reserve"].number
    remedy = "Use thicker walls, or ribs inside close to each other, or a solid stack."
    found = [
        at_least(
            reserve,
            limit("box.reserve"),
            "1",
            broken="stop",
            message=f"The walls of the box buckle at {reserve:.3g} times the pressure.",
            change="form.skin",
            remedy=remedy,
            place=Place("form"),
        )
    ]
    if "support.box.bow" in facts:
        found.append(_bow(plan, facts["support.box.bow"].number, remedy))
        if board.MOR is not None:
            found.append(
                _stress(facts["support.box.stress"].number, board, board.MOR, "The worst wall of the box")
            )
    return tuple(found)


def _bow(plan: Plan, bow: Mm, remedy: str) -> Finding:
    return at_most(
        bow,
        limit("box.bow"),
        "mm",
        broken="caution",
        message=f"The worst wall of the box goes in by {both(bow)}."
        if bow < plan.layup.form.skin
        else "The worst wall of the box goes in by more than it is thick.",
        change="form.skin",
        remedy=remedy,
        place=Place("form"),
    )


RULES = (
    Rule(
        key="support.baseboard",
        title="board under the ribs",
        why="The lower film is drawn up between ribs that stand on nothing, and bursts.",
        source=COMMON_PRACTICE,
        find=_baseboard,
    ),
    Rule(
        key="support.strength",
        title="strength of skin and ribs",
        why="A skin that breaks between its ribs takes the work with it.",
        source=Source("textbook", "beam theory", "strip over ribs under uniform load"),
        find=_strength,
    ),
    Rule(
        key="support.skin",
        title="skin between the ribs",
        why="Ribs print through a skin that sags between them.",
        source=limits()["skin.sag"].source,
        find=_skin,
    ),
    Rule(
        key="support.box",
        title="walls of the hollow form",
        why="The film presses a hollow box from all sides; walls too thin go in, or collapse.",
        source=Source("textbook", "plate theory", "supported plates with thrust along their plane"),
        find=_box,
    ),
)
