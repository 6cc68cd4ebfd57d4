"""From what was asked to a whole layup: starting values filled in, limits kept, the bend worked out.

Raises ``LayupError`` for whatever makes no layup, with the key, what was found, what is allowed and, where a
word is misspelt, the nearest one.
"""

import math
from collections.abc import Iterable, Mapping
from typing import Any, NoReturn

from ..data.bench import usual
from ..errors import LayupError
from ..materials import find_adhesive, find_film, find_key
from ..mechanics.closure import closure_length
from ..shape.pathed import Pathed
from ..shape.profile import Profile, Run
from ..units import Mm
from .bend_curve import BendCurve, bend_curve
from .defaults import Default, Kind, default_values
from .layup import Asked, BareUnit, Layup, Settled
from .panel_edge import PanelEdge, Room, panel_edge
from .refusals import refuse_doubly_curved, refuse_lipping, refuse_pressing, refuse_stock
from .sections import BENT_LAYS, CLOSURES, FLAT_LAYS, IN_PLAN, NO_MATERIAL, ON_SHEET, SECTIONS
from .setting import Setting, settings_of
from .taper_curve import TaperCurve, taper_curve

OPTIONAL_MATERIALS = (
    "lipping",
    "face",
    "back",
    "crossband",
    "release",
    "absorbent",
    "caul",
    "breather",
    "platen",
)
"""Sections whose material may be "none", which leaves the layer out."""

Override = tuple[str, str, float]
"""A value that replaces that of the tables: key of the material, property, number in internal units."""

CROSSED = Default("", "across the face, which it keeps from cracking", "common practice")
BALANCED = Default("", "the same veneer on both faces keeps the panel balanced", "common practice")
FROM_MATERIAL = Default("", "the middle of the usual range of this material", "from memory")
FROM_OWN_MATERIAL = Default("", "the file's own value of this material", "given")
FROM_SHOW_FACE = Default("", "the show face stays uppermost, where it can be seen", "common practice")
LEFT_OPEN = Default("", "worked out by the plan", "derived")
NO_TEST = Default("", "no test bend was made", "derived")
OTHERWISE = Default("", "the bend is given otherwise", "derived")
FAR_OTHERWISE = Default("", "the far end is given otherwise", "derived")
OTHER_OUTLINE = Default("", "the outline is given otherwise", "derived")
NO_UNIT = Default("", "the drawing says its own, or there is none", "derived")
OPEN = {
    "face.proved_radius": NO_TEST,
    "back.proved_radius": NO_TEST,
    "substrate.proved_radius": NO_TEST,
    "crossband.proved_radius": NO_TEST,
    "substrate.moisture": Default("", "follows from the air of the shop", "derived"),
    "form.springback": Default("", "worked out from the stiffness of the plies", "derived"),
    "press.dry_run": Default("", "worked out from the sheets to lay and the bag to close", "derived"),
    **{
        f"drawing.{key}": Default("", "left to be written in by hand", "derived")
        for key in ("owner", "number", "date", "revision", "drawn_by", "approved_by")
    },
    "panel.sides": OTHER_OUTLINE,
    "panel.corners": OTHER_OUTLINE,
    "panel.outline_file": OTHER_OUTLINE,
    "panel.outline_file_unit": NO_UNIT,
    "bend.chain": OTHERWISE,
    "bend.ordinates": OTHERWISE,
    "bend.every": OTHERWISE,
    "bend.stations": OTHERWISE,
    "bend.file": OTHERWISE,
    "bend.file_unit": NO_UNIT,
    "taper.chain": FAR_OTHERWISE,
    "taper.ordinates": FAR_OTHERWISE,
    "taper.every": FAR_OTHERWISE,
    "taper.stations": FAR_OTHERWISE,
    "vacuum.fall": Default("", "no leak test is entered", "derived"),
    "bag.roll": Default("", "the usual widths of this film", "common practice"),
    "stock.board_length": Default("", "the usual sheets of each board", "common practice"),
    "stock.board_width": Default("", "the usual sheets of each board", "common practice"),
    "stock.release_roll": Default("", "the usual rolls of the release", "common practice"),
    "stock.paper_roll": Default("", "the usual rolls of the paper", "common practice"),
    "stock.breather_roll": Default("", "the usual rolls of the breather", "common practice"),
}
"""Why a key without a starting value is left open, where it is not the plan that works it out."""
FROM_LENGTH = Default(
    "", "2 mm in a metre, and half a millimetre at least, is hardly seen", "common practice"
)
MOST_POINTS = 200
"""Points that a curve may have: a template is not measured closer."""
MOST_PIECES = 100
"""Pieces that a chain may have: far more than any form is built of."""
STRAIGHT: tuple[Mm, Mm] = (0.1, 20_000.0)
"""Shortest and longest piece of a chain, along the curve."""
FLAT_PER_LENGTH = 0.002
FLAT_AT_LEAST: Mm = 0.5
PAPER_OF: Mapping[BareUnit, str] = {"mm": "ISO", "in": "North American"}
FROM_UNIT = Default("", "the paper that is sold where such rulers are", "common practice")
FROM_BEND = Default("", "follows from the other sizes of the bend", "derived")
FROM_OUTLINE = Default("", "follows from the outline", "derived")
FROM_EDGE = Default("", "what the keys of the panel tell", "derived")
FROM_KEYS = Default("", "what the keys of the bend tell", "derived")
FROM_MIDDLE = Default("", "along the curve half way between both ends of the taper", "derived")
FROM_FAR_END = Default("", "follows from the other sizes of the far end", "derived")
FROM_FAR_KEYS = Default("", "what the keys of the taper and of the bend tell", "derived")
NO_SIZE = Default("", "the curve has no single one", "derived")


def settle(
    asked: Asked,
    title: str = "",
    unit: BareUnit = "mm",
    overrides: Iterable[Override] = (),
    drawn: Profile | None = None,
    drawn_edge: Pathed | None = None,
) -> Layup:
    """Make the layup that was asked for.

    Parameters
    ----------
    asked
        Section, key, and a number in internal units or a text.
    title
        Name of the job.
    unit
        What a bare number in the file means.
    overrides
        Values of materials that replace those of the tables: (material, property, number).
    drawn
        The curve of the drawing that ``bend.file`` names, crowns positive.
    drawn_edge
        The outline of the drawing that ``panel.outline_file`` names.

    Raises
    ------
    LayupError
        Something asked for makes no layup.
    """
    refuse_unknown(asked)
    own = tuple(overrides)
    kind: Kind = "bent" if "bend" in asked else "flat"
    _refuse_strangers(asked, kind)
    values: dict[str, dict[str, Any]] = {section: {} for section in SECTIONS}
    settled: list[Settled] = []
    given = {f"{section}.{key}": value for section, keys in asked.items() for key, value in keys.items()}
    for key, value in given.items():
        _check(key, value)
    refuse_doubly_curved(given)
    in_plan = kind == "bent" and given.get("panel.outline_on") == IN_PLAN
    if in_plan and "taper" in asked:
        raise LayupError(
            "panel.outline_on",
            f'"{IN_PLAN}" on a taper',
            f'"{ON_SHEET}"',
            "Trim the taper along its unrolled sheet.",
        )
    # the length of an outline in plan says nothing of the curve
    of_bend = {key: value for key, value in given.items() if not (in_plan and key == "panel.length")}
    curve = bend_curve(of_bend, drawn) if kind == "bent" else None
    taper = None if curve is None or "taper" not in asked else taper_curve(given, curve)
    starting = default_values(kind)
    room = None if curve is None else _room(curve, taper, in_plan)
    edge = panel_edge(
        given, lambda key: given[key] if key in given else starting[key].value, room, drawn_edge
    )
    if taper is not None and edge.name != "rectangle":
        raise LayupError(
            "panel.outline",
            f'"{edge.name}" on a taper',
            "rectangle",
            "Press a rectangle and trim it afterwards.",
        )
    derived = _derived(given, kind, own, curve, taper, edge)
    derived["drawing.paper"] = Default(PAPER_OF[unit], FROM_UNIT.reason, FROM_UNIT.basis)
    for section, section_type in SECTIONS.items():
        if (section == "bend" and curve is None) or (section == "taper" and taper is None):
            continue
        for name in settings_of(section_type):
            key = f"{section}.{name}"
            value, origin = _pick(key, given, derived, starting)
            values[section][name] = value
            settled.append(Settled(key, value, key in given, origin.reason, origin.basis))
    _refuse_combinations(given, values, kind)
    sections = {name: section_type(**values[name]) for name, section_type in SECTIONS.items() if values[name]}
    return Layup(
        title=title,
        unit=unit,
        settled=tuple(settled),
        overrides=own,
        curve=None if curve is None else curve.profile,
        far=None if taper is None else taper.far.profile,
        edge=edge.outline,
        **{"bend": None, "taper": None} | sections,
    )


def _room(curve: BendCurve, taper: TaperCurve | None, in_plan: bool) -> Room:
    """Length that a bend leaves for an outline."""
    if in_plan:
        return Room(length=curve.chord, in_plan=True)
    return Room(length=curve.profile.length if taper is None else taper.length, in_plan=False)


def refuse_unknown(asked: Mapping[str, Mapping[str, object]]) -> None:
    """Refuse sections and keys that a layup does not have, with the nearest spelling."""
    for section, keys in asked.items():
        if section not in SECTIONS:
            raise LayupError(
                section, f"the table [{section}]", _listed(SECTIONS), _nearest(section, SECTIONS)
            )
        allowed = settings_of(SECTIONS[section])
        for key in keys:
            if key not in allowed:
                raise LayupError(
                    f"{section}.{key}", f"the key {key}", _listed(allowed), _nearest(key, allowed)
                )


def _refuse_strangers(asked: Asked, kind: Kind) -> None:
    """Refuse sections that belong to another kind of panel."""
    if kind == "flat" and "taper" in asked:
        raise LayupError(
            "taper",
            "the table [taper] without [bend]",
            "[bend], the near end, beside [taper], the far end",
            "Give the curve of the near end in [bend].",
        )
    if "taper" in asked and "length" in asked.get("panel", {}):
        raise LayupError(
            "panel.length",
            f"{asked['panel']['length']:g} mm beside a taper",
            "no length, which follows from [bend] and [taper]",
            "Leave length out of the panel.",
        )
    stranger, instead = ("form", "platen") if kind == "flat" else ("platen", "form")
    if asked.get(stranger):
        raise LayupError(
            stranger,
            f"the table [{stranger}] in the layup of a {kind} panel",
            f"[{instead}]",
            "A flat panel lies on a platen; add [bend] if it is bent."
            if kind == "flat"
            else "A bent panel lies on a form.",
        )


def _check(key: str, value: object) -> None:
    """Hold one given value against the limits and choices of its key."""
    section, name = key.split(".")
    setting = settings_of(SECTIONS[section])[name]
    if setting.quantity == "choice":
        if value not in (*setting.choices, *setting.refused):
            raise LayupError(
                key, f'"{value}"', _listed(setting.choices), _nearest(str(value), setting.choices)
            )
    elif setting.quantity == "chain":
        _check_chain(key, value)
    elif setting.quantity == "lengths":
        _check_lengths(key, value, setting)
    elif setting.quantity == "points":
        _check_points(key, value, setting)
    elif setting.quantity == "text":
        _check_line(key, value, setting)
    else:
        _check_number(key, value, setting)


def _check_line(key: str, value: object, setting: Setting) -> None:
    """Hold a free text against what one line may be; names of materials are looked up later."""
    if not setting.longest:
        return
    if not isinstance(value, str) or not value.isprintable() or len(value) > setting.longest:
        raise LayupError(key, f"{value!r}", f"one line of up to {setting.longest} characters", setting.help)


def _check_lengths(key: str, value: object, setting: Setting) -> None:
    """Hold a row of lengths against its limits and the number of points that a curve may have."""
    if not isinstance(value, tuple) or not 1 <= len(value) <= MOST_POINTS:
        found = f"{len(value)} lengths" if isinstance(value, tuple) else f"{value!r}"
        raise LayupError(key, found, f"1 to {MOST_POINTS} lengths")
    for number in value:
        _check_number(key, number, setting)


def _check_points(key: str, value: object, setting: Setting) -> None:
    """Hold a row of points against the limits of both of their lengths."""
    if not isinstance(value, tuple) or not 1 <= len(value) <= MOST_POINTS:
        found = f"{len(value)} points" if isinstance(value, tuple) else f"{value!r}"
        raise LayupError(key, found, f"1 to {MOST_POINTS} points")
    for number, point in enumerate(value, 1):
        if not isinstance(point, tuple) or len(point) != 2:
            raise LayupError(key, f"{point!r} as point {number}", "two lengths, along and across")
        for place in point:
            _check_number(key, place, setting)


def _check_chain(key: str, value: object) -> None:
    """Hold the pieces of a chain against what a piece may be."""
    allowed = f"1 to {MOST_PIECES} pieces"
    if not isinstance(value, tuple) or not all(isinstance(piece, Run) for piece in value):
        raise LayupError(key, f"{value!r}", allowed)
    if not 1 <= len(value) <= MOST_PIECES:
        raise LayupError(key, f"{len(value)} pieces", allowed)
    bend = settings_of(SECTIONS["bend"])
    for number, piece in enumerate(value, 1):
        if not STRAIGHT[0] <= piece.length <= STRAIGHT[1]:
            _refuse_piece(key, number, f"{piece.length:g} mm long", f"{STRAIGHT[0]:g} to {STRAIGHT[1]:g} mm")
        if piece.curvature:
            for name, size in (("radius", 1.0 / abs(piece.curvature)), ("angle", abs(piece.turn))):
                low, high, unit = bend[name].low, bend[name].high, _UNITS[bend[name].quantity]
                # a radius is the inverse of what is kept: its last digit may be off
                if not low * (1.0 - 1e-12) <= size <= high * (1.0 + 1e-12):
                    _refuse_piece(
                        key, number, f"with the {name} {size:g}{unit}", f"{low:g} to {high:g}{unit}"
                    )


def _refuse_piece(key: str, number: int, found: str, allowed: str) -> NoReturn:
    raise LayupError(key, f"piece {number} {found}", allowed)


def _check_number(key: str, value: object, setting: Setting) -> None:
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value):
        raise LayupError(key, f"{value!r}", f"a number from {setting.low:g} to {setting.high:g}")
    if setting.quantity == "count" and value != int(value):
        raise LayupError(key, f"{value:g}", f"a whole number from {setting.low:g} to {setting.high:g}")
    if not setting.low <= value <= setting.high:
        unit = _UNITS.get(setting.quantity, "")
        raise LayupError(key, f"{value:g}{unit}", f"{setting.low:g} to {setting.high:g}{unit}", setting.help)


_UNITS = {
    "length": " mm",
    "lengths": " mm",
    "points": " mm",
    "altitude": " mm",
    "angle": " rad",
    "pressure": " MPa",
    "temperature": " °C",
    "spread": " g/mm²",
    "share": " %",
    "flow": " mm³/s",
    "volume": " mm³",
    "time": " s",
}


def _pick(
    key: str, given: Mapping[str, Any], derived: Mapping[str, Default], starting: Mapping[str, Default]
) -> tuple[Any, Default]:
    """Value of one key and where it comes from: the file, the rest of the layup, or the starting values."""
    section, name = key.split(".")
    setting = settings_of(SECTIONS[section])[name]
    if key in given:
        origin = Default("", "given in the file", "given")
        value = given[key]
    else:
        origin = derived.get(key) or starting.get(key) or OPEN.get(key, LEFT_OPEN)
        # a starting value is never an empty text: that stands for a key that is left open
        value = None if origin.value == "" else origin.value
    if value is not None and setting.table:
        value = _material(key, str(value), setting.table)
    if value is not None and setting.quantity == "count":
        value = int(value)
    return value, origin


def _material(key: str, name: str, table: str) -> str:
    """Key of a material by the name that a woodworker writes, or "none" where the layer may be left out."""
    if name.strip().lower() == NO_MATERIAL and key.split(".")[0] in OPTIONAL_MATERIALS:
        return NO_MATERIAL
    try:
        return find_key(table, name)
    except LayupError as error:
        raise LayupError(key, error.found, error.allowed, error.hint) from None


def _derived(
    given: Mapping[str, Any],
    kind: Kind,
    own: tuple[Override, ...],
    curve: BendCurve | None,
    taper: TaperCurve | None,
    edge: PanelEdge,
) -> dict[str, Default]:
    """Starting values that follow from other keys of the same layup."""
    starting = default_values(kind)

    def stands(key: str) -> Any:
        return given[key] if key in given else starting[key].value

    found: dict[str, Default] = {}
    for name in ("material", "thickness", "grain"):
        found[f"back.{name}"] = Default(stands(f"face.{name}"), BALANCED.reason, BALANCED.basis)
    across = "along width" if stands("face.grain") == "along length" else "along length"
    found["crossband.grain"] = Default(across, CROSSED.reason, CROSSED.basis)
    glue = find_adhesive(_material("adhesive.material", str(stands("adhesive.material")), "adhesive"))
    found["adhesive.spread"] = _from_material(glue.key, "spread", glue.spread, own)
    film = find_film(_material("bag.material", str(stands("bag.material")), "film"))
    found["bag.thickness"] = _from_material(film.key, "thickness", film.thickness, own)
    found["bag.seam"] = _from_material(film.key, "least_seam", film.least_seam, own)
    found["bag.closure"] = _closure(str(stands("bag.closed_by")))
    if edge.name != starting["panel.outline"].value:
        found["panel.outline"] = Default(edge.name, FROM_EDGE.reason, FROM_EDGE.basis)
    found["panel.width"] = Default(edge.width, FROM_OUTLINE.reason, FROM_OUTLINE.basis)
    if kind == "flat":
        found["panel.length"] = Default(edge.length, FROM_OUTLINE.reason, FROM_OUTLINE.basis)
    else:
        lay = "convex" if stands("bend.show_face") == "outside" else "concave"
        found["press.lay"] = Default(lay, FROM_SHOW_FACE.reason, FROM_SHOW_FACE.basis)
        assert curve is not None
        found["panel.length"] = Default(
            edge.length if stands("panel.outline_on") == IN_PLAN else curve.profile.length,
            FROM_BEND.reason,
            FROM_BEND.basis,
        )
        found["bend.shape"] = Default(curve.shape, FROM_KEYS.reason, FROM_KEYS.basis)
        for name, size in curve.sizes.items():
            found[f"bend.{name}"] = (
                NO_SIZE if size is None else Default(size, FROM_BEND.reason, FROM_BEND.basis)
            )
    if taper is not None:
        found |= _of_taper(taper)
    within = max(round(FLAT_PER_LENGTH * max(edge.length, edge.width), 1), FLAT_AT_LEAST)
    found["panel.flat_within"] = Default(within, FROM_LENGTH.reason, FROM_LENGTH.basis)
    return found


def _of_taper(taper: TaperCurve) -> dict[str, Default]:
    """Sizes of the far end that were left open, and the length of the panel."""
    far = taper.far
    found = {
        "panel.length": Default(taper.length, FROM_MIDDLE.reason, FROM_MIDDLE.basis),
        "taper.shape": Default(far.shape, FROM_FAR_KEYS.reason, FROM_FAR_KEYS.basis),
        "taper.lift": Default(taper.lift, taper.why_lift, "derived"),
    }
    for name, size in far.sizes.items():
        found[f"taper.{name}"] = (
            NO_SIZE if size is None else Default(size, FROM_FAR_END.reason, FROM_FAR_END.basis)
        )
    return found


def _closure(closed_by: str) -> Default:
    """Film that a closure takes, by the usual numbers of the bench."""
    if closed_by not in CLOSURES:
        # refused where its own key is checked
        return LEFT_OPEN
    turns, wrap, grip = (usual(f"{closed_by}.{part}") for part in ("turns", "wrap", "grip"))
    return Default(
        closure_length(n=int(turns), f=wrap, g=grip),
        f"what the closure by {closed_by} takes, and film to hold on to",
        "common practice",
    )


def _from_material(material: str, name: str, number: float, own: tuple[Override, ...]) -> Default:
    """Value of a material that a key starts from: the file's own where it replaces that of the table."""
    for key, replaced, value in own:
        if (key, replaced) == (material, name):
            return Default(value, FROM_OWN_MATERIAL.reason, FROM_OWN_MATERIAL.basis)
    return Default(number, FROM_MATERIAL.reason, FROM_MATERIAL.basis)


def _refuse_combinations(
    given: Mapping[str, Any], values: Mapping[str, Mapping[str, Any]], kind: Kind
) -> None:
    """Refuse keys that are each allowed but make no sense together."""
    refuse_pressing(values, kind)
    refuse_stock(given, values)
    refuse_lipping(values, kind)
    lay, lays = values["press"]["lay"], FLAT_LAYS if kind == "flat" else BENT_LAYS
    if lay not in lays:
        raise LayupError("press.lay", f'"{lay}" for a {kind} panel', _listed(lays))
    driest, dampest = values["panel"]["driest"], values["panel"]["dampest"]
    if driest > dampest:
        raise LayupError(
            "panel.driest",
            f"{driest:g} %",
            f"up to {dampest:g} %, the dampest air that the panel will live in",
        )
    for pair in (("bag.width", "bag.length"), ("valve.from_closed_end", "valve.from_left_seam")):
        there = [key for key in pair if key in given]
        if len(there) == 1:
            missing = pair[1] if there[0] == pair[0] else pair[0]
            raise LayupError(
                missing, "nothing", f"a length, since {there[0]} is given", "A bag that is owned has both."
            )
    if "valve.from_closed_end" in given and "bag.width" not in given:
        raise LayupError(
            "bag.width",
            "nothing",
            "the inside width of the bag whose valve is given",
            "Give [bag] width and length.",
        )


def _listed(words: Iterable[str]) -> str:
    return ", ".join(words)


def _nearest(word: str, allowed: Iterable[str]) -> str:
    # difflib is slow to import and only a mistake needs it
    from difflib import get_close_matches

    close = get_close_matches(word, list(allowed), n=1)
    return f'Did you mean "{close[0]}"?' if close else ""
