"""What the user says about a drawing beside the work itself, for its title block."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Particulars:
    """Owner, number, date and names of the title block; what is left empty is filled in by hand."""

    owner: str = ""
    number: str = ""
    date: str = ""
    creator: str = ""
    approval: str = ""
    revision: str = ""


NOTHING_SAID = Particulars()
"""Particulars that are all left to be filled in by hand."""
