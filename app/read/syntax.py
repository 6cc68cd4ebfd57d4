"""From the bytes of a layup file to its tables; slips of TOML are told with their line.

The standard library decides what is TOML. Its errors are put into the words of the project, with a hint for the
slips that a woodworker makes: a text without quotes, and an inch mark within quotes.
"""

import re
from typing import Any

from ...model.errors import LayupError
from ..number import quoted

_ALLOWED = "lines such as [panel], length = 600 or length = '23 5/8\"'"
_QUOTES = 'Put a text, and a number with a unit, in quotes: length = "600 mm" or length = \'23 5/8"\'.'
_HINTS = {
    "Expected newline or end of document": _QUOTES,
    "Invalid value": _QUOTES,
    "Unterminated string": "Close the text with the quote that opened it.",
    "Illegal character": "Close the text with the quote that opened it, in the same line.",
    "Unescaped": "Put a text with a backslash in single quotes.",
    "Expected '='": "Write a name, an equals sign and a value.",
    "Invalid statement": "Write a name, an equals sign and a value, or a table in brackets.",
    "Expected ']": "Close the name of the table with its bracket, and put nothing else in the line.",
    "Cannot overwrite a value": "The same name stands twice in a table; leave one of them.",
    "Duplicate inline table key": "The same name stands twice in a table; leave one of them.",
    "Cannot declare": "The same table stands twice; put its lines together.",
    "Cannot mutate": "The table was written before as a whole; put its lines together.",
    "Cannot redefine": "The table was written before as a whole; put its lines together.",
    "Unclosed array": "Close the list with a bracket.",
    "Unclosed inline table": "Close the table with a brace.",
    "Invalid date": "The date does not exist; put a text in quotes.",
}
_PLACE = re.compile(r"\(at (?:line (?P<line>[0-9]+), column [0-9]+|end of document)\)")


def decoded(data: bytes) -> str:
    """Take the bytes of a file as text, without a mark of the byte order and with plain line ends.

    Raises
    ------
    LayupError
        The bytes are not UTF-8.
    """
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        found = f"the byte 0x{data[error.start]:02x}"
        raise LayupError("", found, "text in UTF-8", "Save the file as UTF-8.", line) from None
    return text.replace("\r\n", "\n")


def parse(text: str) -> dict[str, Any]:
    """Read the tables of a TOML text.

    Raises
    ------
    LayupError
        The text is not TOML; the error knows the line.
    """
    from tomllib import TOMLDecodeError, loads

    try:
        return loads(text)
    except TOMLDecodeError as error:
        raise _told(text, str(error)) from None
    except RecursionError:
        raise LayupError("", "lists within lists, too deep to read", _ALLOWED) from None
    except ValueError:
        # The library leaves whole numbers of some thousand digits to Python, which refuses them without a place.
        raise LayupError("", "a number with very many digits", _ALLOWED) from None


def _told(text: str, message: str) -> LayupError:
    """Put an error of the library into our words."""
    place = _PLACE.search(message)
    lines = text.split("\n")
    # What is missing at the end is missing behind the last line that says anything.
    last = len(text.rstrip().split("\n"))
    line = min(int(place["line"]), len(lines)) if place and place["line"] else last
    hint = next((hint for start, hint in _HINTS.items() if message.startswith(start)), "")
    if hint is _QUOTES and "=" not in lines[line - 1]:
        hint = "Close a list or a table with its bracket, and put nothing else in the line of a table's name."
    if lines[line - 1].rstrip().endswith('""'):
        hint = "A text that holds an inch mark goes in single quotes: thickness = '7/16\"'."
    return LayupError("", quoted(lines[line - 1].strip()), _ALLOWED, hint or f"{message}.", line)
