"""Woods, boards, adhesives, films, breathers, papers and release sheets, typed, with the source of every value."""

from .consumable import Adhesive, Breather, Film, Paper, Release
from .facts import facts_of, notes_of, sources_of
from .find import (
    SHELVES,
    find_adhesive,
    find_board,
    find_breather,
    find_film,
    find_key,
    find_paper,
    find_release,
    find_substrate,
    find_wood,
)
from .kinds import Material
from .override import replace_values
from .shelf import adhesives, boards, breathers, films, papers, releases, woods
from .solid import Board, Wood

__all__ = [
    "SHELVES",
    "Adhesive",
    "Board",
    "Breather",
    "Film",
    "Material",
    "Paper",
    "Release",
    "Wood",
    "adhesives",
    "boards",
    "breathers",
    "facts_of",
    "films",
    "find_adhesive",
    "find_board",
    "find_breather",
    "find_film",
    "find_key",
    "find_paper",
    "find_release",
    "find_substrate",
    "find_wood",
    "notes_of",
    "papers",
    "releases",
    "replace_values",
    "sources_of",
    "woods",
]
