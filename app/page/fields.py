"""The numbers of a layup as fields of the page: what each may be, and what it is now."""

from typing import Any

from ...model.data.tables import names
from ...model.layup.layup import Settled
from ...model.layup.phrase import phrase
from ...model.layup.sections import NO_MATERIAL, SECTIONS
from ...model.layup.setting import Setting, settings_of
from ...model.layup.settle import OPTIONAL_MATERIALS
from ...model.materials import SHELVES
from ..phrase import limits
from ..read.layup_file import BARE_UNITS, LONGEST_TITLE
from ..read.syntax import parse
from .desk import Desk

Plain = dict[str, Any]
"""What becomes JSON."""

TITLES = {
    "job": "Job",
    "panel": "Panel",
    "bend": "Bend",
    "taper": "Taper, far end",
    "substrate": "Core",
    "lipping": "Lipping",
    "face": "Face veneer",
    "back": "Back veneer",
    "crossband": "Crossbands",
    "adhesive": "Glue",
    "release": "Release",
    "absorbent": "Paper",
    "caul": "Caul, above",
    "breather": "Breather",
    "platen": "Platen, below",
    "form": "Form",
    "press": "In the press",
    "vacuum": "Vacuum",
    "pump": "Pump",
    "bag": "Bag",
    "valve": "Valve",
    "stock": "Stock",
    "drawing": "Drawings",
}
SHORT = {"panel.flat_within": "flat within", "form.springback": "springback seen"}
"""Labels that are not just the key with spaces."""


def form() -> list[Plain]:
    """Every section with its fields: what stays the same whatever is typed."""
    job = {
        "name": "job",
        "title": TITLES["job"],
        "about": "What it is called, and what a bare number means.",
        "fields": [
            _field("title", "title", f"Name of the job, in one line of up to {LONGEST_TITLE} characters."),
            {**_field("unit", "bare unit", "What a length without a unit means."), "choices": BARE_UNITS},
        ],
    }
    return [job, *(_section(name, section) for name, section in SECTIONS.items())]


def _section(name: str, section: type) -> Plain:
    return {
        "name": name,
        "title": TITLES.get(name, name),
        "about": (section.__doc__ or "").partition("\n")[0],
        "fields": [_described(name, word, one) for word, one in settings_of(section).items()],
    }


def _described(section: str, word: str, setting: Setting) -> Plain:
    key = f"{section}.{word}"
    found = _field(key, SHORT.get(key, word.replace("_", " ")), setting.help)
    if setting.low != setting.high:
        found["limits"] = limits(setting)
    if setting.longest:
        found["help"] = f"{setting.help} Up to {setting.longest} characters."
    if setting.choices:
        found["choices"] = setting.choices
    if setting.quantity in ("chain", "lengths", "points"):
        found["long"] = True
    if setting.table:
        found["list"] = setting.table
    if setting.table and section in OPTIONAL_MATERIALS:
        found["none"] = NO_MATERIAL
    return found


def _field(key: str, label: str, about: str) -> Plain:
    return {"key": key, "label": label, "help": about}


def materials() -> dict[str, list[str]]:
    """Names of the materials that a key may hold, by the kind that it asks for."""
    return {kind: [item.name for item in names() if item.table in tables] for kind, tables in SHELVES.items()}


def values(desk: Desk) -> dict[str, Plain]:
    """What every field is now: as written, in words, by default or not, and what is wrong with it."""
    tables = parse(desk.now.version.text)
    layup = desk.now.file.layup
    found: dict[str, Plain] = {
        "title": {"typed": _typed(tables.get("title", "")), "says": layup.title},
        "unit": {"typed": layup.unit, "says": layup.unit},
    }
    for one in layup.settled:
        section, word = one.key.split(".")
        found[one.key] = _value(one, tables.get(section, {}).get(word), settings_of(SECTIONS[section])[word])
    for key, waiting in desk.pending.items():
        found[key] = {**found.get(key, {}), "typed": waiting.typed, "wrong": waiting.message}
    return found


def _value(one: Settled, written: object, setting: Setting) -> Plain:
    says = "" if one.value is None else phrase(setting.quantity, one.value)
    if one.given:
        return {"typed": _typed(written), "says": says}
    return {"typed": "", "says": says, "reason": one.reason}


def _typed(written: object) -> str:
    """As it stands in the file; a truth value does not occur, and an array is told as a row."""
    if isinstance(written, list):
        is_paired = any(isinstance(one, list) for one in written)
        return ("; " if is_paired else ", ").join(map(_typed, written))
    return written if isinstance(written, str) else str(written)


def own_values(desk: Desk) -> list[Plain]:
    """Values of materials that the file replaces."""
    tables = parse(desk.now.version.text).get("values", {})
    return [
        {"key": f"values.{name}.{word}", "material": name, "property": word, "typed": _typed(value)}
        for name, table in tables.items()
        for word, value in table.items()
    ]
