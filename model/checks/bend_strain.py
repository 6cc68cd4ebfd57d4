"""Rules of bending: every ply against the radius that it stands."""

from collections.abc import Iterator

from ..bends import spot_of
from ..layup.sections import Crossband, Substrate, Veneer
from ..plan import Plan
from ..plies import Ply
from ..source import Source
from ..units import Mm
from ..values.bend import bent_plies, hardest_bend, part_of
from ..wording import both
from .judge import at_least
from .limits import limit
from .place import place_at
from .rule import Facts, Finding, Rule


def _strain(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Worst ply of each kind against its least radius."""
    if not plan.layup.is_bent:
        return ()
    worst: dict[str, Ply] = {}
    for ply in bent_plies(plan):
        part = part_of(ply)
        if f"bend.{part}.least" in facts and (
            part not in worst or _radius(ply, facts) < _radius(worst[part], facts)
        ):
            worst[part] = ply
    return tuple(_finding(plan, facts, part, ply) for part, ply in worst.items())


def _radius(ply: Ply, facts: Facts) -> Mm:
    return facts[f"bend.{ply.key}.radius"].number


def _proved(plan: Plan, part: str) -> Mm | None:
    """Radius of a test bend that held, where one was made."""
    layup = plan.layup
    tried: dict[str, Veneer | Crossband | Substrate] = {
        "face": layup.face,
        "back": layup.back,
        "crossband": layup.crossband,
        "substrate": layup.substrate,
    }
    return tried[part].proved_radius if part in tried else None


def _finding(plan: Plan, facts: Facts, part: str, ply: Ply) -> Finding:
    radius, hardest = _radius(ply, facts), hardest_bend(plan, ply)
    spot = spot_of(plan, hardest.end, hardest.at)
    where = f", {spot}" if spot else ""
    computed, published = facts[f"bend.{part}.least"].number, facts.get(f"bend.{part}.published")
    proved = _proved(plan, part)
    least = computed
    known = [f"{both(computed)} by its strength"]
    if published is not None:
        least = min(least, published.number)
        known.append(f"{both(published.number)} by a published table for plywood")
    if proved is not None:
        least = min(least, proved)
        known.append(f"{both(proved)} by your test bend")
    is_far = radius < least / limit("bend.far") and not ply.is_across_wood
    grain = "" if ply.key == "caul" else " along its grain" if ply.runs_along else " across its grain"
    return at_least(
        radius,
        least,
        "mm",
        broken="stop" if is_far else "caution",
        message=f"{_subject(ply)} is bent{grain} to {both(radius)} at its inside{where}; its least radius is "
        f"{', '.join(known)}.",
        change=f"{part}.thickness",
        remedy=" ".join(_remedies(part, ply)),
        place=place_at(plan, ply.key, hardest.end, hardest.at),
    )


def _subject(ply: Ply) -> str:
    """Name of a ply at the beginning of a sentence."""
    return ply.name.capitalize() if ply.name[-1].isdigit() else f"The {ply.name}"


def _remedies(part: str, ply: Ply) -> Iterator[str]:
    if part == "caul":
        yield "Use a thinner or limper caul, or none: the film presses a bend evenly by itself."
        return
    if ply.is_across_wood:
        yield "Thin veneer often rolls tighter this way than its strength says:"
        yield "bend a strip of it, dampened or backed with paper or cloth, and enter the radius that held"
    elif part == "substrate":
        yield "Use more and thinner plies, dampen and pre-form them, or turn their grain;"
        yield "or bend one of them and enter the radius that held"
    else:
        yield "Use thinner veneer, dampen and pre-form it, back it with paper or cloth, or turn its grain;"
        yield "or bend a strip of it and enter the radius that held"
    yield f"as {part}.proved_radius."


RULES = (
    Rule(
        key="bend.strain",
        title="tightest bend of the plies",
        why="A ply that is bent too tight cracks on the form, with the glue already spread.",
        source=Source(
            "derived", "beam theory", "strain t/(2R + t) against strength over modulus, less for thick plies"
        ),
        find=_strain,
    ),
)
