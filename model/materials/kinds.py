"""The kinds of material, and the table that each stands in."""

from typing import TypeAlias, TypeVar

from .consumable import Adhesive, Breather, Film, Paper, Release
from .solid import Board, Wood

Material: TypeAlias = Wood | Board | Adhesive | Film | Breather | Paper | Release

M = TypeVar("M", Wood, Board, Adhesive, Film, Breather, Paper, Release)

TABLES: dict[type[Material], str] = {
    Wood: "woods",
    Board: "panels",
    Adhesive: "adhesives",
    Film: "films",
    Breather: "breathers",
    Paper: "papers",
    Release: "releases",
}
"""The table that each kind of material stands in."""

KINDS = {table: kind for kind, table in TABLES.items()}
