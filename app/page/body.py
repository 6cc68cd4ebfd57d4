"""Reading what a request carries: no more than allowed, and only as what it should be."""

import json
from typing import Any

from starlette.requests import Request

from .guard import LARGEST_BODY

LONGEST_TYPED = 2000
"""Characters that a field may hold: a chain of many pieces."""


class TooMuch(Exception):
    """A request carries more than it may; the rest was not read."""


class Unreadable(Exception):
    """A request does not say what it should."""


async def read_json(request: Request) -> dict[str, Any]:
    """Read a JSON object, and stop reading as soon as it is too large.

    Raises
    ------
    TooMuch
        It is too large.
    Unreadable
        It is no JSON object.
    """
    whole = bytearray()
    async for chunk in request.stream():
        whole += chunk
        if len(whole) > LARGEST_BODY:
            raise TooMuch
    try:
        content = json.loads(whole.decode() or "{}", parse_constant=_refuse)
    except (ValueError, RecursionError) as error:
        raise Unreadable("no JSON") from error
    if not isinstance(content, dict):
        raise Unreadable("no JSON object")
    return content


def _refuse(name: str) -> None:
    raise ValueError(name)


def number(content: dict[str, Any], name: str) -> int:
    """Whole number of a name.

    Raises
    ------
    Unreadable
        There is none.
    """
    found = content.get(name)
    if not isinstance(found, int) or isinstance(found, bool):
        raise Unreadable(f"no number {name}")
    return found


def text(content: dict[str, Any], name: str, longest: int = 200) -> str:
    """Text of a name, empty where it is left out.

    Raises
    ------
    Unreadable
        It is no text, or too long.
    """
    found = content.get(name, "")
    if not isinstance(found, str) or len(found) > longest:
        raise Unreadable(f"no text {name}")
    return found


def changes(content: dict[str, Any]) -> dict[str, str | None]:
    """What was typed, by key.

    Raises
    ------
    Unreadable
        It is no table of texts.
    """
    found = content.get("changes")
    if not isinstance(found, dict) or not 0 < len(found) <= 50:
        raise Unreadable("no changes")
    for typed in found.values():
        if typed is not None and (not isinstance(typed, str) or len(typed) > LONGEST_TYPED):
            raise Unreadable("a change that is no text")
    return found
