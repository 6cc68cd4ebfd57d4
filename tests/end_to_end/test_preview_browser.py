"""The preview in headless Chromium: offline, with scripts and without, with WebGL and without."""

import io
import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from underbag.export.page import preview_html

PHONE, TABLET, DESK = (390, 844), (1180, 820), (1000, 700)


@dataclass
class Sight:
    """A page that is open, and what it asked for and complained about."""

    page: Any
    asked: list[str] = field(default_factory=list)
    said: list[str] = field(default_factory=list)

    def drawn(self) -> int:
        return int(self.page.locator("html").get_attribute("data-ready") or 0)

    def after(self, act: Any) -> None:
        """Do something and wait until the picture was drawn again."""
        before = self.drawn()
        act()
        self.page.wait_for_selector(f'html:not([data-ready="{before}"])', state="attached")

    def pixel(self) -> float:
        """How many mm a pixel of the picture shows."""
        return float(self.page.locator("html").get_attribute("data-pixel"))

    def picture(self) -> Any:
        """Colours of the picture, ``(height, width, 3)``."""
        from PIL import Image

        return np.asarray(
            Image.open(io.BytesIO(self.page.locator("canvas").screenshot())).convert("RGB")
        ).astype(int)

    def share(self, colour: tuple[int, int, int]) -> int:
        """Number of pixels that have exactly the unshaded colour, as the faces of a cut have."""
        return int((np.abs(self.picture() - colour).max(axis=2) <= 1).sum())

    def set(self, key: str, value: float) -> None:
        self.after(lambda: self.page.locator(f"#{key}").fill(f"{value:g}"))

    def press(self, label: str) -> None:
        self.after(lambda: self.page.get_by_role("button", name=label, exact=True).click())


@pytest.fixture
def look(chromium: Any, tmp_path: Path) -> Iterator[Any]:
    """Give a function that opens a preview from a file, offline; afterwards nothing may have been asked or said."""
    opened: list[tuple[Any, Sight]] = []

    def open_page(data: bytes, size: tuple[int, int] = DESK, browser: Any = None, **more: Any) -> Sight:
        file = tmp_path / f"preview {len(opened)}.html"
        file.write_bytes(data)
        context = (browser or chromium).new_context(
            viewport={"width": size[0], "height": size[1]}, offline=True, reduced_motion="reduce", **more
        )
        sight = Sight(page=context.new_page())
        sight.page.set_default_timeout(10_000)
        sight.page.on("request", lambda request: sight.asked.append(request.url))
        sight.page.on("console", lambda message: sight.said.append(message.text))
        sight.page.on("pageerror", lambda fault: sight.said.append(str(fault)))
        opened.append((context, sight))
        sight.page.goto(file.as_uri())
        return sight

    yield open_page
    for context, sight in opened:
        context.close()
        assert [url for url in sight.asked if not url.startswith(("file:", "blob:", "data:"))] == []
        assert sight.said == []


@pytest.fixture
def live(look: Any, flat: Any, words: Any) -> Sight:
    """Preview of the flat panel, drawn."""
    sight: Sight = look(preview_html(flat, words(flat)))
    sight.page.wait_for_selector("html[data-ready]", state="attached")
    return sight


@pytest.fixture
def arch(look: Any, bent: Any, words: Any) -> Sight:
    """Preview of the bent stack, drawn."""
    scene, stands = bent
    sight: Sight = look(preview_html(scene, words(scene), stands))
    sight.page.wait_for_selector("html[data-ready]", state="attached")
    return sight


def colour_of(scene: Any, key: str) -> tuple[int, int, int]:
    found: tuple[int, int, int] = next(part.colour for part in scene.parts if part.key == key)
    return found


def only(sight: Sight, *keys: str) -> None:
    """Hide every layer but some, at one stroke."""
    act = """(keys) => document.querySelectorAll('.layers input').forEach((box) => {
      box.checked = keys.includes(box.dataset.key);
      box.dispatchEvent(new Event('change'));
    })"""
    sight.after(lambda: sight.page.evaluate(act, list(keys)))
    sight.press("Fit")


def cut_along(sight: Sight) -> None:
    """Look from the front at a cut along the panel."""
    sight.press("Front")
    sight.after(lambda: sight.page.get_by_label("along the panel").check())


def fills(sight: Sight, colour: tuple[int, int, int], wanted: float, rim: float) -> bool:
    """Whether a cut face shows its area, mm²; its outline and the pixels cut by its rim (mm) have no clean colour."""
    painted = sight.share(colour) * sight.pixel() ** 2
    return wanted - 1.6 * rim * sight.pixel() <= painted <= wanted + 0.1 * rim * sight.pixel()


def test_the_picture_takes_the_drawn_views_place(live: Sight) -> None:
    assert live.page.evaluate("document.querySelector('canvas').getContext('webgl2') !== null")
    assert live.page.locator("canvas").is_visible()
    assert not live.page.locator(".views").is_visible()
    picture = live.picture()
    paper = picture[2, 2]
    assert (np.abs(picture - paper).max(axis=2) > 12).mean() > 0.15
    assert live.page.locator("#factor").inner_text() == "Every thickness true"


def test_without_scripts_the_page_reads_whole(look: Any, flat: Any, words: Any) -> None:
    sight = look(preview_html(flat, words(flat)), java_script_enabled=False)
    assert [figure.is_visible() for figure in sight.page.locator(".views svg").all()] == [True] * 3
    assert not sight.page.locator("canvas").is_visible()
    assert sight.page.locator(".layers input:visible, button:visible").count() == 0
    assert "drawn views" in sight.page.locator("#words").inner_text()
    assert sight.page.locator("#sizes tbody tr").count() == 11
    sight.page.get_by_text("3 other checks without a remark").click()
    assert sight.page.get_by_text("Reaches 29 mm past the caul.").is_visible()


def test_without_webgl_the_drawn_views_stay(launch: Any, look: Any, flat: Any, words: Any) -> None:
    sight = look(preview_html(flat, words(flat)), browser=launch("--disable-3d-apis"))
    sight.page.wait_for_selector('html[data-picture="none"]', state="attached")
    assert [figure.is_visible() for figure in sight.page.locator(".views svg").all()] == [True] * 3
    assert not sight.page.locator("canvas").is_visible()
    assert "no WebGL 2" in sight.page.locator("#words").inner_text()
    assert sight.page.locator(".layers li").count() == 13
    # the browser itself remarks that it was told to block WebGL
    sight.said = [text for text in sight.said if "WebGL" not in text]


def test_a_lost_picture_gives_way_and_comes_back(live: Sight) -> None:
    loss = "document.querySelector('canvas').getContext('webgl2').getExtension('WEBGL_lose_context')"
    before = live.picture()
    live.page.evaluate(f"window.loss = {loss}; window.loss.loseContext()")
    live.page.locator(".views").wait_for(state="visible")
    assert "graphics of this computer stopped" in live.page.locator("#words").inner_text()
    live.after(lambda: live.page.evaluate("window.loss.restoreContext()"))
    live.page.locator("canvas").wait_for(state="visible")
    live.press("Corner")
    assert np.abs(live.picture() - before).max() <= 2
    live.said = [text for text in live.said if "CONTEXT_LOST" not in text]


def test_spreading_lifts_the_layers_apart_and_names_them(live: Sight, flat: Any, words: Any) -> None:
    assert live.page.locator(".tag:visible").count() == 0
    live.press("Front")
    live.set("spread", 60)
    labels = live.page.locator(".tag:visible").all_inner_texts()
    rows = words(flat).layers
    assert sorted(" ".join(text.split()) for text in labels) == sorted(
        f"{row.number} {row.name}".strip() for row in rows
    )
    assert live.page.locator("#spread").get_attribute("aria-valuetext") == "60 mm between layers"
    # seen from the front, the substrate's top stands 18 mm and four gaps above the foot of its own place
    picture = live.picture()
    body = [round(part * (0.64 + 0.36 * (0.5 + 0.5 * 0.404))) for part in colour_of(flat, "substrate")]
    rows_of = {
        key: np.flatnonzero((np.abs(picture - tone).max(axis=2) <= 3).sum(axis=1) > 50).mean()
        for key, tone in (
            ("substrate", body),
            (
                "platen",
                [round(part * (0.64 + 0.36 * (0.5 + 0.5 * 0.404))) for part in colour_of(flat, "platen")],
            ),
        )
    }
    middles = (16.75 + 9.0 + 4 * 60.0) - 8.0
    assert (rows_of["platen"] - rows_of["substrate"]) * live.pixel() == pytest.approx(
        middles, abs=2 * live.pixel()
    )


def test_the_picture_is_fitted_to_the_spread_and_to_the_frame(live: Sight) -> None:
    for size in ((1000, 900), (1000, 640)):
        live.after(lambda size=size: live.page.set_viewport_size({"width": size[0], "height": size[1]}))
        live.set("spread", 20)
        live.set("spread", 100)
        picture = live.picture()
        paper = np.abs(picture - picture[2, 2]).max(axis=2) <= 3
        assert paper[1:3, 60:-3].all()
        assert paper[3:60, 1:3].all()
        covered = np.flatnonzero(~paper[:, : paper.shape[1] // 2].all(axis=1))
        assert np.ptp(covered) > 0.75 * len(picture)


def test_labels_do_not_touch_each_other(live: Sight) -> None:
    live.set("spread", 30)
    boxes = sorted(
        (tag.bounding_box() for tag in live.page.locator(".tag:visible").all()), key=lambda box: box["y"]
    )
    assert len(boxes) == 13
    assert all(above["y"] + above["height"] <= below["y"] + 0.5 for above, below in itertools.pairwise(boxes))
    frame = live.page.locator(".frame").bounding_box()
    assert all(box["x"] + box["width"] <= frame["x"] + frame["width"] for box in boxes)


def test_the_cut_faces_fill_exactly_the_section(live: Sight, flat: Any) -> None:
    cut_along(live)
    only(live, "substrate")
    assert fills(live, colour_of(flat, "substrate"), 500.0 * 18.0, 2 * 518.0)


@pytest.mark.parametrize("factor", [10, 20])
def test_a_veneer_drawn_thicker_shows_so_much_more_area(live: Sight, flat: Any, factor: int) -> None:
    cut_along(live)
    live.set("thick", factor)
    only(live, "face veneer")
    assert fills(live, colour_of(flat, "face veneer"), 512.0 * 0.6 * factor, 2 * (512.0 + 0.6 * factor))


def test_the_cut_faces_over_a_form_fill_their_sections(arch: Sight, bent: Any) -> None:
    scene, _ = bent
    cut_along(arch)
    only(arch, "form")
    # a segment of the circle, and below its chord a block down to the bench
    half, foot = 220.0 * math.sin(1.1), 30.0
    wanted = 220.0**2 / 2 * (2.2 - math.sin(2.2)) + 2 * half * foot
    assert fills(arch, colour_of(scene, "form"), wanted, 2.2 * 220.0 + 2 * half + 2 * foot)
    only(arch, "ply 2")
    low = 220.0 + 0.05 + 0.6 + 0.15 + 3.0 + 0.15
    assert fills(
        arch, colour_of(scene, "ply 2"), 2.2 * ((low + 3.0) ** 2 - low**2) / 2, 2 * 2.2 * (low + 1.5) + 6.0
    )


def test_the_cut_slides_and_ends_where_the_layer_ends(live: Sight, flat: Any) -> None:
    cut_along(live)
    faces = {}
    for at in (0, 150, 165):
        live.set("cut-mm", at)
        faces[at] = [live.share(colour_of(flat, key)) for key in ("substrate", "platen")]
    assert live.page.locator("#cut").input_value() == "165"
    assert min(faces[0]) > 1000
    assert faces[0][0] == pytest.approx(faces[150][0], rel=0.02)
    assert faces[165][0] == 0
    assert faces[165][1] == pytest.approx(faces[0][1], rel=0.02)
    live.after(lambda: live.page.get_by_label("no cut").check())
    assert live.page.locator("#cut").is_disabled()


def test_thickening_grows_thin_sheets_and_says_so(live: Sight, flat: Any) -> None:
    cut_along(live)
    live.set("thick", 20)
    assert live.page.locator("#factor").inner_text() == "Sheets up to 1.5 mm: 20 × as thick"
    tall = {}
    for key in ("face veneer", "substrate"):
        picture = np.abs(live.picture() - colour_of(flat, key)).max(axis=2) <= 1
        tall[key] = picture.sum(axis=0).max() * live.pixel()
    assert tall["face veneer"] == pytest.approx(12.0, abs=2.5 * live.pixel())
    assert tall["substrate"] == pytest.approx(18.0, abs=2.5 * live.pixel())


def test_layers_are_hidden_and_shown(live: Sight, flat: Any) -> None:
    live.press("Above")
    live.after(lambda: live.page.get_by_label("bag film").uncheck())
    top = [part * (0.64 + 0.36 * (0.5 + 0.5 * 0.863)) for part in colour_of(flat, "breather")]

    def green() -> int:
        return int((np.abs(live.picture() - top).max(axis=2) <= 3).sum())

    assert green() * live.pixel() ** 2 == pytest.approx(560.0 * 380.0 - 44.0**2, rel=0.02)
    live.after(lambda: live.page.get_by_label("breather").uncheck())
    assert green() == 0
    live.press("Show every layer")
    assert live.page.locator(".layers input:not(:checked)").count() == 0


def test_keys_work_the_picture(live: Sight) -> None:
    canvas = live.page.locator("canvas")
    canvas.focus()
    first, scale = live.picture(), live.pixel()
    live.after(lambda: live.page.keyboard.press("ArrowLeft"))
    turned = live.picture()
    assert (np.abs(turned - first).max(axis=2) > 20).mean() > 0.02
    live.after(lambda: live.page.keyboard.press("Shift+ArrowDown"))
    assert np.abs(live.picture()[24:] - turned[:-24]).max(axis=2)[:400, 60:].mean() < 2
    live.after(lambda: live.page.keyboard.press("+"))
    assert live.pixel() < 0.9 * scale
    live.after(lambda: live.page.keyboard.press("0"))
    for key, name in (("2", "Front"), ("3", "End"), ("4", "Above"), ("1", "Corner")):
        live.after(lambda key=key: live.page.keyboard.press(key))
        pressed = live.page.locator("[data-view][aria-pressed=true]")
        assert pressed.inner_text() == name
        assert live.page.locator("#said").inner_text() == f"Seen from: {name}"
    assert np.abs(live.picture() - first).max() <= 2
    live.after(lambda: live.page.keyboard.press("p"))
    assert live.page.get_by_role("button", name="Perspective").get_attribute("aria-pressed") == "true"
    live.page.keyboard.press("Tab")
    assert live.page.evaluate("document.activeElement.dataset.view") == "corner"


def test_dragging_turns_and_the_wheel_zooms(live: Sight) -> None:
    box = live.page.locator("canvas").bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    first, scale = live.picture(), live.pixel()
    live.page.mouse.move(x, y)
    live.page.mouse.down()
    live.after(lambda: live.page.mouse.move(x + 80, y, steps=4))
    live.page.mouse.up()
    assert (np.abs(live.picture() - first).max(axis=2) > 20).mean() > 0.02
    assert live.page.locator("[data-view][aria-pressed=true]").count() == 0
    live.after(lambda: live.page.mouse.wheel(0, -200))
    assert live.pixel() < 0.8 * scale


def test_two_fingers_zoom(look: Any, flat: Any, words: Any) -> None:
    sight = look(preview_html(flat, words(flat)), TABLET, has_touch=True)
    sight.page.wait_for_selector("html[data-ready]", state="attached")
    box, scale = sight.page.locator("canvas").bounding_box(), sight.pixel()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    touch = sight.page.context.new_cdp_session(sight.page)

    def fingers(kind: str, *apart: float) -> None:
        points = [
            {"x": x + side * one, "y": y, "id": number}
            for one in apart
            for number, side in enumerate((-1, 1))
        ]
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    fingers("touchStart", 40)
    sight.after(lambda: fingers("touchMove", 80))
    fingers("touchEnd")
    sight.page.wait_for_timeout(50)
    assert sight.pixel() == pytest.approx(scale / 2, rel=0.02)


def test_pointing_at_a_layer_names_it(live: Sight) -> None:
    live.press("Above")

    def told(right: float) -> str:
        """What is said after a click so many mm to the right of the middle."""
        box = live.page.locator("canvas").bounding_box()
        place = {"x": box["width"] / 2 + right / live.pixel(), "y": box["height"] / 2}
        live.page.locator("canvas").click(position=place)
        said: str = live.page.locator("#said").inner_text()
        return said

    assert told(0.0) == "valve, brass, 44 × 44 mm"
    assert told(200.0) == "11 breather, netting, 560 × 380 mm"
    assert live.page.locator("#tip").inner_text() == "11 breather, netting, 560 × 380 mm"
    assert live.page.locator(".layers li.chosen input").get_attribute("data-key") == "breather"
    # nothing but film lies on the flange, and nothing past it
    assert told(400.0) == "bag film, polyurethane, 880 × 620 mm"
    told(445.0)
    assert live.page.locator(".layers li.chosen").count() == 0


def test_pointing_sees_the_faces_of_a_cut(live: Sight) -> None:
    live.after(lambda: live.page.get_by_label("across it").check())
    live.press("End")
    only(live, "platen", "substrate")
    # both stand in the middle of the picture, 34.75 mm high
    box = live.page.locator("canvas").bounding_box()
    for up, name in ((34.75 / 2 - 9.0, "5 substrate"), (8.0 - 34.75 / 2, "1 platen")):
        live.page.locator("canvas").click(
            position={"x": box["width"] / 2, "y": box["height"] / 2 - up / live.pixel()}
        )
        assert live.page.locator("#said").inner_text().startswith(name)


def test_a_hostile_title_stays_text(look: Any, flat: Any, words: Any) -> None:
    hostile = "</title></script><script>document.title='caught'</script><b onclick=alert(1)>Lid</b>"
    parts = tuple(replace(part, name=hostile, material=hostile) for part in flat.parts)
    scene = replace(flat, title=hostile, parts=parts)
    sight = look(preview_html(scene, words(scene)))
    sight.page.wait_for_selector("html[data-ready]", state="attached")
    sight.set("spread", 30)
    assert sight.page.title() == hostile
    assert sight.page.locator("h1").inner_text() == hostile
    assert sight.page.locator("b[onclick]").count() == 0
    assert hostile in sight.page.locator(".tag").first.inner_text()


def test_every_control_has_a_name_and_room_for_a_finger(live: Sight) -> None:
    nameless = live.page.evaluate(
        """() => [...document.querySelectorAll('button, input, canvas')].filter((one) =>
          !(one.labels?.length && one.labels[0].textContent.trim())
          && !one.getAttribute('aria-label') && !one.textContent.trim()).map((one) => one.outerHTML)"""
    )
    assert nameless == []
    small = live.page.evaluate(
        """() => [...document.querySelectorAll('button, input, summary, .layers label')].map((one) =>
          [one.outerHTML, (one.closest('label') ?? one).getBoundingClientRect()]).filter(([, box]) =>
          box.height && (box.height < 44 || box.width < 44)).map(([html]) => html)"""
    )
    assert small == []
    assert live.page.evaluate(
        "new Set([...document.querySelectorAll('[id]')].map((one) => one.id)).size"
    ) == (live.page.locator("[id]").count())


@pytest.mark.parametrize("size", [PHONE, (820, 1180), (1024, 768), TABLET, (1920, 1080)])
def test_no_width_makes_the_page_wider_than_the_screen(
    look: Any, flat: Any, words: Any, size: tuple[int, int]
) -> None:
    sight = look(preview_html(flat, words(flat)), size)
    sight.page.wait_for_selector("html[data-ready]", state="attached")
    assert sight.page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    edge = sight.page.locator("#sizes").bounding_box()["x"]
    # every rule of the style sheet counts: the last of them narrows the margins of a phone
    assert edge == pytest.approx(9.6 if size[0] < 576 else 24.0, abs=0.5)
    assert sight.page.evaluate(
        "(({ scrollWidth, clientWidth }) => scrollWidth <= clientWidth)(document.querySelector('.wide'))"
    )
    frame = sight.page.locator(".frame").bounding_box()
    # upright, the picture leaves at least half of the screen to the rest
    assert frame["height"] <= (0.5 if size[1] > size[0] else 0.7) * size[1]


def test_dark_rooms_get_a_dark_page(look: Any, flat: Any, words: Any) -> None:
    seen = {}
    for scheme in ("light", "dark"):
        sight = look(preview_html(flat, words(flat)), color_scheme=scheme)
        sight.page.wait_for_selector("html[data-ready]", state="attached")
        seen[scheme] = sight.picture()[2, 2].mean()
    assert seen["light"] > 220
    assert seen["dark"] < 50


def test_paper_gets_the_drawn_views_and_every_check(live: Sight) -> None:
    live.page.emulate_media(media="print")
    assert not live.page.locator("canvas").is_visible()
    assert [figure.is_visible() for figure in live.page.locator(".views svg").all()] == [True] * 3
    assert live.page.get_by_text("Reaches 29 mm past the caul.").is_visible()
    assert live.page.locator("button:visible").count() == 0
