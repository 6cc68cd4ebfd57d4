"""Every key of the layup file can be set from the page, and goes into the text as it was typed."""

import math

import pytest

from underbag.app.page.desk import Desk
from underbag.app.page.fields import form, values
from underbag.app.phrase import written
from underbag.model.layup.sections import SECTIONS
from underbag.model.layup.setting import Setting, settings_of

FLAT = "[panel]\nlength = 600\nwidth = 300\n"
BENT = "[panel]\nwidth = 200\n[bend]\nchord = 500\nrise = 60\n"
POINTS = "[panel]\nwidth = 200\n[bend]\nevery = 100\nordinates = [0, 20, 30, 20, 0]\n"
CHAIN = '[panel]\nwidth = 200\n[bend]\nshape = "chain"\nchain = "crown 400 mm through 60°"\n'
KEYS = [field["key"] for section in form() for field in section["fields"]]
COMPANIONS = {
    "bag.width": {"bag.length": "1300"},
    "bag.length": {"bag.width": "700"},
    "stock.board_length": {"stock.board_width": "1220"},
    "stock.board_width": {"stock.board_length": "2440"},
    "valve.from_closed_end": {"valve.from_left_seam": "350", "bag.width": "700", "bag.length": "1300"},
    "valve.from_left_seam": {"valve.from_closed_end": "500", "bag.width": "700", "bag.length": "1300"},
    "panel.corner": {"panel.outline": "rounded rectangle"},
    "bend.shape": {"bend.chain": "crown 400 mm through 60°", "bend.chord": "", "bend.rise": ""},
    "bend.chain": {"bend.shape": "chain", "bend.chord": "", "bend.rise": ""},
    "bend.radius": {"bend.rise": ""},
    "bend.angle": {"bend.rise": ""},
    "bend.ordinates": {"bend.every": "100", "bend.chord": "", "bend.rise": ""},
    "bend.every": {"bend.ordinates": "0, 20, 30, 20, 0", "bend.chord": "", "bend.rise": ""},
    "bend.stations": {"bend.every": ""},
    "lipping.width": {"lipping.material": "oak"},
}
"""What has to be typed after a key, where it makes no sense alone."""
TEXTS = {
    "title": "Shelf of the hall",
    "unit": "in",
    "bend.chain": "crown 300 mm through 60°",
    "bend.ordinates": "0, 20, 1 1/4 in, 20, 0",
    "bend.stations": "0, 110, 200, 300, 400",
    "drawing.revision": "B",
}


def setting_of(key: str) -> Setting | None:
    section, _, name = key.partition(".")
    return settings_of(SECTIONS[section])[name] if name else None


def tries(key: str) -> list[str]:
    """What a person may type for a key: one of its words, a material, or numbers all through its limits."""
    setting = setting_of(key)
    if key in TEXTS or setting is None:
        return [TEXTS[key]]
    if setting.choices:
        return list(setting.choices)
    if setting.quantity == "text":
        return ["none", "oak", "mdf", "birch plywood", "pva", "pvc"] if setting.table else ["Hall"]
    low, high = setting.low, setting.high
    inner = [low + share * (high - low) for share in (0.001, 0.01, 0.1, 0.3, 0.6)]
    if setting.quantity == "count":
        inner = [float(math.ceil(number)) for number in inner]
    return [written(setting.quantity, number).strip('"') for number in (low, *inner, high)]


@pytest.mark.parametrize("key", KEYS)
def test_every_key_can_be_set(key: str) -> None:
    told = []
    for start in (FLAT, BENT, CHAIN, POINTS):
        for typed in tries(key):
            desk = Desk(start, None)
            desk.change({key: typed})
            if desk.pending and key in COMPANIONS:
                desk.change(COMPANIONS[key])
            if not desk.pending and desk.now.version.text != start:
                assert values(desk)[key]["typed"] == typed
                return
            told += [waiting.message for waiting in desk.pending.values()]
    pytest.fail(f"nothing can be set: {told}")
