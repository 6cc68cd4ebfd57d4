"""What a layup may not ask for at once, though each key by itself is allowed."""

from collections.abc import Mapping
from typing import Any

from ..errors import LayupError
from .defaults import Kind
from .sections import NO_MATERIAL

Values = Mapping[str, Mapping[str, Any]]
"""Section, key, and its settled value."""


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
