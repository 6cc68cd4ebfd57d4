"""The lines at which the bends of a sheet begin and end.

There its curve goes from straight to bent, or from one bend into the next. They are drawn on the blanks, so that each
can be laid in register on the form.
"""

from dataclasses import dataclass
from itertools import pairwise

from .shape.profile import Piece, Profile, Run
from .units import Mm


@dataclass(frozen=True, slots=True, kw_only=True)
class BendLine:
    """A line across the sheet.

    Parameters
    ----------
    t
        Its place along the sheet.
    name
        What begins and ends there, such as ``"bend 1 ends, bend 2 begins"``.
    """

    t: Mm
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """A part of the sheet that is one to the eye: straight, an arc, or a smooth curve; its name empty where straight."""

    first: Mm
    last: Mm
    name: str


def stretches(profile: Profile) -> tuple[Stretch, ...]:
    """Straight and bent parts of a profile from left to right; bends are numbered where there are several."""
    joints = [float(joint) for joint in profile.joints()]
    groups: list[list[int]] = []
    for number, piece in enumerate(profile.pieces):
        if groups and _run_on(profile.pieces[groups[-1][-1]], piece):
            groups[-1].append(number)
        else:
            groups.append([number])
    bent = [group for group in groups if not _is_straight(profile.pieces[group[0]])]
    names = {group[0]: f"bend {count}" if len(bent) > 1 else "bend" for count, group in enumerate(bent, 1)}
    return tuple(
        Stretch(first=joints[group[0]], last=joints[group[-1] + 1], name=names.get(group[0], ""))
        for group in groups
    )


def bend_lines(profile: Profile) -> tuple[BendLine, ...]:
    """Lines of a profile from left to right; none on flat work."""
    parts = stretches(profile)
    # past its ends a sheet goes on straight
    ends = Stretch(first=0.0, last=parts[0].first, name=""), Stretch(first=parts[-1].last, last=0.0, name="")
    return tuple(
        BendLine(t=after.first, name=_named(before, after))
        for before, after in pairwise((ends[0], *parts, ends[1]))
        if before.name or after.name
    )


def _named(before: Stretch, after: Stretch) -> str:
    told = ([f"{before.name} ends"] if before.name else []) + ([f"{after.name} begins"] if after.name else [])
    return ", ".join(told)


def _is_straight(piece: Piece) -> bool:
    return isinstance(piece, Run) and piece.curvature == 0.0


def _run_on(one: Piece, other: Piece) -> bool:
    """Whether nothing changes to the eye from one piece to the next: pieces of a drawn curve are one bend."""
    if isinstance(one, Run) and isinstance(other, Run):
        return one.curvature == other.curvature
    return not isinstance(one, Run) and not isinstance(other, Run)
