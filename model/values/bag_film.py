"""The film of the bag, its seams, its tape and its mass, as values."""

from collections.abc import Iterator

from ..bag.film_cut import FilmCut, edge_seams
from ..bag.needs import make_of
from ..bag.size import CLOSED_KINDS
from ..bag.strips import strip_count
from ..data.bench import usual
from ..mechanics.closure import closure_length
from ..plan import Plan
from ..source import COMMON_PRACTICE, GEOMETRY
from ..units import Count, Gram, GramPerMm3, Mm, Mm2, Ratio
from ..value import Value, formula

TAPED = "taped"
"""What a film's way of seaming begins with where its seams take sealing tape."""


@formula("s", "least width of a seam in this film", "s_0", COMMON_PRACTICE)
def least_seam(s_0: Mm) -> Mm:
    """Width s_0 at which a seam holds as the film does."""
    return s_0


@formula("R", "width of the tube, lying flat", "method: next width in which it is sold", COMMON_PRACTICE)
def tube_width(b: Mm, spare: Mm) -> Mm:
    """Tube for an inside width b, ``spare`` wider than that."""
    return b + spare


@formula("a", "length to cut, seams included", "l + n * s", GEOMETRY)
def cut_length(l: Mm, n: Count, s: Mm) -> Mm:
    """Film for an inside length l with n seams of width s."""
    return l + n * s


@formula("w", "width to cut, seams included", "b + n * s", GEOMETRY)
def cut_width(b: Mm, n: Count, s: Mm) -> Mm:
    """Film for an inside width b with n seams of width s."""
    return b + n * s


@formula("l", "length to take off the roll", "n * a", GEOMETRY)
def roll_length(n: Count, a: Mm) -> Mm:
    """Length of n pieces a long, one behind the other."""
    return n * a


@formula("A", "film in the bag, seams included", "n * a * w + j * s", GEOMETRY)
def film_area(n: Count, a: Mm, w: Mm, j: Mm, s: Mm) -> Mm2:
    """Film of n sheets a long and w wide, and what laps in seams of width s and length j across them."""
    return n * a * w + j * s


@formula("A", "film to take off the roll", "n * R * l", GEOMETRY)
def taken_area(n: Count, R: Mm, l: Mm) -> Mm2:
    """Film of a length l off a roll R wide, in n thicknesses."""
    return n * R * l


@formula("l", "seams to make, closure aside", "e + j", GEOMETRY)
def seam_length(e: Mm, j: Mm) -> Mm:
    """Seams at the sides and the closed end, and seams across the film."""
    return e + j


@formula("l", "sealing tape for one pressing and for the seams", "(a + b) * (1 + r)", COMMON_PRACTICE)
def tape_length(a: Mm, b: Mm, r: Ratio) -> Mm:
    """Tape for the closure a and the seams b, with a reserve for corners and pleats."""
    return (a + b) * (1.0 + r)


@formula("m", "mass of the bag", "A * t * rho", GEOMETRY)
def bag_mass(A: Mm2, t: Mm, rho: GramPerMm3) -> Gram:
    """Mass of film of an area A and a thickness t."""
    return A * t * rho


@formula("B", "board that the sheet is sealed to, at the least", "F + 2 * (c + s)", COMMON_PRACTICE)
def board_side(F: Mm, c: Mm, s: Mm) -> Mm:
    """Side of a board for a layup with a foot F, clearance c and seam s on both sides."""
    return F + 2.0 * (c + s)


def bag_film_values(plan: Plan) -> Iterator[Value]:
    """Closure, pieces, seams, tape and mass."""
    bag, layup, film = plan.bag, plan.layup, plan.chosen.film
    if bag.kind in CLOSED_KINDS and not _is_given(plan, "bag.closure"):
        turns, wrap, grip = (usual(f"{layup.bag.closed_by}.{part}") for part in ("turns", "wrap", "grip"))
        yield closure_length.value("bag.closure", n=int(turns), f=wrap, g=grip)
    area = make_of(bag, film.key).film_area(bag.length, bag.width)
    if plan.film is not None:
        yield from _cut(plan, plan.film)
        area = plan.film.film
    yield tape_length.value("bag.tape", a=_taped_round(plan), b=_taped_seams(plan), r=usual("tape.reserve"))
    yield bag_mass.value("bag.mass", A=area, t=layup.bag.thickness, rho=film.density)
    if bag.kind == "sheet on board":
        room = {"c": layup.bag.side_clearance, "s": bag.seam}
        yield board_side.value("bag.board_length", F=plan.along.foot, **room)
        yield board_side.value("bag.board_width", F=plan.across.foot, **room)


def _is_given(plan: Plan, key: str) -> bool:
    return any(one.key == key and one.given for one in plan.layup.settled)


def _cut(plan: Plan, cut: FilmCut) -> Iterator[Value]:
    """How a new bag is cut off the roll."""
    bag, sheet = plan.bag, cut.sheets[0]
    yield least_seam.value("bag.least_seam", s_0=plan.chosen.film.least_seam)
    if cut.is_tube:
        yield tube_width.value("bag.tube", b=bag.needed_width, spare=cut.roll - bag.needed_width)
    ends = 1 if bag.kind in CLOSED_KINDS else 2
    yield cut_length.value("bag.cut_length", l=bag.length, n=ends, s=cut.seam)
    yield cut_width.value("bag.cut_width", b=bag.width, n=0 if cut.is_tube else 2, s=cut.seam)
    if not cut.is_tube:
        across = sheet.width if cut.run == "along" else sheet.length
        yield strip_count.value("bag.strips", b=across, s=cut.seam, R=cut.roll)
    taken = roll_length.value("bag.roll_length", n=cut.rows, a=cut.row)
    yield taken
    yield film_area.value(
        "bag.film",
        n=cut.layers * len(cut.sheets),
        a=sheet.length,
        w=sheet.width,
        j=cut.joint_length,
        s=cut.seam,
    )
    yield taken_area.value("bag.taken", n=cut.layers, R=cut.roll, l=taken.number)
    yield seam_length.value("bag.seams", e=edge_seams(bag, cut.is_tube), j=cut.joint_length)


def _taped_round(plan: Plan) -> Mm:
    """Tape that is laid for every pressing: round a sheet, or along the open end."""
    bag = plan.bag
    if bag.kind not in CLOSED_KINDS:
        return 2.0 * (bag.length + bag.width)
    return bag.width if plan.layup.bag.closed_by == "tape" else 0.0


def _taped_seams(plan: Plan) -> Mm:
    """Seams of a new bag in a film that is joined by tape."""
    cut = plan.film
    if cut is None or not plan.chosen.film.seaming.startswith(TAPED):
        return 0.0
    return edge_seams(plan.bag, cut.is_tube) + cut.joint_length
