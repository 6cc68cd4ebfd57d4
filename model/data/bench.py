"""What is usual at the bench: the pace of hands, the air that lies about; from ``bench.csv``."""

from functools import cache

from .limits import Limit, numbers_in


@cache
def usuals() -> dict[str, Limit]:
    """Every usual number of the bench by key."""
    return numbers_in("bench")


def usual(key: str) -> float:
    """Give a number that is usual at the bench, in internal units."""
    return usuals()[key].number
