"""What a layup may not ask for at once, though each key by itself is allowed."""

import math
from collections.abc import Mapping
from typing import Any

from ..errors import LayupError
from .defaults import Kind
from .sections import DOUBLY_CURVED, NO_MATERIAL

Values = Mapping[str, Mapping[str, Any]]
"""Section, key, and its settled value."""


def refuse_doubly_curved(given: Mapping[str, Any]) -> None:
    """Refuse a surface that is bent two ways at once: no flat sheet lies on it without stretch.

    Raises
    ------
    LayupError
        The shape of a curve is a dome or another doubly curved one; with chord and rise the error tells the stretch.
    """
    for table in ("bend", "taper"):
        word = given.get(f"{table}.shape")
        if word in DOUBLY_CURVED:
            raise LayupError(
                f"{table}.shape",
                f'"{word}", a surface that is bent two ways at once',
                "a bend in one direction, or one that tapers",
                f"A flat sheet lies on it only where it stretches{_stretch_of(given, table)}, and veneer cannot.",
            )


def _stretch_of(given: Mapping[str, Any], table: str) -> str:
    """Stretch of a cap of a sphere over its chord and rise: its arcs are longer than a rim of that chord allows.

    A flat disc with the radius of the cap's arc has a rim longer than the cap's by arc over chord; whatever the rim
    does not give up, the arcs have to take on.

    Source: textbook, length of an arc.
    """
    chord, rise = given.get(f"{table}.chord"), given.get(f"{table}.rise")
    if chord is None or rise is None:
        return ""
    half = 2.0 * math.atan2(rise, 0.5 * chord)
    share = 100.0 * (half / math.sin(half) - 1.0)
    return f" or shrinks by {share:.2g} % in all"


def refuse_lipping(values: Values, kind: Kind) -> None:
    """Refuse a lipping where it is not worked out: it goes around one rectangular board.

    Raises
    ------
    LayupError
        The panel is bent or no rectangle, its core is of several sheets, or the lipping is too wide or too narrow.
    """
    lipping, panel, core = values["lipping"], values["panel"], values["substrate"]
    if lipping["material"] == NO_MATERIAL:
        return
    for is_so, found in (
        (kind == "bent", "a lipping on a bend"),
        (panel["outline"] != "rectangle", f'a lipping around the outline "{panel["outline"]}"'),
        (core["laminations"] > 1, f"a lipping around a core of {core['laminations']} sheets"),
    ):
        if is_so:
            raise LayupError(
                "lipping.material",
                found,
                "a flat rectangle with a core of one board",
                'Set it to "none" and lip the panel after veneering.',
            )
    trim, half = core["trim"], 0.5 * min(panel["length"], panel["width"]) + core["trim"]
    if not trim < lipping["width"] < half:
        raise LayupError(
            "lipping.width",
            f"{lipping['width']:g} mm",
            f"more than {trim:g} mm, which is trimmed off, and less than {half:g} mm, half of the core's shorter side",
        )


def refuse_pressing(values: Values, kind: Kind) -> None:
    """Refuse one face at a time where it makes no sense.

    Raises
    ------
    LayupError
        The panel is bent, or has only one veneer or none.
    """
    faces = values["press"]["faces"]
    if faces == "both":
        return
    if kind == "bent":
        raise LayupError(
            "press.faces", f'"{faces}" on a bend', "both", "The plies of a bend are glued in one pressing."
        )
    for side in ("face", "back"):
        if values[side]["material"] == NO_MATERIAL:
            raise LayupError(
                "press.faces",
                f'"{faces}" without a {side} veneer',
                "both",
                "One face at a time takes two veneers; a single one is pressed at once.",
            )


def refuse_stock(given: Mapping[str, Any], values: Values) -> None:
    """Refuse half of a size, and stock of which nothing is left.

    Raises
    ------
    LayupError
        Only one side of a board is given, its trimmed edges take all of it, or truing takes all of a leaf.
    """
    pair = ("stock.board_length", "stock.board_width")
    there = [key for key in pair if key in given]
    if len(there) == 1:
        missing = pair[1] if there[0] == pair[0] else pair[0]
        raise LayupError(
            missing, "nothing", f"a length, since {there[0]} is given", "A board of your own has both."
        )
    stock = values["stock"]
    if there and 2.0 * stock["edge"] >= min(stock["board_length"], stock["board_width"]):
        half = 0.5 * min(stock["board_length"], stock["board_width"])
        raise LayupError("stock.edge", f"{stock['edge']:g} mm", f"less than {half:g} mm, half of the board")
