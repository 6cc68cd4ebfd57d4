"""The film of a new bag as it is cut off the roll, with its seams, its tape and its mass."""

from collections.abc import Iterator

from ...model.bag.film_cut import FilmCut, FilmSheet
from ...model.checks.rule import Facts
from ...model.plan import Plan
from ...model.report import Report
from ...model.wording import area, both, both_size, in_mm, mass
from ..columns import ends, left
from .ink import Ink

LABEL = 44


def film_lines(plan: Plan, report: Report, ink: Ink) -> Iterator[str]:
    """What to buy and to cut, seams included; of a bag that is owned, its tape and its mass alone."""
    values = report.by_key()
    cut = plan.film
    if cut is None:
        yield ink("FILM of your bag", "heading")
    else:
        yield ink(
            ends("FILM, seams included", f"{plan.chosen.film.name}, {in_mm(plan.layup.bag.thickness)}"),
            "heading",
        )
        yield from piece_lines(cut, ink)
        if cut.count > 1:
            yield from _joints(cut, cut.sheets[0])
        if not cut.is_tube:
            yield _line("off a roll as wide as", both(cut.roll))
            yield _line("length of it", _length(values, "bag.roll_length"))
        yield _line("film of the pieces", area(cut.film))
        if cut.taken > 1.001 * cut.film:
            yield _line("film off the roll", area(cut.taken))
        if values["bag.seams"].number:
            yield _line(f"seams to make, {in_mm(cut.seam)} wide", _length(values, "bag.seams"))
    if values["bag.tape"].number:
        yield _line("sealing tape", _length(values, "bag.tape"))
    if "bag.board_length" in values:
        size = both_size(values["bag.board_length"].number, values["bag.board_width"].number)
        yield ends("  board to seal it to, at the least", size)
    yield _line("mass of the bag", mass(values["bag.mass"].number))


def piece_lines(cut: FilmCut, ink: Ink) -> Iterator[str]:
    """Sheets that are alike in one line, and the strips that they are joined of."""
    sheet = cut.sheets[0]
    names = "upper and lower sheet, each" if len(cut.sheets) == 2 else sheet.name
    yield ends(f"  {names}", both_size(sheet.length, sheet.width))
    if cut.count > 1:
        for piece in sheet.pieces:
            yield ink(ends("    joined of", both_size(piece.length, piece.width)), "quiet")


def _joints(cut: FilmCut, sheet: FilmSheet) -> Iterator[str]:
    """Where the seams across the film lie."""
    edge = "the left edge" if cut.run == "along" else "the edge at the closed end"
    for joint in sheet.joints:
        yield _line(f"seam, middle, from {edge}", both(joint))


def _length(values: Facts, key: str) -> str:
    return both(values[key].number)


def _line(label: str, text: str) -> str:
    return f"  {left(label, LABEL)}{text}"
