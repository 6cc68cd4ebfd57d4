"""The outline that a panel asks for, from whatever the layup file gives it by, with the sizes that follow from it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from ..errors import LayupError, ShapeError
from ..shape.figures import filleted, regular_polygon, superellipse
from ..shape.outline import Outline, Oval, Rectangle, RoundedRectangle
from ..shape.pathed import Pathed, pathed
from ..units import Mm
from .sections import OUTLINES, Panel
from .setting import settings_of

GIVEN_BY = {
    "rectangle": (),
    "rounded rectangle": ("corner",),
    "ellipse": (),
    "superellipse": ("exponent",),
    "regular polygon": ("sides", "fillet"),
    "polygon": ("corners", "fillet"),
    "drawing": ("outline_file", "outline_file_unit"),
}
"""Keys that give each outline, beside length and width."""

TOLD_BY = {
    "exponent": "superellipse",
    "sides": "regular polygon",
    "corners": "polygon",
    "outline_file": "drawing",
}
"""Keys that tell the outline by themselves."""

AGREEMENT: Mm = 0.05
"""Sizes closer than this are one."""

PROBE: Mm = 0.05
"""Radius at which what rounding takes off a polygon of radius 1 is measured."""

Stands = Callable[[str], Any]
"""Value of a key: what the file gives, or its starting value."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelEdge:
    """The outline of a panel by its name, around its middle, with the extent that the panel has."""

    name: str
    outline: Outline
    length: Mm
    width: Mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """Length that a bend leaves for an outline: along its curve, where it is just that; or in plan, at the most."""

    length: Mm
    in_plan: bool


def panel_edge(
    given: Mapping[str, Any], stands: Stands, room: Room | None = None, drawn: Pathed | None = None
) -> PanelEdge:
    """Outline that the keys of [panel] ask for.

    Parameters
    ----------
    given
        What the file gives, by dotted key.
    stands
        Value of a key that the file may leave out.
    room
        What a bend leaves; None for a flat panel.
    drawn
        Outline of the drawing that ``panel.outline_file`` names.

    Raises
    ------
    LayupError
        They give no outline, or two, or sizes that disagree.
    """
    name = _name(given, stands)
    _refuse_strangers(given, name)
    if name == "regular polygon":
        return _on_bend(_regular(given, stands), room)
    if name in ("polygon", "drawing"):
        outline = _polygon(given, stands) if name == "polygon" else _drawn(given, drawn)
        return _on_bend(_sized(given, name, outline), room)
    length, width = _length(given, room), _width(given)
    return PanelEdge(name=name, outline=_by_sizes(name, length, width, stands), length=length, width=width)


def _on_bend(edge: PanelEdge, room: Room | None) -> PanelEdge:
    """The same outline, as long as the curve of the bend that it lies on, or no longer than that in plan."""
    if room is None:
        return edge
    if room.in_plan:
        _demand_room(edge.length, room.length, "panel.outline", f"a {edge.name} of {edge.length:.6g} mm")
    elif abs(edge.length - room.length) > AGREEMENT:
        raise LayupError(
            "panel.outline",
            f"a {edge.name} of {edge.length:.6g} mm on a bend of {room.length:.6g} mm along its curve",
            "an outline as long as the bend",
            "Give the bend by sizes that come to this length, or draw the outline longer.",
        )
    return edge


def _demand_room(length: Mm, most: Mm, key: str, found: str) -> None:
    """Refuse an outline in plan that is longer than the bend as it is seen from above."""
    if length > most + AGREEMENT:
        raise LayupError(
            key,
            f"{found} in plan",
            f"up to {most:.6g} mm, which is the chord of the bend",
            "Make the bend longer, or the panel shorter.",
        )


def _name(given: Mapping[str, Any], stands: Stands) -> str:
    """Outline that is asked for, or that the keys tell."""
    if "panel.outline" in given:
        return str(given["panel.outline"])
    told = (outline for key, outline in TOLD_BY.items() if f"panel.{key}" in given)
    return next(told, str(stands("panel.outline")))


def _refuse_strangers(given: Mapping[str, Any], name: str) -> None:
    """Refuse sizes that belong to another outline."""
    for other, keys in GIVEN_BY.items():
        for key in keys:
            if f"panel.{key}" in given and key not in GIVEN_BY[name]:
                fitting = [one for one in OUTLINES if key in GIVEN_BY[one]]
                raise LayupError(
                    f"panel.{key}",
                    f'{_WORDS.get(key, key)} with the outline "{name}"',
                    " or ".join(f'outline = "{one}"' for one in fitting or [other]),
                )


_WORDS = {
    "corner": "a corner radius",
    "corners": "corners",
    "fillet": "rounded corners",
    "sides": "a number of sides",
}


def _by_sizes(name: str, length: Mm, width: Mm, stands: Stands) -> Outline:
    """Outline that length and width give, with one more number at the most."""
    if name == "ellipse":
        return Oval(length, width)
    if name == "superellipse":
        # its arcs keep to it within a hair, its extent is what was asked
        return Pathed(superellipse(length, width, float(stands("panel.exponent"))), (), length, width)
    if name == "rectangle":
        return Rectangle(length, width)
    corner, half = float(stands("panel.corner")), 0.5 * min(length, width)
    if corner > half:
        raise LayupError("panel.corner", f"{corner:g} mm", f"up to {half:g} mm, half of the shorter side")
    return RoundedRectangle(length, width, corner)


def _regular(given: Mapping[str, Any], stands: Stands) -> PanelEdge:
    """Regular polygon with a side at the front, as wide as the file says, or as long where it says that alone."""
    if "panel.sides" not in given:
        raise LayupError("panel.sides", "nothing", "the number of sides", "Add sides to [panel].")
    word = "width" if "panel.width" in given else "length"
    if f"panel.{word}" not in given:
        raise LayupError(
            "panel.width", "nothing", "the width of the polygon, from its front side to what lies across"
        )
    unit = regular_polygon(int(given["panel.sides"]))
    corners = [(x, y) for x, y, _ in unit.corners]
    radius = float(stands("panel.fillet"))
    # rounded corners take a length off the extent that grows with their radius alone
    whole = getattr(pathed(unit), word)
    taken = (whole - getattr(pathed(filleted(corners, PROBE)), word)) / PROBE
    size = (float(given[f"panel.{word}"]) + taken * radius) / whole
    outline = _filleted([(size * x, size * y) for x, y in corners], stands)
    return _sized(given, "regular polygon", outline)


def _polygon(given: Mapping[str, Any], stands: Stands) -> Pathed:
    corners = given.get("panel.corners")
    if corners is None:
        raise LayupError("panel.corners", "nothing", "the corners of the panel, in their order around it")
    return _filleted(corners, stands)


def _filleted(corners: Any, stands: Stands) -> Pathed:
    radius = float(stands("panel.fillet"))
    try:
        return pathed(filleted(corners, radius))
    except ShapeError as error:
        if "rounded" in str(error):
            raise LayupError("panel.fillet", str(error), "a radius that all corners have room for") from None
        raise LayupError("panel.corners", str(error), "three corners or more, around one area") from None


def _drawn(given: Mapping[str, Any], drawn: Pathed | None) -> Pathed:
    if drawn is None:
        raise LayupError(
            "panel.outline_file",
            str(given.get("panel.outline_file", "nothing")),
            "a drawing that stands beside the layup file",
        )
    return drawn


def _sized(given: Mapping[str, Any], name: str, outline: Pathed) -> PanelEdge:
    """Outline whose extent gives length and width."""
    # what a last digit of rounding leaves is none of the panel's size
    found = PanelEdge(
        name=name, outline=outline, length=round(outline.length, 6), width=round(outline.width, 6)
    )
    key = f"panel.{next(key for key, told in TOLD_BY.items() if told == name)}"
    for word in ("length", "width"):
        allowed, size = settings_of(Panel)[word], getattr(found, word)
        if not allowed.low <= size <= allowed.high:
            raise LayupError(
                key,
                f"a panel of {size:.6g} mm {'along' if word == 'length' else 'across'}",
                f"{allowed.low:g} to {allowed.high:g} mm",
                "Check the numbers and their unit.",
            )
    _demand_agreement(given, found)
    return found


def _demand_agreement(given: Mapping[str, Any], found: PanelEdge) -> None:
    """Refuse a size that is given and is not the one that follows."""
    for word in ("length", "width"):
        size = getattr(found, word)
        asked = float(given.get(f"panel.{word}", size))
        if abs(asked - size) > AGREEMENT:
            raise LayupError(
                f"panel.{word}",
                f"{asked:.6g} mm",
                f"{size:.6g} mm, which is what the {found.name} measures",
                f"Leave {word} out.",
            )


def _length(given: Mapping[str, Any], room: Room | None) -> Mm:
    if room is not None:
        length = float(given.get("panel.length", room.length)) if room.in_plan else room.length
        _demand_room(length, room.length, "panel.length", f"{length:.6g} mm")
        return length
    if "panel.length" not in given:
        raise LayupError(
            "panel.length", "nothing", "the finished length of the panel", "Add length to [panel]."
        )
    return float(given["panel.length"])


def _width(given: Mapping[str, Any]) -> Mm:
    if "panel.width" not in given:
        raise LayupError("panel.width", "nothing", "the finished width of the panel", "Add width to [panel].")
    return float(given["panel.width"])
