"""The JSON Schema of the layup file, made of the same records that the reader goes by."""

import math
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any

from ...model.data.tables import names
from ...model.layup.defaults import Default, default_values
from ...model.layup.phrase import phrase
from ...model.layup.sections import SECTIONS
from ...model.layup.setting import Quantity, Setting, settings_of
from ...model.materials import SHELVES
from ...model.wording import decimal
from .. import dimension as dim
from ..phrase import limits
from .chain import EXAMPLE as CHAIN
from .layup_file import BARE_UNITS, LONGEST_TITLE
from .pattern import pattern_of

Schema = dict[str, Any]

CHAIN_PATTERN = r"^\s*((straight\s+[^,]+|(crown|hollow)\s+[^,]+\s+through\s+[^,]+),\s*)*(straight\s+[^,]+|(crown|hollow)\s+[^,]+\s+through\s+[^,]+),?\s*$"
"""The words of a chain; what stands between them is left to the reader."""
ONE_LINE = r"^[^\x00-\x1f\x7f-\xa0]*$"
"""No control signs; the reader refuses more that cannot be printed."""
DIALECT = "https://json-schema.org/draft/2020-12/schema"


def schema() -> Schema:
    """Give the schema of a layup file."""
    return {
        "$schema": DIALECT,
        "title": "underbag layup file",
        "description": "A veneer layup for the vacuum bag. Everything but the panel's size has a default.",
        "type": "object",
        "required": ["panel"],
        "additionalProperties": False,
        "properties": {
            "title": {
                "type": "string",
                "maxLength": LONGEST_TITLE,
                "description": "Name of the job, in one line.",
            },
            "unit": {
                "enum": list(BARE_UNITS),
                "default": "mm",
                "description": "What a length without a unit means.",
            },
            **{name: _section(name, section) for name, section in SECTIONS.items()},
            "values": {
                "type": "object",
                "description": "Values of materials that replace those of the tables, by material and property.",
                "additionalProperties": {
                    "type": "object",
                    "additionalProperties": {"type": ["number", "string"]},
                },
            },
        },
        # a bend has its own length; a flat panel needs one, unless its outline has both sizes
        "if": {"required": ["bend"]},
        "then": {"properties": {"panel": {"required": ["width"]}}},
        "else": {"properties": {"panel": {"anyOf": _SIZED}}},
        "dependentRequired": {"taper": ["bend"]},
        "$defs": dict(_QUANTITIES),
    }


def _section(name: str, section: type) -> Schema:
    settings = settings_of(section)
    return {
        "type": "object",
        "description": (section.__doc__ or "").partition("\n")[0],
        "additionalProperties": False,
        "properties": {key: _key(f"{name}.{key}", setting) for key, setting in settings.items()},
    }


def _key(key: str, setting: Setting) -> Schema:
    kind = _KINDS.get(setting.quantity, _quantity)(setting)
    within = f" From {limits(setting)}." if setting.low != setting.high else ""
    return kind | {"description": f"{setting.help}{within}{_default(key, setting)}"}


def _default(key: str, setting: Setting) -> str:
    """Say what holds where the file says nothing."""
    flat, bent = (_said(default_values(kind).get(key), setting) for kind in ("flat", "bent"))
    if flat == bent:
        return f" Default: {flat}." if flat else ""
    told = [f"{words} for a {kind} panel" for kind, words in (("flat", flat), ("bent", bent)) if words]
    return f" Default: {', '.join(told)}."


def _said(default: Default | None, setting: Setting) -> str:
    return "" if default is None else phrase(setting.quantity, default.value)


def _text(setting: Setting) -> Schema:
    if setting.longest:
        return {"type": "string", "maxLength": setting.longest, "pattern": ONE_LINE}
    tables = SHELVES.get(setting.table, ())
    listed = [item.name for item in names() if item.table in tables]
    return {"type": "string", "examples": listed} if listed else {"type": "string"}


def _choice(setting: Setting) -> Schema:
    return {"enum": list(setting.choices)}


def _count(setting: Setting) -> Schema:
    return {"type": "integer", "minimum": int(setting.low), "maximum": int(setting.high)}


def _chain(setting: Setting) -> Schema:
    return {"type": "string", "examples": [CHAIN], "pattern": CHAIN_PATTERN}


def _lengths(setting: Setting) -> Schema:
    return {"anyOf": [{"type": "string"}, {"type": "array", "items": {"$ref": "#/$defs/position"}}]}


def _number(setting: Setting) -> Schema:
    return {"type": "number", "minimum": setting.low, "maximum": setting.high}


def _points(setting: Setting) -> Schema:
    pair = {"type": "array", "items": {"$ref": "#/$defs/position"}, "minItems": 2, "maxItems": 2}
    return {
        "anyOf": [
            {"type": "string"},
            {"type": "array", "items": {"anyOf": [{"type": "string"}, pair]}},
        ]
    }


def _flag(setting: Setting) -> Schema:
    return {"type": "boolean"}


def _quantity(setting: Setting) -> Schema:
    """Refer to a quantity; a length that may lie on either side of zero is a position."""
    is_signed = setting.quantity == "length" and setting.low < 0.0
    return {"$ref": f"#/$defs/{'position' if is_signed else setting.quantity}"}


def _angle(setting: Setting) -> Schema:
    low, high = (float(decimal(math.degrees(bound), 6)) for bound in (setting.low, setting.high))
    return {"anyOf": [{"type": "number", "minimum": low, "maximum": high}, _written("angle")]}


def _share(setting: Setting) -> Schema:
    return {"anyOf": [{"type": "number", "minimum": setting.low, "maximum": setting.high}, _written("share")]}


def _written(quantity: str) -> Schema:
    return {"$ref": f"#/$defs/{quantity}"}


_KINDS: Mapping[Quantity, Callable[[Setting], Schema]] = MappingProxyType(
    {
        "text": _text,
        "choice": _choice,
        "count": _count,
        "flag": _flag,
        "chain": _chain,
        "lengths": _lengths,
        "points": _points,
        "number": _number,
        "angle": _angle,
        "share": _share,
    }
)
"""Quantities whose limits can be told to an editor; lengths have none, since their unit is another key."""

_SIZED: list[Schema] = [
    {"required": list(keys)}
    for keys in (
        ("length", "width"),
        ("sides", "width"),
        ("sides", "length"),
        ("corners",),
        ("outline_file",),
    )
]
"""Keys that give the size of a flat panel."""

_QUANTITIES: Mapping[str, Schema] = MappingProxyType(
    {
        "length": {
            "anyOf": [
                {"type": "number", "minimum": 0},
                {"type": "string", "pattern": pattern_of(dim.LENGTH, "mm")},
            ]
        },
        "position": {
            "anyOf": [{"type": "number"}, {"type": "string", "pattern": pattern_of(dim.POSITION, "mm")}]
        },
        "angle": {"type": "string", "pattern": pattern_of(dim.ANGLE, "°")},
        "share": {"type": "string", "pattern": pattern_of(dim.PERCENT, "%")},
        "altitude": {"type": "string", "pattern": pattern_of(dim.ALTITUDE, "")},
        "pressure": {"type": "string", "pattern": pattern_of(dim.PRESSURE, "")},
        "temperature": {"type": "string", "pattern": pattern_of(dim.TEMPERATURE, "")},
        "spread": {"type": "string", "pattern": pattern_of(dim.SPREAD, "")},
        "flow": {"type": "string", "pattern": pattern_of(dim.FLOW, "")},
        "volume": {"type": "string", "pattern": pattern_of(dim.VOLUME, "")},
        "time": {"type": "string", "pattern": pattern_of(dim.TIME, "")},
    }
)
