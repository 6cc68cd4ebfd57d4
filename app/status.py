"""How a command ended, for the shell."""

from typing import Final

FINE: Final = 0
"""No check says stop."""
STOP: Final = 1
"""A check says stop."""
UNUSABLE: Final = 2
"""The file, or the command as it was given, can't be used."""
FAILED: Final = 3
"""A file could not be made or written."""
BROKEN_OFF: Final = 130
"""Broken off from the keyboard, as shells tell it."""

MEANINGS = (
    (FINE, "no check says stop"),
    (STOP, "a check says stop"),
    (UNUSABLE, "the file or the command can't be used"),
    (FAILED, "a file could not be made or written"),
)
"""What a shell can tell by, in words."""
