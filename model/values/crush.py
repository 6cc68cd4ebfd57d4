"""Crushing: what the parts under the film bear through their thickness, at once and for the hours of the press."""

from collections.abc import Iterator

from ..data.limits import limit, limits
from ..materials import Board, Wood
from ..mechanics.pressure import crush_ratio
from ..plan import Plan
from ..source import Source
from ..units import MPa, Ratio
from ..value import Value, formula

LASTING = Source("from memory", "", "foams and honeycombs give way in time under a part of their strength")


@formula("f_h", "pressure borne for hours through the thickness", "f_c * k", LASTING)
def lasting_strength(f_c: MPa, k: Ratio) -> MPa:
    """Part k of the strength f_c through the thickness that a material bears as long as it is pressed."""
    return f_c * k


def crush_values(plan: Plan) -> Iterator[Value]:
    """Pressure over strength of everything that has to bear it, and what it bears for hours."""
    for key, material in pressed_parts(plan):
        yield crush_ratio.value(f"crush.{key}", p=plan.layup.vacuum.gauge, f_c=material.crush)
        yield lasting_strength.value(f"crush.{key}.lasting", f_c=material.crush, k=lasting_share(material))


def pressed_parts(plan: Plan) -> Iterator[tuple[str, Board | Wood]]:
    """Core, caul, and platen or form: what the air presses between its two sides."""
    chosen = plan.chosen
    yield "substrate", chosen.substrate
    for key, board in (("caul", chosen.caul), ("platen", chosen.platen), ("form", chosen.form)):
        if board is not None:
            yield key, board


def lasting_share(material: Board | Wood) -> Ratio:
    """Part of its strength that a material bears for hours: all of it where no limit says less."""
    key = f"crush.{material.kind}"
    return limit(key) if key in limits() else 1.0
