"""The errors of the project, for input that can't be understood or an export that failed.

::

    UnderbagError
    ├── LayupError        what was asked for makes no layup (also a ValueError)
    ├── TableError        a row of a data table is unusable (also a ValueError)
    ├── ShapeError        a shape that cannot exist was asked for (also a ValueError)
    └── ExportError       a file could not be made or written

A layup that would go wrong in the press is no error: it is a check with the status ``stop``.
"""


class UnderbagError(Exception):
    """Root of every error that the project raises on purpose."""


class LayupError(UnderbagError, ValueError):
    """What was asked for makes no layup.

    Parameters
    ----------
    key
        Dotted key of the layup file, such as ``"panel.length"``; empty where no single key is to blame.
    found
        What stands there, as text.
    allowed
        What may stand there, as text.
    hint
        What to do, as a sentence; may be empty.
    line
        Line of the layup file, counted from 1; 0 where it is not known.
    """

    def __init__(self, key: str, found: str, allowed: str, hint: str = "", line: int = 0) -> None:
        super().__init__(key, found, allowed, hint, line)
        self.key = key
        self.found = found
        self.allowed = allowed
        self.hint = hint
        self.line = line

    def __str__(self) -> str:
        place = f"line {self.line}: " if self.line else ""
        subject = f"{self.key}: " if self.key else ""
        hint = f" {self.hint}" if self.hint else ""
        return f"{place}{subject}found {self.found}; allowed: {self.allowed}.{hint}"

    def at_line(self, line: int) -> "LayupError":
        """Give the same error with the line of the file that it speaks of."""
        return LayupError(self.key, self.found, self.allowed, self.hint, line)


class TableError(UnderbagError, ValueError):
    """A row of a data table is unusable; the text names table, row and column."""


class ShapeError(UnderbagError, ValueError):
    """A shape that cannot exist was asked for; the text names the place and the limit."""


class ExportError(UnderbagError):
    """A file could not be made or written; the text names the file and the cause."""
