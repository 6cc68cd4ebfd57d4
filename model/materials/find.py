"""Finding a material by the name that a woodworker writes."""

from collections.abc import Iterator, Mapping
from functools import cache

from ..data.tables import names, open_table
from ..errors import LayupError
from .consumable import Adhesive, Breather, Film, Paper, Release
from .shelf import take
from .solid import Board, Wood

SHELVES = {
    "wood": ("woods",),
    "veneer": ("woods",),
    "substrate": ("panels", "woods"),
    "board": ("panels",),
    "plate": ("panels",),
    "adhesive": ("adhesives",),
    "film": ("films",),
    "breather": ("breathers",),
    "paper": ("papers",),
    "release": ("releases",),
}
"""Where a name is looked for: word of the layup file, and the tables in the order of search."""

SHOWN = 8
"""How many names an error lists at most."""


def find_key(shelf: str, name: str) -> str:
    """Key of a material by key, name or alias; case, spaces and hyphens do not matter.

    Raises
    ------
    LayupError
        Nothing goes by that name; the hint gives the nearest spelling.
    """
    index = _index(shelf)
    spelled = plain(name)
    if spelled in index:
        return index[spelled]
    raise LayupError("", f'the {shelf} "{name}"', _allowed(shelf), _nearest(spelled, index))


def plain(name: str) -> str:
    """Reduce a name to small letters and digits with single hyphens: ``"Hard  Maple"`` becomes ``"hard-maple"``."""
    letters = (letter if letter.isalnum() else " " for letter in name.casefold().replace("'", ""))
    return "-".join("".join(letters).split())


@cache
def _index(shelf: str) -> dict[str, str]:
    """Key of every spelling that a shelf knows; the tables and the keys that come first win."""
    index: dict[str, str] = {}
    for spelled, key in _spellings(shelf):
        index.setdefault(spelled, key)
    return index


def _spellings(shelf: str) -> Iterator[tuple[str, str]]:
    for table in SHELVES[shelf]:
        listed = [item for item in names() if item.table == table]
        yield from ((plain(item.key), item.key) for item in listed)
        yield from ((plain(item.name), item.key) for item in listed)
        yield from ((plain(alias), item.key) for item in listed for alias in item.aliases)


def _allowed(shelf: str) -> str:
    listed = [item.name for table in SHELVES[shelf] for item in names() if item.table == table]
    rest = len(listed) - SHOWN
    return ", ".join(listed[:SHOWN]) + (
        f" and {rest} more (underbag materials lists them)" if rest > 0 else ""
    )


def _nearest(spelled: str, index: Mapping[str, str]) -> str:
    # difflib is slow to import and only a mistake needs it
    from difflib import get_close_matches

    close = get_close_matches(spelled, list(index), n=1)
    return (
        f'Did you mean "{close[0].replace("-", " ")}"?'
        if close
        else "Use the nearest kind and enter its values."
    )


def find_wood(name: str) -> Wood:
    """Wood by its key, name or alias; raises ``LayupError`` where there is none."""
    return take(Wood, find_key("wood", name))


def find_board(name: str) -> Board:
    """Panel product, core or plate by its key, name or alias; raises ``LayupError`` where there is none."""
    return take(Board, find_key("board", name))


def find_substrate(name: str) -> Board | Wood:
    """Board or wood by its key, name or alias, boards first; raises ``LayupError`` where there is none."""
    key = find_key("substrate", name)
    return take(Board, key) if key in open_table("panels").rows else take(Wood, key)


def find_adhesive(name: str) -> Adhesive:
    """Type of adhesive by its key, name or alias; raises ``LayupError`` where there is none."""
    return take(Adhesive, find_key("adhesive", name))


def find_film(name: str) -> Film:
    """Bag film by its key, name or alias; raises ``LayupError`` where there is none."""
    return take(Film, find_key("film", name))


def find_breather(name: str) -> Breather:
    """Breather by its key, name or alias; raises ``LayupError`` where there is none."""
    return take(Breather, find_key("breather", name))


def find_paper(name: str) -> Paper:
    """Absorbent paper or cushion by its key, name or alias; raises ``LayupError`` where there is none."""
    return take(Paper, find_key("paper", name))


def find_release(name: str) -> Release:
    """Release sheet by its key, name or alias; raises ``LayupError`` where there is none."""
    return take(Release, find_key("release", name))
