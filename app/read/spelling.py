"""Words of a file that are not known, and the nearest ones that are."""

from collections.abc import Iterable

from ...model.errors import LayupError


def demand_known(word: str, allowed: Iterable[str], key: str, found: str) -> None:
    """Refuse a word that is not among those allowed.

    Raises
    ------
    LayupError
        The word is not among them; the hint gives the nearest spelling.
    """
    words = tuple(allowed)
    if word not in words:
        raise LayupError(key, found, listed(words), did_you_mean(word, words))


def did_you_mean(word: str, allowed: Iterable[str]) -> str:
    """Ask for the nearest of the allowed words; nothing where none is near."""
    # difflib is slow to import and only a mistake needs it
    from difflib import get_close_matches

    by_plain = {one.casefold(): one for one in allowed}
    close = get_close_matches(word.casefold(), list(by_plain), n=1)
    return f'Did you mean "{by_plain[close[0]]}"?' if close else ""


def listed(words: Iterable[str]) -> str:
    """Words in a row."""
    return ", ".join(words)
