"""Every key of the layup file can be set from the page, and goes into the text as it was typed."""

import math
from pathlib import Path
from time import sleep

import pytest

from underbag.app.page.desk import Desk
from underbag.app.page.fields import form, values
from underbag.app.page.papers import Papers
from underbag.app.phrase import written
from underbag.model.layup.sections import SECTIONS
from underbag.model.layup.setting import Setting, settings_of

FLAT = "[panel]\nlength = 600\nwidth = 300\n"
BENT = "[panel]\nwidth = 200\n[bend]\nchord = 500\nrise = 60\n"
POINTS = "[panel]\nwidth = 200\n[bend]\nevery = 100\nordinates = [0, 20, 30, 20, 0]\n"
TAPER = BENT + "[taper]\nchord = 300\n"
CHAIN = '[panel]\nwidth = 200\n[bend]\nshape = "chain"\nchain = "crown 400 mm through 60°"\n'
# [bend] and [taper] keep to each other: two curves that turn alike
CHAIN_TAPER, POINTS_TAPER = (f"{text}[taper]\nchord = 200\n" for text in (CHAIN, POINTS))
DRAWING = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 500 100"><path d="M 0 60 A 550 550 0 0 1 500 60"/></svg>'
CLOSED = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 500 300"><ellipse cx="250" cy="150" rx="240" ry="140"/></svg>'
KEYS = [field["key"] for section in form() for field in section["fields"]]
COMPANIONS = {
    "bag.width": {"bag.length": "1300"},
    "bag.length": {"bag.width": "700"},
    "stock.board_length": {"stock.board_width": "1220"},
    "stock.board_width": {"stock.board_length": "2440"},
    "valve.from_closed_end": {"valve.from_left_seam": "350", "bag.width": "700", "bag.length": "1300"},
    "valve.from_left_seam": {"valve.from_closed_end": "500", "bag.width": "700", "bag.length": "1300"},
    "panel.corner": {"panel.outline": "rounded rectangle"},
    "panel.sides": {"panel.length": ""},
    "panel.corners": {"panel.length": "", "panel.width": ""},
    "panel.fillet": {"panel.sides": "6", "panel.length": ""},
    "panel.outline_file": {"panel.outline_file_unit": "mm", "panel.length": "", "panel.width": ""},
    "panel.outline_file_unit": {"panel.outline_file": "top.svg", "panel.length": "", "panel.width": ""},
    "bend.shape": {"bend.chain": "crown 400 mm through 60°", "bend.chord": "", "bend.rise": ""},
    "bend.chain": {"bend.shape": "chain", "bend.chord": "", "bend.rise": ""},
    "bend.radius": {"bend.rise": ""},
    "bend.angle": {"bend.rise": ""},
    "bend.ordinates": {"bend.every": "100", "bend.chord": "", "bend.rise": ""},
    "bend.every": {"bend.ordinates": "0, 20, 30, 20, 0", "bend.chord": "", "bend.rise": ""},
    "bend.stations": {"bend.every": ""},
    "bend.file": {"bend.file_unit": "mm", "bend.chord": "", "bend.rise": ""},
    "bend.file_unit": {"bend.file": "curve.svg", "bend.chord": "", "bend.rise": ""},
    "taper.rise": {"taper.chord": ""},
    "taper.radius": {"taper.chord": ""},
    "taper.chain": {"taper.chord": ""},
    "taper.ordinates": {"taper.every": "50", "taper.chord": ""},
    "taper.every": {"taper.ordinates": "0, 10, 15, 10, 0", "taper.chord": ""},
    "taper.stations": {"taper.ordinates": "0, 10, 15, 10, 0", "taper.chord": ""},
    "lipping.width": {"lipping.material": "oak"},
}
"""What has to be typed after a key, where it makes no sense alone."""
TEXTS = {
    "title": "Shelf of the hall",
    "unit": "in",
    "bend.chain": "crown 300 mm through 60°",
    "bend.ordinates": "0, 20, 1 1/4 in, 20, 0",
    "bend.stations": "0, 110, 200, 300, 400",
    "bend.file": "curve.svg",
    "taper.chain": "crown 200 mm through 60°",
    "taper.ordinates": "0, 10, 15, 10, 0",
    "taper.every": "50",
    "taper.stations": "0, 50, 100, 150, 200",
    "panel.corners": "0, 0; 600, 0; 1/2 in, 300",
    "panel.outline_file": "top.svg",
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
def test_every_key_can_be_set(key: str, tmp_path: Path) -> None:
    (tmp_path / "curve.svg").write_text(DRAWING, encoding="utf-8")
    (tmp_path / "top.svg").write_text(CLOSED, encoding="utf-8")
    home = tmp_path / "work.toml"
    told = []
    for start in (FLAT, BENT, CHAIN, POINTS, TAPER, CHAIN_TAPER, POINTS_TAPER):
        for typed in tries(key):
            home.write_text(start, encoding="utf-8")
            desk = Desk(start, home)
            desk.change({key: typed})
            if desk.pending and key in COMPANIONS:
                desk.change(COMPANIONS[key])
            if not desk.pending and desk.now.version.text != start:
                assert values(desk)[key]["typed"] == typed
                return
            told += [waiting.message for waiting in desk.pending.values()]
    pytest.fail(f"nothing can be set: {told}")


@pytest.mark.parametrize(
    "name", ["../curve.svg", "/etc/hostname.svg", "..\\curve.svg", "~/curve.svg", "C:curve.svg"]
)
def test_no_drawing_is_taken_from_outside_the_folder_of_the_layup(name: str, tmp_path: Path) -> None:
    (tmp_path / "curve.svg").write_text(DRAWING, encoding="utf-8")
    home = tmp_path / "shop" / "work.toml"
    home.parent.mkdir()
    home.write_text(BENT, encoding="utf-8")
    desk = Desk(BENT, home)
    desk.change({"bend.file": name, "bend.file_unit": "mm", "bend.chord": "", "bend.rise": ""})
    assert "in the folder of the layup file, or below it" in desk.pending["bend.file"].message
    assert desk.now.version.text == BENT


def test_papers_of_a_drawn_bend_have_its_drawing_beside_them(tmp_path: Path) -> None:
    (tmp_path / "curves").mkdir()
    (tmp_path / "curves" / "front.svg").write_text(DRAWING, encoding="utf-8")
    home = tmp_path / "work.toml"
    text = '[panel]\nwidth = 200\n[bend]\nfile = "curves/front.svg"\nfile_unit = "mm"\n'
    home.write_text(text, encoding="utf-8")
    papers = Papers()
    desk = Desk(text, home)
    papers.start(text, ("plan",), desk.beside())
    for _ in range(300):
        if papers.told()["stand"] != "working":
            break
        sleep(0.05)
    told = papers.told()
    papers.close()
    assert (told["stand"], told["cause"]) == ("done", "")
