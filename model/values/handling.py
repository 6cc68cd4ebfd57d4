"""What goes into the bag and who can carry it, as values."""

from collections.abc import Iterator

from ..bag.size import CLOSED_KINDS
from ..data.bench import usual
from ..plan import Plan
from ..source import COMMON_PRACTICE, GEOMETRY
from ..units import Count, Gram, Mm, Ratio
from ..value import Value, formula
from .air import section_area, solid_share
from .geometry import work_mass


@formula("m", "mass of caul and platen or form", "m_c + m_b", GEOMETRY)
def plate_mass(m_c: Gram, m_b: Gram) -> Gram:
    """Mass of the caul m_c and of the platen or form m_b."""
    return m_c + m_b


@formula("m", "mass that goes into the bag", "m_w + m_p", GEOMETRY)
def load_mass(m_w: Gram, m_p: Gram) -> Gram:
    """Mass of the work m_w and of the plates around it m_p."""
    return m_w + m_p


@formula(
    "m",
    "mass that is lifted at once, where the stack is built in its place",
    "max(m_w, m_c, m_b)",
    COMMON_PRACTICE,
)
def heaviest_part(m_w: Gram, m_c: Gram, m_b: Gram) -> Gram:
    """Heaviest of the work m_w, the caul m_c and the platen or form m_b."""
    return max(m_w, m_c, m_b)


@formula(
    "n",
    "people to carry and to guide it",
    "max(ceil(m / m_1 - 1e-9), ceil(l / l_1 - 1e-9), 1)",
    COMMON_PRACTICE,
)
def people(m: Gram, m_1: Gram, l: Mm, l_1: Mm) -> Count:
    """People for a mass m, of which each carries m_1, and for a length l, of which each keeps l_1 from bending."""
    return max(_whole(m / m_1), _whole(l / l_1), 1)


def _whole(share: Ratio) -> Count:
    # a billionth is taken off, so that rounding does not call one more
    return -int(-(share - 1e-9) // 1)


def handling_values(plan: Plan) -> Iterator[Value]:
    """Mass that goes into the bag, and the people that it takes."""
    work, caul, base = work_mass(plan), _caul(plan), _base(plan)
    plates = plate_mass.value("handling.plates", m_c=caul, m_b=base)
    load = load_mass.value("handling.mass", m_w=work, m_p=plates.number)
    yield from (plates, load)
    lifted = load.number
    if plan.bag.kind not in CLOSED_KINDS:
        part = heaviest_part.value("handling.part", m_w=work, m_c=caul, m_b=base)
        lifted = part.number
        yield part
    length = max(plan.base.foot[1] - plan.base.foot[0], plan.base.outline.width)
    yield people.value(
        "handling.people", m=lifted, m_1=usual("lift.person"), l=length, l_1=usual("lift.length")
    )


def _caul(plan: Plan) -> Gram:
    layer, board = plan.stack.find("caul"), plan.chosen.caul
    return 0.0 if layer is None or board is None else layer.volume * board.density


def _base(plan: Plan) -> Gram:
    """Mass of the platen, or of the form's boards and skin; a box is taken for full."""
    if plan.chosen.platen is not None:
        return plan.base.outline.area * plan.base.lowest * plan.chosen.platen.density
    board, form = plan.chosen.form, plan.form
    if board is None:
        return 0.0
    if form is not None and form.parts:
        wood = sum(part.quantity * part.volume for part in form.parts)
        return board.density * (wood + sum(skin.thickness * skin.area for skin in form.skins))
    share = solid_share(plan) or 1.0
    return board.density * share * section_area(plan.base.section) * plan.base.outline.width
