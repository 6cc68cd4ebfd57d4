"""What is usual in building a form of ribs; from ``carcase.csv``."""

from functools import cache

from .limits import Limit, numbers_in


@cache
def carcases() -> dict[str, Limit]:
    """Every usual number of a ribbed form by key."""
    return numbers_in("carcase")


def carcase(key: str) -> float:
    """Give a number that is usual in a ribbed form, in internal units."""
    return carcases()[key].number
