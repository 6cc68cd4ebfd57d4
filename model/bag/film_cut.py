"""The film of a new bag as it comes off the roll: its sheets, the pieces of each, and the seams across them.

A tube is one length of tube film. Two joined sheets, two sheets taped flat to each other and one sheet on a board
are cut off a roll; both sheets of a bag alike. Where the roll is too narrow, strips are joined, and of all widths of
roll and both ways to lay the strips the one with fewest seams is taken, then the one that takes least film.
"""

from dataclasses import dataclass
from typing import Literal

from ..data.bench import usual
from ..materials import Film
from ..units import Count, Mm, Mm2
from .size import CLOSED_KINDS, BagSize
from .strips import Strip, rows_on_roll, seam_places, strips
from .valve import ValvePlace

Run = Literal["along", "across"]
"""Way that the length of the roll takes in the bag."""

SHEETS: dict[str, tuple[str, ...]] = {
    "tube": ("upper sheet", "lower sheet"),
    "joined sheets": ("upper sheet", "lower sheet"),
    "taped sheets": ("upper sheet", "lower sheet"),
    "sheet on board": ("sheet",),
}
"""Names of the sheets by kind of bag; a tube has two where no tube is wide enough and sheets are joined instead."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One piece of film: its length along the bag, its width across, and the place of its corner on its sheet.

    The sheet's own corner is at the closed end and the left side, seen from the open end; seams are included.
    """

    length: Mm
    width: Mm
    from_closed_end: Mm
    from_left: Mm


@dataclass(frozen=True, slots=True, kw_only=True)
class FilmSheet:
    """One sheet of the bag with the pieces that it is joined of, and the middles of the seams between them."""

    name: str
    length: Mm
    width: Mm
    pieces: tuple[Piece, ...]
    joints: tuple[Mm, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FilmCut:
    """All film of a new bag.

    Parameters
    ----------
    roll
        Width of the roll, or of the tube lying flat.
    run
        Which way the length of the roll lies in the bag.
    sheets
        The sheets; a tube is one.
    is_tube
        Whether it is a tube.
    seam
        Width of every seam.
    rows
        Lengths to take off the roll, one behind the other.
    row
        Each of these lengths.
    """

    roll: Mm
    run: Run
    sheets: tuple[FilmSheet, ...]
    is_tube: bool
    seam: Mm
    rows: Count
    row: Mm

    @property
    def layers(self) -> Count:
        """Thicknesses of film on the roll."""
        return 2 if self.is_tube else 1

    @property
    def taken(self) -> Mm2:
        """Film that is taken off the roll, what is left beside the pieces included."""
        return self.layers * self.roll * self.rows * self.row

    @property
    def film(self) -> Mm2:
        """Film of all pieces, seams included."""
        return self.layers * sum(
            piece.length * piece.width for sheet in self.sheets for piece in sheet.pieces
        )

    @property
    def joint_length(self) -> Mm:
        """Length of all seams across the film."""
        return sum(len(sheet.joints) for sheet in self.sheets) * self.row

    @property
    def count(self) -> Count:
        """Strips side by side in each sheet."""
        return len(self.sheets[0].pieces)


def cut_film(size: BagSize, film: Film, roll: Mm | None, valve: ValvePlace) -> FilmCut | None:
    """Cut the film of a new bag; None for a bag that is owned.

    Parameters
    ----------
    roll
        Width of the roll or tube that is at hand; None for the usual widths of the film.
    """
    if size.is_owned:
        return None
    if size.tube is not None:
        piece = Piece(length=size.film_length, width=size.tube, from_closed_end=0.0, from_left=0.0)
        sheet = FilmSheet(name="tube", length=size.film_length, width=size.tube, pieces=(piece,), joints=())
        return FilmCut(
            roll=size.tube,
            run="along",
            sheets=(sheet,),
            is_tube=True,
            seam=size.seam,
            rows=1,
            row=size.film_length,
        )
    rolls = film.stock_widths if roll is None or size.kind == "tube" else (roll,)
    runs: tuple[Run, ...] = ("along", "across")
    found = [_of_strips(size, width, run, valve) for width in rolls for run in runs]
    return min(found, key=lambda cut: (cut.count, round(cut.taken), cut.roll, cut.run != "along"))


def _of_strips(size: BagSize, roll: Mm, run: Run, valve: ValvePlace) -> FilmCut:
    """Cut the sheets of strips that run one way."""
    seam, least = size.seam, usual("film.strip")
    if run == "along":
        extent, row, keep = size.film_width, size.film_length, valve.from_left_seam + seam
    else:
        extent, row, keep = size.film_length, size.film_width, valve.from_closed_end + seam
    made = strips(extent, roll, seam, keep, least)
    names = SHEETS[size.kind]
    return FilmCut(
        roll=roll,
        run=run,
        sheets=tuple(
            FilmSheet(
                name=name,
                length=size.film_length,
                width=size.film_width,
                pieces=tuple(_piece(strip, row, run) for strip in made),
                joints=seam_places(made, seam),
            )
            for name in names
        ),
        is_tube=False,
        seam=seam,
        rows=rows_on_roll([wide for _ in names for _, wide in made], roll),
        row=row,
    )


def _piece(strip: Strip, row: Mm, run: Run) -> Piece:
    start, wide = strip
    if run == "along":
        return Piece(length=row, width=wide, from_closed_end=0.0, from_left=start)
    return Piece(length=wide, width=row, from_closed_end=start, from_left=0.0)


def edge_seams(size: BagSize, is_tube: bool) -> Mm:
    """Length of the seams that close the bag on its sides and at its end; none where it is taped down."""
    if size.kind not in CLOSED_KINDS:
        return 0.0
    return size.width if is_tube else 2.0 * size.length + size.width
